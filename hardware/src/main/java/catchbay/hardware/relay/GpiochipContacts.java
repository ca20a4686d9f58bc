package catchbay.hardware.relay;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.hardware.clock.RealClock;
import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.LineNumbers;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.run.BayContact;
import catchbay.run.RunSetup;

import com.pi4j.context.Context;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;

/** Opens contacts on a GPIO chip: {@code contacts = "gpiochip"}. Settings: docs/settings.md. */
public final class GpiochipContacts implements PortProvider {

    private static final int DEBOUNCE_MILLIS_MAX = 1000;

    /** Common practice, no source; longer than contacts bounce, shorter than anybody could act. */
    private static final int DEBOUNCE_MILLIS = 10;

    @Override
    public PortKind kind() {
        return PortKind.CONTACTS;
    }

    @Override
    public String name() {
        return "gpiochip";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        String label = settings.text("chip");
        List<ContactWire> wires = wires(settings, opening.setup());
        MonotonicClock clock = RealClock.behind(opening, "GPIO chip " + label, kind());
        Chip chip = Chip.find(label);
        if (chip.simulated()) {
            opening.markSimulated();
        }
        return contacts(chip, wires, clock);
    }

    static Contacts contacts(Chip chip, List<ContactWire> wires, MonotonicClock clock)
            throws PortException {
        List<ChipInput> inputs = new ArrayList<>();
        Context context =
                Wiring.of(
                        new ChipInputs(chip),
                        with -> wires.forEach(wire -> inputs.add(input(with, wire))));
        return new Contacts(context, wires, inputs, clock);
    }

    private static ChipInput input(Context context, ContactWire wire) {
        DigitalInput input =
                context.create(
                        DigitalInput.newConfigBuilder(context)
                                .id(wire.contact().key())
                                .address(wire.line())
                                .pull(wire.pull())
                                .debounce(wire.debounceMicros())
                                .build());
        return (ChipInput) input;
    }

    private static List<ContactWire> wires(PortSettings settings, RunSetup setup) {
        List<ContactWire> wires = new ArrayList<>();
        LineNumbers numbers = new LineNumbers(settings);
        for (BayContact contact : BayContact.values()) {
            String key = contact.key().replace('-', '_');
            OptionalInt line = numbers.at(key + "_line");
            if (line.isPresent()) {
                wires.add(wire(settings, contact, key, line.getAsInt()));
            } else if (needed(setup, contact)) {
                throw settings.refused(
                        key + "_line",
                        "[diverter] is described with feedback that needs this switch; name its"
                                + " line");
            }
        }
        if (wires.isEmpty()) {
            throw settings.refused(
                    "emergency_stop_line",
                    "no contact is named; give emergency_stop_line or another, or set"
                            + " provider = \"none\"");
        }
        return wires;
    }

    private static ContactWire wire(
            PortSettings settings, BayContact contact, String key, int line) {
        DigitalState closed = closed(settings, key + "_closed");
        PullResistance away =
                closed == DigitalState.LOW ? PullResistance.PULL_UP : PullResistance.PULL_DOWN;
        PullResistance pull = pull(settings, key + "_bias", away);
        if (pull != away && pull != PullResistance.OFF) {
            throw settings.refused(
                    key + "_bias",
                    "a resistor towards the level of the closed contact makes a broken wire look"
                            + " closed; use "
                            + (away == PullResistance.PULL_UP ? "up" : "down")
                            + ", or off with a resistor of your own");
        }
        long millis =
                settings.whole(
                        key + "_debounce_ms", 0, DEBOUNCE_MILLIS_MAX, debounceMillis(contact));
        return new ContactWire(contact, line, closed, pull, 1000 * millis);
    }

    private static DigitalState closed(PortSettings settings, String key) {
        String level = settings.optionalText(key).orElse("low");
        return switch (level) {
            case "low" -> DigitalState.LOW;
            case "high" -> DigitalState.HIGH;
            default ->
                    throw settings.refused(
                            key, "the level '" + level + "' is not known; use low or high");
        };
    }

    private static PullResistance pull(
            PortSettings settings, String key, PullResistance otherwise) {
        String bias = settings.optionalText(key).orElse("");
        return switch (bias) {
            case "" -> otherwise;
            case "up" -> PullResistance.PULL_UP;
            case "down" -> PullResistance.PULL_DOWN;
            case "off" -> PullResistance.OFF;
            default ->
                    throw settings.refused(
                            key, "the bias '" + bias + "' is not known; use up, down or off");
        };
    }

    /**
     * The diverter's stamps open and close the window, and the kernel's debounce makes them late.
     */
    private static long debounceMillis(BayContact contact) {
        return switch (contact) {
            case DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS -> 0;
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST, ATTENDANT -> DEBOUNCE_MILLIS;
        };
    }

    private static boolean needed(RunSetup setup, BayContact contact) {
        if (setup.diverter().isEmpty()) {
            return false;
        }
        boolean trigger = setup.diverter().get().feedback() == RunSetup.Feedback.TRIGGER;
        return switch (contact) {
            case DIVERTER_TRIGGER -> trigger;
            case DIVERTER_AT_TANK, DIVERTER_AT_BYPASS -> !trigger;
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST, ATTENDANT -> false;
        };
    }
}
