package catchbay.hardware.clock;

import catchbay.port.PortException;
import catchbay.port.PortOpening;

/** Makes sure that a real device and the run live in the same time. */
public final class RealClock {

    private RealClock() {}

    /**
     * The clock that stamps a device's inputs, which must be the run's own.
     *
     * @param kind the key of its kind of port
     * @param device what it is and where, for the sentence
     * @throws PortException when the run plays a time of its own
     */
    public static MonotonicClock behind(PortOpening opening, String kind, String device)
            throws PortException {
        MonotonicClock clock = MonotonicClock.open();
        if (!clock.isBehind(opening.time())) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The "
                            + device
                            + " is real and the run's time is not; set provider = \"system\" in "
                            + "[port.time], or provider = \"stand-in\" in [port."
                            + kind
                            + "].");
        }
        return clock;
    }
}
