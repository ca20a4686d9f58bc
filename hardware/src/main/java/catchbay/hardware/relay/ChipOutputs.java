package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Chip;

import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputConfig;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.io.gpio.digital.DigitalOutputProviderBase;

/** Gives Pi4J the lines of one chip as digital outputs; an address is a line's number. */
final class ChipOutputs extends DigitalOutputProviderBase implements DigitalOutputProvider {

    private final Chip chip;

    ChipOutputs(Chip chip) {
        super("catchbay-gpiochip-outputs");
        this.chip = chip;
    }

    @Override
    public DigitalOutput create(DigitalOutputConfig config) {
        ChipOutput output = new ChipOutput(chip, this, config);
        context.registry().add(output);
        return output;
    }
}
