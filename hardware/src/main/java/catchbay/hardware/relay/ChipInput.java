package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Bias;
import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.ContactLine;
import catchbay.port.PortException;

import com.pi4j.context.Context;
import com.pi4j.exception.InitializeException;
import com.pi4j.exception.ShutdownException;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputBase;
import com.pi4j.io.gpio.digital.DigitalInputConfig;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalState;

/**
 * One line of a chip as Pi4J's digital input. It has no thread: its changes wait in the kernel's
 * buffer until {@link #look} hands them to its listeners. For one thread at a time.
 */
final class ChipInput extends DigitalInputBase {

    private final Chip chip;
    private ContactLine line;
    private DigitalState level = DigitalState.UNKNOWN;

    ChipInput(Chip chip, DigitalInputProvider provider, DigitalInputConfig config) {
        super(provider, config);
        this.chip = chip;
    }

    @Override
    public DigitalInput initialize(Context context) {
        try {
            line =
                    chip.contact(
                            "catchbay " + id(),
                            config().address(),
                            bias(),
                            config().debounce().intValue());
            level = level(line.high());
        } catch (PortException refusal) {
            if (line != null) {
                line.close();
            }
            throw new InitializeException(refusal);
        }
        return super.initialize(context);
    }

    private Bias bias() {
        return switch (config().pull()) {
            case OFF -> Bias.OFF;
            case PULL_UP -> Bias.UP;
            case PULL_DOWN -> Bias.DOWN;
        };
    }

    private static DigitalState level(boolean high) {
        return high ? DigitalState.HIGH : DigitalState.LOW;
    }

    /** The level after the last change that was handed over. */
    @Override
    public DigitalState state() {
        return level;
    }

    /**
     * Hands over what has changed since the last look, and returns at once. An event that brings
     * the level which is known already tells nothing and is left out.
     *
     * @throws PortException when the chip has gone, or more changed than the kernel keeps; the
     *     level is right all the same, since it keeps the newest
     */
    void look() throws PortException {
        int changes = line.look();
        for (int i = 0; i < changes; i++) {
            DigitalState next = level(line.high(i));
            if (next != level) {
                level = next;
                dispatch(new StampedChange(this, level, line.stampNanos(i)));
            }
        }
        if (line.lost() > 0) {
            throw new PortException(
                    PortException.Kind.OVERFLOW,
                    "The contact "
                            + id()
                            + " chattered: "
                            + line.lost()
                            + " of its changes were lost. Look after its switch and its wire, or"
                            + " give it a longer debounce_ms under [port.contacts].");
        }
    }

    @Override
    public DigitalInput shutdown(Context context) throws ShutdownException {
        line.close();
        return super.shutdown(context);
    }
}
