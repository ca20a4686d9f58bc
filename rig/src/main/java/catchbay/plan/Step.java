package catchbay.plan;

import catchbay.quantity.Volume;

import java.util.Optional;

/** One thing that happens in the course of a plan. */
public sealed interface Step {

    /** How long it takes, ns. */
    long nanos();

    /**
     * A catch.
     *
     * @param point at which it is made
     * @param repeat which one there, from 1
     * @param verifying whether the new constant is entered
     * @param inTank what the tank holds at its end
     * @param onTruck what the truck carries after it, where that is told
     */
    record Caught(
            PointForecast point,
            int repeat,
            boolean verifying,
            Volume inTank,
            Optional<Volume> onTruck)
            implements Step {
        @Override
        public long nanos() {
            return point.time().nanos();
        }
    }

    /**
     * The tank is emptied, and drips until it is as wet as it was.
     *
     * @param volume what is in it; empty = not known, as at the beginning
     * @param byHand whether a person does it, since no valve does
     */
    record Drained(Optional<Volume> volume, boolean byHand, long nanos) implements Step {}

    /** The truck is filled up. */
    record Refilled(Volume volume, long nanos) implements Step {}

    /** What the bay cannot set is set at the truck's controller, for a point. */
    record PointSet(PointForecast point, long nanos) implements Step {}

    /**
     * The truck's outlets are opened and shut.
     *
     * @param outlet the only one that is then open; empty = all of them
     */
    record OutletSet(Optional<String> outlet, long nanos) implements Step {}

    /** The new constant is entered. */
    record ConstantEntered(long nanos) implements Step {}
}
