package catchbay.hardware.gpiochip;

import catchbay.port.PortException;
import catchbay.port.PulseContract;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.io.IOException;
import java.util.List;
import java.util.function.Consumer;

/** A kernel's line keeps what every source of pulses owes. Run in the kernel guest only. */
final class GuestPulseContractProof extends PulseContract {

    private static final int LINE = 6;
    private static final int COMPANION = 7;
    private static final int PERIOD_MICROS = 200;

    @Override
    protected Driven open() throws Exception {
        return new Line();
    }

    /** The tap without its thread, so that edges can come while nobody reads. */
    private static final class Line implements Driven, Source {
        private final SimulatedChip simulated = new SimulatedChip("contract", "contract-sim", 8);
        private final LineRequest request =
                Chip.find("contract-sim").edges("contract", LINE, COMPANION, Bias.AS_IS);
        private final PulseTap tap = new PulseTap(PulseLine.TRUCK, request, 20_000);

        Line() throws IOException, PortException {}

        @Override
        public Source source() {
            return this;
        }

        @Override
        public void edges(int count) throws Exception {
            simulated.pulse(LINE, count, PERIOD_MICROS);
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            int moved;
            do {
                moved = tap.move(50);
            } while (moved > 0);
            new PulseTaps(List.of(tap)).drain(into);
        }

        @Override
        public void close() {
            request.close();
            try {
                simulated.close();
            } catch (IOException stuck) {
                throw new IllegalStateException(stuck);
            }
        }
    }
}
