package catchbay.plan;

import catchbay.metrology.TruckConstant;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import java.util.Optional;

/** Something that has happened in a sweep, in the order in which it did. */
public sealed interface SweepEvent {

    /**
     * Somebody has confirmed the checklist: at the beginning, when it is gone on with, or after an
     * interlock has acted.
     *
     * @param by whose name stands for all that follows
     * @param speedBy who has confirmed that speed may be sent; empty where none is
     */
    record Confirmed(String by, Optional<String> speedBy) implements SweepEvent {}

    /**
     * A catch has ended, well or not.
     *
     * @param leg of which leg, from 1
     * @param emptied whether the tank was emptied before it
     * @param run what came of it
     * @param setup with what it was run; empty where its trace cannot be read any more
     */
    record Caught(int leg, boolean emptied, Series.Run run, Optional<RunSetup> setup)
            implements SweepEvent {}

    /** The catch tank was emptied by hand. */
    record Emptied(String by) implements SweepEvent {}

    /** The truck was filled up. */
    record Refilled(String by) implements SweepEvent {}

    /**
     * A new constant was entered in the controller.
     *
     * @param constant the truck's constant with the new number
     */
    record ConstantEntered(String by, TruckConstant constant) implements SweepEvent {}

    /** The program has begun anew: what the tank holds is not known any more. */
    record Resumed() implements SweepEvent {}
}
