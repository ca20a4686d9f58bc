package catchbay.port;

import java.time.Instant;

/** The only time, and the only way to wait. Used by the loop's thread alone. */
public interface Timekeeper {

    /**
     * Nanoseconds of the monotonic clock that also stamps edges; never goes back, means nothing
     * across boots.
     */
    long monotonicNanos();

    /** The calendar time for records; may jump; never subtracted. */
    Instant wallTime();

    /** Names the boot within which monotonic stamps can be compared; not blank. */
    String bootId();

    /**
     * Whether this clock moves only inside {@link #sleepUntil}. Nothing may then be done beside the
     * loop, since no time would pass for it: what otherwise has a thread of its own is done inside
     * the loop.
     */
    default boolean movesOnlyInSleep() {
        return false;
    }

    /** Returns at or after the deadline, a stamp of {@link #monotonicNanos()}. */
    void sleepUntil(long deadlineNanos);
}
