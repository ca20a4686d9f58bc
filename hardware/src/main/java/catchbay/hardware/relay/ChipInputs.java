package catchbay.hardware.relay;

import catchbay.hardware.gpiochip.Chip;

import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputConfig;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalInputProviderBase;

/** Gives Pi4J the lines of one chip as digital inputs; an address is a line's number. */
final class ChipInputs extends DigitalInputProviderBase implements DigitalInputProvider {

    private final Chip chip;

    ChipInputs(Chip chip) {
        super("catchbay-gpiochip-inputs");
        this.chip = chip;
    }

    @Override
    public DigitalInput create(DigitalInputConfig config) {
        ChipInput input = new ChipInput(chip, this, config);
        context.registry().add(input);
        return input;
    }
}
