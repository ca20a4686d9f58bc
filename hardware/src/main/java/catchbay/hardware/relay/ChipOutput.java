package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.OutputLines;
import catchbay.port.PortException;

import com.pi4j.context.Context;
import com.pi4j.exception.InitializeException;
import com.pi4j.exception.ShutdownException;
import com.pi4j.io.exception.IOException;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputBase;
import com.pi4j.io.gpio.digital.DigitalOutputConfig;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.io.gpio.digital.DigitalState;

/**
 * One line of a chip as Pi4J's digital output. It has its initial level from the moment at which it
 * drives, and is written at every call, whatever it was set to before. For one thread at a time.
 */
final class ChipOutput extends DigitalOutputBase {

    private final Chip chip;
    private OutputLines line;

    ChipOutput(Chip chip, DigitalOutputProvider provider, DigitalOutputConfig config) {
        super(provider, config);
        this.chip = chip;
    }

    @Override
    public DigitalOutput initialize(Context context) {
        try {
            line =
                    chip.outputs(
                            "catchbay " + id(),
                            new int[] {config().address()},
                            new boolean[] {config().initialState().isHigh()});
        } catch (PortException refusal) {
            throw new InitializeException(refusal);
        }
        return super.initialize(context);
    }

    @Override
    public DigitalOutput state(DigitalState level) {
        try {
            line.set(config().address(), level.isHigh());
        } catch (PortException broken) {
            throw new IOException(broken);
        }
        return super.state(level);
    }

    @Override
    public DigitalOutput shutdown(Context context) throws ShutdownException {
        line.close();
        return super.shutdown(context);
    }
}
