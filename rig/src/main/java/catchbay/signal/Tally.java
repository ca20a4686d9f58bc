package catchbay.signal;

/**
 * What has been learned from the edges of one line so far: a constant-size summary, folded edge by
 * edge, so that where a batch was split never shows in it.
 *
 * @param pulses good edges: not bounces
 * @param bounces edges left out by the debounce rule
 * @param missing numbers skipped by the door: edges that came and were lost
 * @param repeated batches whose first number had been seen already
 * @param disordered edges stamped before the one they follow
 * @param firstNanos stamp of the first good edge; {@link #NONE} before it
 * @param lastNanos stamp of the last good edge, also one from before this tally was begun; {@link
 *     #NONE} before any
 * @param lastSequence number of the last edge; {@link #NONE} before any
 * @param gaps spacings seen between good edges
 * @param leaps those of them that leapt against the one before
 * @param evenSum the sum of the others, ns
 * @param changeSquares the sum of the squares of the changes from the spacing before to each of the
 *     others, ns2, added in order
 * @param stretchSum the sum of all spacings since the last whole stretch of {@value #STRETCH}, ns
 * @param stretchSquares the sum of the squares of all changes from one of them to the next, leaps
 *     too, ns2
 * @param unevenStretches how many whole stretches scattered, each by itself, by more than the rule
 *     lets an even train
 * @param gapLast the last spacing, ns; 0 before any
 * @param slowGaps spacings of flow below the certified range
 * @param slowSum their sum, ns
 * @param fastGaps spacings of flow above the certified range
 * @param fastSum their sum, ns
 */
