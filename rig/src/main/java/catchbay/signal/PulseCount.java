package catchbay.signal;

/** How many pulses fell into a window, and how well that is known. */
public sealed interface PulseCount {

    /**
     * A flying window read between its pulses.
     *
     * @param counted whole pulses inside the window; the plain count, good to one pulse
     * @param pulses the count by double timing: counted x gate / pulse time (ISO 7278-3 clause 4.2,
     *     API MPMS 4.6)
     * @param bracketed the count with each end placed between the two edges around it, a
     *     cross-check of the former
     * @param gateNanos from the window's opening to its closing, ns
     * @param pulseNanos from the first edge after the opening to the first edge after the closing,
     *     ns
     * @param scatter how unevenly pulses follow each other: {@link Tally#scatter()}
     */
    record DoubleTimed(
            long counted,
            double pulses,
            double bracketed,
            long gateNanos,
            long pulseNanos,
            double scatter)
            implements PulseCount {}

    /**
     * A window read to the whole pulse.
     *
     * @param counted whole pulses inside the window, good to one pulse
     * @param gateNanos from the window's opening to its closing, ns
     * @param flowNanos time between the first and the last pulse, ns: the flow ran at least so long
     * @param scatter how unevenly pulses follow each other: {@link Tally#scatter()}
     * @param slowPulses pulses that came at a flow below the certified range
     * @param slowNanos how long that lasted, ns
     * @param fastPulses pulses that came at a flow above the certified range
     * @param fastNanos how long that lasted, ns
     * @param why why the window was not read between pulses, as a sentence
     */
    record Whole(
            long counted,
            long gateNanos,
            long flowNanos,
            double scatter,
            long slowPulses,
            long slowNanos,
            long fastPulses,
            long fastNanos,
            String why)
            implements PulseCount {}

    /** The door's numbers skip: edges came and were lost. */
    record EdgesLost(long seen, long missing) implements PulseCount {}

    /**
     * The spacing leaps in an otherwise even train: a pulse was missed, or one was added, without a
     * number.
     */
    record Leaping(long seen, long leaps) implements PulseCount {}

    /** The edges cannot be evaluated, for the reason given as a sentence. */
    record Unusable(String reason) implements PulseCount {}
}
