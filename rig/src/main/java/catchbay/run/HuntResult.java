package catchbay.run;

import catchbay.quantity.FlowRate;

import java.util.Optional;

/** What a hunt came to. */
public sealed interface HuntResult {

    /**
     * Where the truck's meter begins to count, flow rising: the threshold lies above {@link
     * #least()} and not above {@link #most()}.
     *
     * @param silent the largest flow below it at which the meter did not count all through; empty
     *     where it counted at the smallest one that was tried
     * @param counting the smallest flow from which on it always counted
     * @param dropOut where it ceases to, flow falling; empty where that was not looked for
     */
    record LowEnd(Optional<MeasuredFlow> silent, MeasuredFlow counting, Optional<DropOut> dropOut)
            implements HuntResult {

        /** The least flow at which the threshold may lie. */
        public FlowRate least() {
            return silent.map(MeasuredFlow::least).orElse(new FlowRate(0));
        }

        /** The greatest flow at which it may lie. */
        public FlowRate most() {
            return counting.most();
        }
    }

    /**
     * Where a meter ceases to count, flow falling.
     *
     * @param counting the smallest flow at which it still did
     * @param silent the largest below that at which it no longer did; empty where it never ceased
     */
    record DropOut(MeasuredFlow counting, Optional<MeasuredFlow> silent) {}

    /**
     * How far the truck follows, flow rising.
     *
     * @param followed the highest flow that followed what was asked
     * @param asked what was asked for there
     * @param beyond what came of the next step, which did not; empty where all that were tried did
     */
    record HighEnd(MeasuredFlow followed, FlowRate asked, Optional<Beyond> beyond)
            implements HuntResult {}

    /**
     * A step that was not followed.
     *
     * @param asked what was asked for
     * @param given what flowed instead; empty where it could not be measured
     */
    record Beyond(FlowRate asked, Optional<MeasuredFlow> given) {}

    /** The end is not where it was looked for, for the reason given as a sentence. */
    record NotFound(String reason) implements HuntResult {}
}
