package catchbay.signal;

import java.util.List;

/**
 * Whether a pulse train runs steadily: its rate is taken over successive slots, from edge to edge,
 * and the spread of the last few slots is compared with a limit. Constant-size; where a batch was
 * split never shows.
 *
 * @param slotNanos the least length of a slot; it ends at the first edge after that
 * @param slotCount how many of the last slots are compared, at least 2
 * @param anchorNanos the edge at which the slot under way began; {@link Tally#NONE} before any edge
 * @param anchored pulses since the anchor
 * @param rates pulses/s of the last full slots, oldest first, at most {@code slotCount}
 * @param watchFromNanos slots that begin before this stamp do not count for the watched spread
 * @param watchUntilNanos slots that end after this stamp do not count for the watched spread
 * @param lowest the least slot rate watched, pulses/s; 0 when none was
 * @param highest the greatest slot rate watched, pulses/s; 0 when none was
 */
public record FlowSteadiness(
        long slotNanos,
        int slotCount,
        long anchorNanos,
        long anchored,
        List<Double> rates,
        long watchFromNanos,
        long watchUntilNanos,
        double lowest,
        double highest) {

    /** Nothing seen. */
    public static FlowSteadiness starting(long slotNanos, int slotCount) {
        if (slotNanos <= 0 || slotCount < 2) {
            throw new IllegalArgumentException(
                    "steadiness needs slots above 0 ns and at least 2 of them, was "
                            + slotNanos
                            + " ns x "
                            + slotCount);
        }
        return new FlowSteadiness(
                slotNanos,
                slotCount,
                Tally.NONE,
                0,
                List.of(),
                Long.MAX_VALUE,
                Long.MAX_VALUE,
                0,
                0);
    }

    /** The same measure with nothing seen. */
    public FlowSteadiness restarted() {
        return starting(slotNanos, slotCount);
    }

    /** The same measure, watching from this stamp on how far the slot rates spread. */
    public FlowSteadiness watchFrom(long nanos) {
        return new FlowSteadiness(
                slotNanos, slotCount, anchorNanos, anchored, rates, nanos, Long.MAX_VALUE, 0, 0);
    }

    /** The same measure, watching no further than this stamp. */
    public FlowSteadiness watchUntil(long nanos) {
        return new FlowSteadiness(
                slotNanos,
                slotCount,
                anchorNanos,
                anchored,
                rates,
                watchFromNanos,
                nanos,
                lowest,
                highest);
    }

    /**
     * Greatest less least slot rate watched, over their middle, as a ratio; 0 when none was
     * watched.
     */
    public double watchedSpread() {
        return highest == 0 ? 0 : (highest - lowest) / ((highest + lowest) / 2);
    }

    /** This and the edges of one more batch. */
    public FlowSteadiness take(EdgeBatch batch) {
        long anchor = anchorNanos;
        long pulses = anchored;
        List<Double> seen = rates;
        double low = lowest;
        double high = highest;
        for (int i = 0; i < batch.size(); i++) {
            long stamp = batch.stampNanos(i);
            if (anchor == Tally.NONE || stamp < anchor) {
                anchor = stamp;
                pulses = 0;
                continue;
            }
            pulses++;
            if (stamp - anchor >= slotNanos) {
                double rate = pulses * 1e9 / (stamp - anchor);
                seen = append(seen, rate);
                if (anchor >= watchFromNanos && stamp <= watchUntilNanos) {
                    low = low == 0 ? rate : Math.min(low, rate);
                    high = Math.max(high, rate);
                }
                anchor = stamp;
                pulses = 0;
            }
        }
        return new FlowSteadiness(
                slotNanos,
                slotCount,
                anchor,
                pulses,
                seen,
                watchFromNanos,
                watchUntilNanos,
                low,
                high);
    }

    /** Whether enough slots are full to judge. */
    public boolean judgeable() {
        return rates.size() == slotCount;
    }

    /** Largest less smallest slot rate over their mean, as a ratio; 0 when no slot is full. */
    public double spread() {
        if (rates.isEmpty()) {
            return 0;
        }
        double low = Double.MAX_VALUE;
        double high = 0;
        double sum = 0;
        for (double rate : rates) {
            low = Math.min(low, rate);
            high = Math.max(high, rate);
            sum += rate;
        }
        return (high - low) / (sum / rates.size());
    }

    /** Mean of the full slots, pulses/s; 0 when none is full. */
    public double pulsesPerSecond() {
        double sum = 0;
        for (double rate : rates) {
            sum += rate;
        }
        return rates.isEmpty() ? 0 : sum / rates.size();
    }

    private List<Double> append(List<Double> seen, double rate) {
        Double[] next = new Double[Math.min(seen.size() + 1, slotCount)];
        int skip = seen.size() + 1 - next.length;
        for (int i = skip; i < seen.size(); i++) {
            next[i - skip] = seen.get(i);
        }
        next[next.length - 1] = rate;
        return List.of(next);
    }
}
