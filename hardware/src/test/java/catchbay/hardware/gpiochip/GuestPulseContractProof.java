package catchbay.hardware.gpiochip;

import catchbay.port.PulseContract;

/** A kernel's line keeps what every source of pulses owes. Run in the kernel guest only. */
final class GuestPulseContractProof extends PulseContract {

    private static final int LINE = 6;
    private static final int COMPANION = 7;
    private static final int PERIOD_MICROS = 200;

    @Override
    protected Driven open() throws Exception {
        SimulatedChip simulated = new SimulatedChip("contract", "contract-sim", 8);
        LineRequest request =
                Chip.find("contract-sim").edges("contract", LINE, COMPANION, Bias.AS_IS);
        return new TappedLine(
                request,
                new TappedLine.Driver() {
                    @Override
                    public void pulse(int count) throws Exception {
                        simulated.pulse(LINE, count, PERIOD_MICROS);
                    }

                    @Override
                    public void close() throws Exception {
                        simulated.close();
                    }
                });
    }
}
