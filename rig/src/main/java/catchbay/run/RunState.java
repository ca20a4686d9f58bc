package catchbay.run;

import catchbay.quantity.Volume;

import java.util.Optional;

/** Where a run stands. Stamps are nanoseconds of the monotonic clock. */
public sealed interface RunState {

    /** How traces and screens call this state. */
    String key();

    /** What the run knows of the bay. */
    Sensed sensed();

    /** Before the first turn. */
    record Idle(Sensed sensed) implements RunState {
        @Override
        public String key() {
            return "idle";
        }
    }

    /** The checklist is being walked through. */
    record Confirming(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "confirming";
        }
    }

    /** The tank is emptied before the catch; what drips after that runs out, too. */
    record Emptying(Sensed sensed, long untilNanos) implements RunState {
        @Override
        public String key() {
            return "emptying";
        }
    }

    /** The operator was asked to start the flow. */
    record Starting(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "starting";
        }
    }

    /** Liquid runs to expel air and old liquid. */
    record Purging(Sensed sensed, long untilNanos) implements RunState {
        @Override
        public String key() {
            return "purging";
        }
    }

    /** Flying: waiting for steady flow and a scale at rest. */
    record Settling(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "settling";
        }
    }

    /** Standing: waiting until nothing flows. */
    record Resting(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "resting";
        }
    }

    /**
     * The diverter was sent to the tank.
     *
     * @param leftNanos when it left the bypass end; {@link Ledger#NONE} before
     */
    record Opening(Sensed sensed, long commandedNanos, long leftNanos) implements RunState {
        @Override
        public String key() {
            return "opening";
        }
    }

    /**
     * The window is open.
     *
     * @param openNanos the window's opening
     * @param untilNanos when to end the flow or divert it back; {@link Long#MAX_VALUE} before the
     *     flow has started
     */
    record Catching(Sensed sensed, long openNanos, long untilNanos) implements RunState {
        @Override
        public String key() {
            return "catching";
        }
    }

    /**
     * The diverter was sent back to the bypass.
     *
     * @param leftNanos when it left the tank end; {@link Ledger#NONE} before
     */
    record Closing(Sensed sensed, long commandedNanos, long leftNanos) implements RunState {
        @Override
        public String key() {
            return "closing";
        }
    }

    /** Flying: the window is closed; its first edges and totals after it are awaited. */
    record Trailing(Sensed sensed, long closeNanos) implements RunState {
        @Override
        public String key() {
            return "trailing";
        }
    }

    /** Standing: the flow was stopped; waiting until nothing flows. */
    record Stilling(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "stilling";
        }
    }

    /** The tank drips. */
    record Dripping(Sensed sensed, long untilNanos) implements RunState {
        @Override
        public String key() {
            return "dripping";
        }
    }

    /** The scale is read. */
    record Weighing(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "weighing";
        }
    }

    /**
     * The operator reads the truck's display.
     *
     * @param question what was asked
     * @param first the total typed first, where it is asked again
     */
    record Reading(Sensed sensed, long sinceNanos, Question question, Optional<Volume> first)
            implements RunState {
        @Override
        public String key() {
            return "reading";
        }
    }

    /** Everything is known; the trace is being secured. */
    record Comparing(Sensed sensed, long sinceNanos) implements RunState {
        @Override
        public String key() {
            return "comparing";
        }
    }

    /** The outcome stands; the tank drains. */
    record Draining(Sensed sensed, long untilNanos, Outcome outcome) implements RunState {
        @Override
        public String key() {
            return "draining";
        }
    }

    /** The end. */
    record Ended(Sensed sensed, Outcome outcome) implements RunState {
        @Override
        public String key() {
            return "ended";
        }
    }
}
