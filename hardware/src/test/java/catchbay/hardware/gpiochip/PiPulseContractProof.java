package catchbay.hardware.gpiochip;

import catchbay.port.PulseContract;

import org.junit.jupiter.api.Tag;

import java.util.concurrent.locks.LockSupport;

/**
 * A real Pi's line keeps what every source of pulses owes. Run by hand, and by nothing else: with
 * nothing of the bay connected, and one output line of the chip joined to the line that is read
 * through 1 kilohm.
 *
 * <pre>
 * mvn -pl rig,hardware -am test -Dtest=PiPulseContractProof -Dsurefire.failIfNoSpecifiedTests=false \
 *     -DargLine="--enable-native-access=ALL-UNNAMED -Dpi.chip=LABEL -Dpi.output=N -Dpi.line=N -Dpi.companion=N"
 * </pre>
 */
@Tag("by-hand-on-a-Pi")
final class PiPulseContractProof extends PulseContract {

    private static final long HALF_PERIOD_NANOS = 250_000;

    @Override
    protected Driven open() throws Exception {
        String label = System.getProperty("pi.chip");
        int output = number("pi.output");
        OutputLines outputs =
                Chip.find(label).outputs("contract", new int[] {output}, new boolean[] {false});
        LineRequest request =
                Chip.find(label)
                        .edges("contract", number("pi.line"), number("pi.companion"), Bias.AS_IS);
        return new TappedLine(
                request,
                new TappedLine.Driver() {
                    @Override
                    public void pulse(int count) throws Exception {
                        for (int i = 0; i < count; i++) {
                            outputs.set(output, true);
                            LockSupport.parkNanos(HALF_PERIOD_NANOS);
                            outputs.set(output, false);
                            LockSupport.parkNanos(HALF_PERIOD_NANOS);
                        }
                    }

                    @Override
                    public void close() {
                        outputs.close();
                    }
                });
    }

    private static int number(String property) {
        return Integer.parseInt(System.getProperty(property));
    }
}
