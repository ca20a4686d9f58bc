package catchbay.sim;

import catchbay.port.PulseContract;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.util.function.Consumer;

/** The stand-in's pulse buffer keeps what every source of pulses owes. */
final class StandInPulsesTest extends PulseContract {

    @Override
    protected Driven open() {
        return new Line();
    }

    private static final class Line implements Driven, Source {
        private final PulseBuffer buffer = new PulseBuffer(PulseLine.TRUCK);
        private long number;

        @Override
        public Source source() {
            return this;
        }

        @Override
        public void edges(int count) {
            for (int i = 0; i < count; i++) {
                number++;
                buffer.put(number * 1_000_000, number);
            }
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            buffer.drain(into);
        }

        @Override
        public void close() {
            // A buffer holds nothing that must be let go.
        }
    }
}
