package catchbay.hardware.serial;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.PortException;
import catchbay.port.PortOpening;

/** Makes sure that a real line and the run live in the same time. */
final class RealClock {

    private RealClock() {}

    /** The clock that stamps the line's inputs, which must be the run's own. */
    static MonotonicClock behind(PortOpening opening, String what, String port)
            throws PortException {
        MonotonicClock clock = MonotonicClock.open();
        if (!clock.isBehind(opening.time())) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The "
                            + what
                            + " on "
                            + port
                            + " is real and the run's time is not; set provider = \"system\" in "
                            + "[port.time], or provider = \"stand-in\" in [port."
                            + what
                            + "].");
        }
        return clock;
    }
}
