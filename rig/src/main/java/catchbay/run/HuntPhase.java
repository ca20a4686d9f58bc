package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.Tally;

import java.util.Optional;

/** What a hunt is doing. Stamps are nanoseconds of the monotonic clock. */
public sealed interface HuntPhase {

    /** This phase, and what an input adds to the step under way. */
    default HuntPhase heard(RunInput input) {
        return this;
    }

    /** Nothing yet. */
    record Begun() implements HuntPhase {}

    /** A person sets the flow of the next step. */
    record Setting(FlowRate asked, boolean rising) implements HuntPhase {}

    /**
     * The flow comes to rest at what was set.
     *
     * @param sinceNanos when it was set
     * @param lines the pulse lines since then
     */
    record Settling(FlowRate asked, boolean rising, long sinceNanos, Lines lines)
            implements HuntPhase {
        @Override
        public HuntPhase heard(RunInput input) {
            return input instanceof RunInput.Edges(PulseLine line, EdgeBatch batch)
                    ? new Settling(asked, rising, sinceNanos, lines.take(line, batch))
                    : this;
        }
    }

    /** The diverter goes to the tank, and the chute fills, before the scale is read. */
    record Turning(FlowRate asked, boolean rising, long sinceNanos, boolean settled, Lines lines)
            implements HuntPhase {
        @Override
        public HuntPhase heard(RunInput input) {
            return input instanceof RunInput.Edges(PulseLine line, EdgeBatch batch)
                    ? new Turning(asked, rising, sinceNanos, settled, lines.take(line, batch))
                    : this;
        }
    }

    /**
     * The flow is measured.
     *
     * @param settled whether it had come to rest
     * @param untilNanos when the window is to close
     * @param lines the pulse lines, their window open or closed
     * @param train the truck's pulses in the window
     * @param weighed what the scale showed in it
     */
    record Reading(
            FlowRate asked,
            boolean rising,
            boolean settled,
            long untilNanos,
            Lines lines,
            TruckTrain train,
            Weighed weighed)
            implements HuntPhase {

        boolean isOpen() {
            return train.closeNanos() == Tally.NONE;
        }

        @Override
        public HuntPhase heard(RunInput input) {
            if (input instanceof RunInput.Edges(PulseLine line, EdgeBatch batch)) {
                return with(
                        lines.take(line, batch),
                        line == PulseLine.TRUCK ? train.take(batch) : train,
                        weighed);
            }
            boolean weighs =
                    input instanceof RunInput.Scale
                            && isOpen()
                            && input.atNanos() >= train.openNanos();
            return weighs && ((RunInput.Scale) input).frame() instanceof ScaleFrame.Weight weight
                    ? with(lines, train, weighed.take(input.atNanos(), weight.mass()))
                    : this;
        }

        Reading closed(long nanos) {
            return with(
                    lines.with(lines.steadiness().watchUntil(nanos)).close(nanos),
                    train.closed(nanos),
                    weighed);
        }

        private Reading with(Lines more, TruckTrain longer, Weighed shown) {
            return new Reading(asked, rising, settled, untilNanos, more, longer, shown);
        }
    }

    /** The tank is drained until then, before the next step. */
    record Draining(long untilNanos) implements HuntPhase {}

    /** A person stops the flow; what was found stands. */
    record Stopping(HuntResult result, long sinceNanos) implements HuntPhase {}

    /** It is over. */
    record Ended(HuntEnd end) implements HuntPhase {}

    /**
     * The weights at both ends of a window, as the scale sent them.
     *
     * @param first empty before any
     * @param last likewise
     */
    record Weighed(Optional<Mass> first, long firstNanos, Optional<Mass> last, long lastNanos) {
        /** None yet. */
        static final Weighed NONE = new Weighed(Optional.empty(), 0, Optional.empty(), 0);

        Weighed take(long at, Mass mass) {
            return first.isEmpty()
                    ? new Weighed(Optional.of(mass), at, Optional.of(mass), at)
                    : new Weighed(first, firstNanos, Optional.of(mass), at);
        }
    }
}
