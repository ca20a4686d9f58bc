package catchbay.hardware.relay;

import catchbay.run.BayContact;

import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;

/**
 * How one contact is wired. With its wire broken a contact reads as open; so those that tell of
 * danger rest closed, and what tells that a thing has arrived closes when it has.
 *
 * @param line the line's number on its chip
 * @param closed the line's level while the contact is closed
 * @param pull the chip's own resistor
 * @param debounceMicros how long it must be steady, us; 0 = the kernel holds nothing back
 */
record ContactWire(
        BayContact contact,
        int line,
        DigitalState closed,
        PullResistance pull,
        long debounceMicros) {

    /** Whether this level says that the thing named is so. */
    boolean active(DigitalState level) {
        return restsClosed() != (level == closed);
    }

    private boolean restsClosed() {
        return switch (contact) {
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST -> true;
            // A broken wire must not show that somebody is there.
            case ATTENDANT, DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS -> false;
        };
    }
}