public record Tally(
        long pulses,
        long bounces,
        long missing,
        long repeated,
        long disordered,
        long firstNanos,
        long lastNanos,
        long lastSequence,
        long gaps,
        long leaps,
        long evenSum,
        double changeSquares,
        long stretchSum,
        double stretchSquares,
        long unevenStretches,
        long gapLast,
        long slowGaps,
        long slowSum,
        long fastGaps,
        long fastSum) {

    /** So many spacings make a stretch whose scatter is judged by itself. */
    static final int STRETCH = 32;

    /** No edge yet. Stamps and numbers are >= 0. */
    public static final long NONE = -1;

    /** The last number of a line known to have given no edge. */
    private static final long UNHEARD = -2;

    /** The number of a door's first edge, at most. */
    private static final long SEQUENCE_FIRST_MAX = 1;

    /** Nothing seen. */
    public static final Tally EMPTY = begun(NONE, NONE, 0);

    /** Nothing counted yet, on a line of which this much is known. */
    private static Tally begun(long lastNanos, long lastSequence, long gapLast) {
        return new Tally(
                0,
                0,
                0,
                0,
                0,
                NONE,
                lastNanos,
                lastSequence,
                0,
                0,
                0,
                0,
                0,
                0,
                0,
                gapLast,
                0,
                0,
                0,
                0);
    }

    /**
     * A fresh tally that goes on from this one: it knows the last edge, so its first spacing
     * counts.
     */
    Tally goOn() {
        return begun(lastNanos, lastSequence, gapLast);
    }

    /**
     * A fresh tally after a silence: it knows the last number but not the last stamp, so the
     * silence is no spacing. On a line that was never heard a door numbers from one (as the kernel
     * does for every request), so that edges lost before the first that is heard show as well.
     */
    Tally goOnAfterSilence() {
        long last = lastSequence == NONE ? UNHEARD : lastSequence;
        return begun(NONE, last, 0);
    }

    /**
     * How unevenly pulses follow each other, as a ratio of their mean spacing: the root mean square
     * of the changes from one spacing to the next, over sqrt(2), which for spacings that scatter
     * independently is their standard deviation (mean square successive difference: von Neumann et
     * al., Ann. Math. Statist. 12 (1941) 153, from memory). A flow that changes within the window
     * does not make a train uneven, so it cannot hide a pulse that was missed or added; spacings
     * that leapt are left out for the same reason. 0 with fewer than two.
     */
    public double scatter() {
        long even = gaps - leaps;
        return even < 2 || evenSum == 0 ? 0 : scatter(even, evenSum, changeSquares);
    }

    private static double scatter(long count, long sum, double squares) {
        double mean = (double) sum / count;
        return Math.sqrt(squares / (2.0 * count)) / mean;
    }

    /** Whether any edge has come to this tally itself, a good one or not. */
    boolean touched() {
        return pulses + bounces + disordered > 0;
    }

    /**
     * Whether the spacing from the last good edge here to this stamp leaps against the last one.
     */
    boolean leapsTo(long nextNanos, PulseRule rule) {
        return gapLast > 0 && leaps(gapLast, nextNanos - lastNanos, rule.leapRatio());
    }

    private static boolean leaps(long previous, long gap, double leapRatio) {
        return gap > previous * leapRatio || gap * leapRatio < previous;
    }

    /**
     * Whether leaps are so many (more than a quarter of the spacings, and more than the two that
     * one pulse missed makes) that they are the train's nature.
     */
    public boolean leapsThroughout() {
        return leaps > 2 && leaps * 4 > gaps;
    }

    /**
     * Whether the train is uneven by its nature, so that its spacings may leap by chance: leaps, or
     * scatter of more than an even train's, throughout. Where less than half of its stretches
     * scatter so, each by itself, a part of it is disturbed.
     */
    boolean unevenThroughout() {
        return leapsThroughout() || unevenStretches * 2 > gaps / STRETCH;
    }

    /** Whether the train is long enough to tell, and is not uneven by its nature. */
    boolean evenSoFar() {
        return gaps >= 2 * STRETCH && !unevenThroughout();
    }

    /** How many numbers were skipped before this batch; below zero when it repeats some. */
    private long skippedBefore(EdgeBatch batch) {
        if (lastSequence == NONE) {
            return 0;
        }
        return lastSequence == UNHEARD
                ? Math.max(0, batch.firstSequence() - SEQUENCE_FIRST_MAX)
                : batch.firstSequence() - lastSequence - 1;
    }

    /** This tally and the edges of one more batch of the same line. */
    public Tally fold(EdgeBatch batch, PulseRule rule) {
        long skipped = skippedBefore(batch);
        int acrossGap = skipped > 0 ? batch.from() : -1;
        long missingNow = missing + Math.max(0, skipped);
        long repeatedNow = repeated + (skipped < 0 ? 1 : 0);
        long pulsesNow = pulses;
        long bouncesNow = bounces;
        long disorderedNow = disordered;
        long first = firstNanos;
        long last = lastNanos;
        long gapsNow = gaps;
        long leapsNow = leaps;
        long sum = evenSum;
        double squares = changeSquares;
        long ofStretch = stretchSum;
        double stretchNow = stretchSquares;
        long unevenNow = unevenStretches;
        long previous = gapLast;
        long slow = slowGaps;
        long slowNanos = slowSum;
        long fast = fastGaps;
        long fastNanos = fastSum;
        long debounce = rule.debounceNanos();
        long slowLimit = rule.slowNanos();
        long fastLimit = rule.fastNanos();
        double leap = rule.leapRatio();
        long[] stamps = batch.sharedStamps();
        for (int i = batch.from(), to = batch.to(); i < to; i++) {
            long stamp = stamps[i];
            if (last == NONE) {
                first = first == NONE ? stamp : first;
                last = stamp;
                pulsesNow++;
                continue;
            }
            long gap = stamp - last;
            if (gap < debounce || gap < 0) {
                disorderedNow += gap < 0 ? 1 : 0;
                bouncesNow += gap < 0 ? 0 : 1;
                continue;
            }
            double change = previous > 0 ? gap - previous : 0;
            if (previous > 0 && leaps(previous, gap, leap)) {
                leapsNow++;
            } else {
                sum += gap;
                squares += change * change;
            }
            ofStretch += gap;
            stretchNow += change * change;
            if (gap > slowLimit) {
                slow++;
                slowNanos += gap;
            } else if (gap < fastLimit) {
                fast++;
                fastNanos += gap;
            }
            gapsNow++;
            if (gapsNow % STRETCH == 0) {
                boolean uneven = scatter(STRETCH, ofStretch, stretchNow) > rule.evenRatioMax();
                unevenNow += uneven ? 1 : 0;
                ofStretch = 0;
                stretchNow = 0;
            }
            // What spans a numbered gap says nothing of the spacing after it.
            previous = i == acrossGap ? 0 : gap;
            last = stamp;
            first = first == NONE ? stamp : first;
            pulsesNow++;
        }
        return new Tally(
                pulsesNow,
                bouncesNow,
                missingNow,
                repeatedNow,
                disorderedNow,
                first,
                last,
                batch.lastSequence(),
                gapsNow,
                leapsNow,
                sum,
                squares,
                ofStretch,
                stretchNow,
                unevenNow,
                previous,
                slow,
                slowNanos,
                fast,
                fastNanos);
    }
}
