package catchbay.signal;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/**
 * One line's edges around one window. Edges may come before the window's stamps are known (a
 * diverter's switch reports after the fact), so while the gate is waiting for a stamp the edges are
 * held back, and sorted to either side of it once it comes. Immutable: every method answers a new
 * gate.
 *
 * @param rule how edges are judged
 * @param before what came up to the window's opening, or all so far while there is none
 * @param inside what came in the window
 * @param after what came after the window's closing
 * @param openNanos the window's opening; {@link Tally#NONE} before it is known
 * @param closeNanos the window's closing; {@link Tally#NONE} before it is known
 * @param standing whether flow starts and stops inside the window
 * @param waiting whether edges are held back for a stamp
 * @param held the edges held back, newest first; null for none
 * @param spoiled why this gate can give no count, as a sentence; null while it can
 */
public record PulseGate(
        PulseRule rule,
        Tally before,
        Tally inside,
        Tally after,
        long openNanos,
        long closeNanos,
        boolean standing,
        boolean waiting,
        Held held,
        String spoiled) {

    /**
     * The most edges held back for a stamp: 20 s at 20 kHz. More than that means the stamp will not
     * come.
     */
    public static final int HELD_EDGES_MAX = 400_000;

    /**
     * Edges held back, as a chain of batches: one batch, those before it, and how many edges they
     * make together.
     */
    public record Held(Held earlier, EdgeBatch batch, int edges) {}

    /** A gate that has seen nothing. */
    public static PulseGate idle(PulseRule rule) {
        return new PulseGate(
                rule,
                Tally.EMPTY,
                Tally.EMPTY,
                Tally.EMPTY,
                Tally.NONE,
                Tally.NONE,
                false,
                false,
                null,
                null);
    }

    /** This gate and one more batch of its line; a spoiled gate takes nothing more in. */
    public PulseGate take(EdgeBatch batch) {
        if (spoiled != null) {
            return this;
        }
        if (!waiting) {
            return sort(batch);
        }
        int edges = batch.size() + (held == null ? 0 : held.edges);
        if (edges > HELD_EDGES_MAX) {
            return spoil(
                    "more than "
                            + HELD_EDGES_MAX
                            + " edges came while the window's stamp was awaited");
        }
        return new PulseGate(
                rule,
                before,
                inside,
                after,
                openNanos,
                closeNanos,
                standing,
                true,
                new Held(held, batch, edges),
                spoiled);
    }

    /**
     * From now on edges are held back, since the stamp of the next opening or closing is still to
     * come.
     */
    public PulseGate await() {
        return new PulseGate(
                rule, before, inside, after, openNanos, closeNanos, standing, true, held, spoiled);
    }

    /**
     * The window opened at this stamp.
     *
     * @param nanos the opening, monotonic clock
     * @param flowRests whether no liquid flows at that moment (a standing window): then the wait
     *     for the first pulse is no spacing
     */
    public PulseGate open(long nanos, boolean flowRests) {
        PulseGate opened =
                new PulseGate(
                        rule,
                        before,
                        begin(before, flowRests),
                        Tally.EMPTY,
                        nanos,
                        Tally.NONE,
                        flowRests,
                        false,
                        null,
                        spoiled);
        return late(before, nanos, "opening", opened).release(held);
    }

    /** The window closed at this stamp of the monotonic clock. */
    public PulseGate close(long nanos) {
        PulseGate closed =
                new PulseGate(
                        rule,
                        before,
                        inside,
                        inside.goOn(),
                        openNanos,
                        nanos,
                        standing,
                        false,
                        null,
                        spoiled);
        return late(inside, nanos, "closing", closed).release(held);
    }

    /** Whether the first edge after the closing has come, which double timing needs. */
    public boolean hasEdgeAfterClose() {
        return after.firstNanos() != Tally.NONE;
    }

    /** The stamp of the last good edge sorted so far; {@link Tally#NONE} when there was none. */
    public long lastNanos() {
        return Math.max(before.lastNanos(), Math.max(inside.lastNanos(), after.lastNanos()));
    }

    /** How many good edges have been sorted so far, on either side of the window. */
    public long pulsesSorted() {
        return before.pulses() + inside.pulses() + after.pulses();
    }

    /**
     * The count of a window into which and out of which liquid was flowing. Double timing where
     * both its edges are there and the spacing is even; the plain count, with the reason, where it
     * is uneven; else refused.
     */
    public PulseCount flyingCount() {
        PulseCount refused = refusal();
        if (refused != null) {
            return refused;
        }
        if (inside.pulses() == 0) {
            return new PulseCount.Unusable(
                    "no edge fell into the window; lengthen the catch or raise the flow");
        }
        if (before.lastNanos() == Tally.NONE) {
            return new PulseCount.Unusable(
                    "no edge came before the window opened, so its flow was not running yet; "
                            + "let the line flow before the catch");
        }
        if (!hasEdgeAfterClose()) {
            return new PulseCount.Unusable(
                    "no edge came after the window closed, so its end cannot be timed; "
                            + "keep the flow running past the catch");
        }
        double scatter = inside.scatter();
        boolean even = scatter <= rule.evenRatioMax() && !inside.leapsThroughout();
        // The spacing across the closing times the last pulse, so it must not leap either.
        long leaps = inside.leaps() + (even && inside.leapsTo(after.firstNanos(), rule) ? 1 : 0);
        // A train has the same nature before its window. Bounce and noise also put spacings into a
        // train that no certified flow has. Its nature
        // may not excuse them: they would be counted as liquid.
        boolean excused =
                !even && inside.unevenThroughout() && !before.evenSoFar() && inside.fastGaps() == 0;
        if (leaps > 0 && !excused) {
            return new PulseCount.Leaping(inside.pulses(), leaps);
        }
        if (inside.leapsThroughout()) {
            return whole("more than a quarter of the pulse spacings leap");
        }
        if (scatter > rule.evenRatioMax()) {
            return whole(
                    "pulse spacing scatters by "
                            + percent(scatter)
                            + ", more than the "
                            + percent(rule.evenRatioMax())
                            + " up to which a window is read between pulses");
        }
        long counted = inside.pulses();
        long gateNanos = closeNanos - openNanos;
        long pulseNanos = after.firstNanos() - inside.firstNanos();
        double openPhase = phase(before.lastNanos(), openNanos, inside.firstNanos());
        double closePhase = phase(inside.lastNanos(), closeNanos, after.firstNanos());
        return new PulseCount.DoubleTimed(
                counted,
                counted * ((double) gateNanos / pulseNanos),
                counted + closePhase - openPhase,
                gateNanos,
                pulseNanos,
                scatter);
    }

    /**
     * The count of a window inside which flow started and stopped: whole pulses, and only when the
     * line was silent for the time given before the opening and before the closing.
     */
    public PulseCount standingCount(long silenceNanos) {
        PulseCount refused = refusal();
        if (refused != null) {
            return refused;
        }
        if (inside.pulses() == 0) {
            return new PulseCount.Unusable(
                    "no edge fell into the window; check that liquid flowed and the meter turns");
        }
        if (before.lastNanos() != Tally.NONE && openNanos - before.lastNanos() < silenceNanos) {
            return new PulseCount.Unusable(
                    "flow had not come to rest before the window opened (last edge "
                            + millis(openNanos - before.lastNanos())
                            + " ms before it); wait longer before the catch");
        }
        if (hasEdgeAfterClose()) {
            return new PulseCount.Unusable(
                    "flow had not come to rest when the window closed (an edge came "
                            + millis(after.firstNanos() - closeNanos)
                            + " ms after it); wait longer after the catch and look for a leak");
        }
        if (closeNanos - inside.lastNanos() < silenceNanos) {
            return new PulseCount.Unusable(
                    "flow had not come to rest when the window closed (last edge "
                            + millis(closeNanos - inside.lastNanos())
                            + " ms before it); wait longer after the catch");
        }
        return whole("flow started and stopped inside the window");
    }

    /**
     * The count of none: of a window in which no pulse came and none was lost. Empty of any other.
     * Whether none came because the meter stood still only somebody else's figure can tell.
     */
    public Optional<PulseCount.Whole> none() {
        return refusal() == null && inside.pulses() == 0
                ? Optional.of(whole("no edge fell into the window"))
                : Optional.empty();
    }

    private PulseCount refusal() {
        if (spoiled != null) {
            return new PulseCount.Unusable(spoiled);
        }
        if (openNanos == Tally.NONE || closeNanos == Tally.NONE) {
            return new PulseCount.Unusable("the window was never both opened and closed");
        }
        if (closeNanos <= openNanos) {
            return new PulseCount.Unusable(
                    "the window closed at "
                            + closeNanos
                            + " ns, not after it opened at "
                            + openNanos
                            + " ns");
        }
        if (inside.repeated() > 0 || after.repeated() > 0) {
            return new PulseCount.Unusable(
                    "edge numbers were repeated; the trace or its door is at fault");
        }
        if (inside.disordered() > 0 || after.disordered() > 0) {
            return new PulseCount.Unusable(
                    "edges came out of order; the trace or its door is at fault");
        }
        long missing = inside.missing() + after.missing();
        return missing > 0 ? new PulseCount.EdgesLost(inside.pulses(), missing) : null;
    }

    private PulseCount.Whole whole(String why) {
        long flowNanos = inside.pulses() == 0 ? 0 : inside.lastNanos() - inside.firstNanos();
        return new PulseCount.Whole(
                inside.pulses(),
                closeNanos - openNanos,
                flowNanos,
                inside.scatter(),
                inside.slowGaps(),
                inside.slowSum(),
                inside.fastGaps(),
                inside.fastSum(),
                why);
    }

    /** Puts each edge on its side of the stamps known so far. */
    private PulseGate sort(EdgeBatch batch) {
        if (openNanos == Tally.NONE) {
            return with(before.fold(batch, rule), inside, after);
        }
        if (!inside.touched() && batch.firstNanos() <= openNanos) {
            int early = batch.countUpTo(openNanos);
            Tally first = before.fold(batch.head(early), rule);
            Tally begun = begin(first, standing);
            PulseGate sorted = with(first, begun, closeNanos == Tally.NONE ? after : begun.goOn());
            return early == batch.size() ? sorted : sorted.sort(batch.tail(early));
        }
        if (closeNanos == Tally.NONE) {
            return with(before, inside.fold(batch, rule), after);
        }
        if (!after.touched() && batch.firstNanos() <= closeNanos) {
            int within = batch.countUpTo(closeNanos);
            Tally in = inside.fold(batch.head(within), rule);
            PulseGate sorted = with(before, in, in.goOn());
            return within == batch.size() ? sorted : sorted.sort(batch.tail(within));
        }
        return with(before, inside, after.fold(batch, rule));
    }

    /** In a loop, not by recursion: the chain may be as long as {@link #HELD_EDGES_MAX}. */
    private PulseGate release(Held chain) {
        Deque<EdgeBatch> oldestFirst = new ArrayDeque<>();
        for (Held link = chain; link != null; link = link.earlier) {
            oldestFirst.push(link.batch);
        }
        PulseGate sorted = this;
        for (EdgeBatch batch : oldestFirst) {
            sorted = sorted.sort(batch);
        }
        return sorted;
    }

    private PulseGate with(Tally before, Tally inside, Tally after) {
        return new PulseGate(
                rule,
                before,
                inside,
                after,
                openNanos,
                closeNanos,
                standing,
                waiting,
                held,
                spoiled);
    }

    private PulseGate spoil(String why) {
        return new PulseGate(
                rule,
                before,
                inside,
                after,
                openNanos,
                closeNanos,
                standing,
                waiting,
                held,
                spoiled == null ? why : spoiled);
    }

    /** Edges counted before a stamp was known cannot be moved to its other side any more. */
    private static PulseGate late(Tally counted, long nanos, String end, PulseGate gate) {
        if (counted.lastNanos() <= nanos) {
            return gate;
        }
        return gate.spoil(
                "edges stamped after the window's "
                        + end
                        + " had been counted before its stamp came; "
                        + "the trace or its door is at fault");
    }

    private static Tally begin(Tally before, boolean flowRests) {
        return flowRests ? before.goOnAfterSilence() : before.goOn();
    }

    private static double phase(long last, long nanos, long next) {
        return (double) (nanos - last) / (next - last);
    }

    private static String percent(double ratio) {
        return Math.round(ratio * 1000) / 10.0 + " %";
    }

    private static long millis(long nanos) {
        return nanos / 1_000_000;
    }
}
