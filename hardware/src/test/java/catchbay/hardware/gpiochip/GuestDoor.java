package catchbay.hardware.gpiochip;

import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.port.Timekeeper;

import java.util.Map;

/** The shipped door of pulses, as the proofs in the kernel guest open it. */
final class GuestDoor {

    static final String CHIP = "bay-sim";
    static final int LINE = 4;
    static final int COMPANION = 5;

    private GuestDoor() {}

    static BenchOpening opening() throws PortException {
        BenchSettings settings =
                new BenchSettings(
                        Map.of(
                                "chip",
                                CHIP,
                                "truck_line",
                                LINE,
                                "truck_companion",
                                COMPANION,
                                "truck_rate_max_hertz",
                                20_000));
        return new BenchOpening(settings, (Timekeeper) new SystemTime().open(null));
    }

    static Source open() throws PortException {
        return (Source) new GpiochipPulses().open(opening());
    }
}
