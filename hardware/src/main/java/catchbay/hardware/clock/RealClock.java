package catchbay.hardware.clock;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;

/** Makes sure that a real line and the run live in the same time. */
public final class RealClock {

    private RealClock() {}

    /**
     * The clock that stamps a real line's inputs, which must be the run's own.
     *
     * @param thing what is real, for the sentence, as in "scale on /dev/serial/by-id/..."
     * @param kind the kind of port it hangs on
     * @throws PortException when the run keeps another time, or there is no such clock here
     */
    public static MonotonicClock behind(PortOpening opening, String thing, PortKind kind)
            throws PortException {
        MonotonicClock clock = MonotonicClock.open();
        if (!clock.isBehind(opening.time())) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The "
                            + thing
                            + " is real and the run's time is not; set provider = \"system\" in "
                            + "[port.time], or provider = \"stand-in\" in [port."
                            + kind.key()
                            + "].");
        }
        return clock;
    }
}
