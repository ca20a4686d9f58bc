package catchbay.hardware.clock;

import catchbay.port.Timekeeper;

import java.time.Instant;
import java.util.concurrent.locks.LockSupport;

/** The real time of this machine. */
final class SystemTimekeeper implements Timekeeper {

    private final MonotonicClock clock;

    SystemTimekeeper(MonotonicClock clock) {
        this.clock = clock;
    }

    @Override
    public long monotonicNanos() {
        return clock.nanos();
    }

    @Override
    public Instant wallTime() {
        return Instant.now();
    }

    @Override
    public String bootId() {
        return clock.bootId();
    }

    @Override
    public void sleepUntil(long deadlineNanos) {
        boolean interrupted = false;
        for (long left = deadlineNanos - clock.nanos();
                left > 0;
                left = deadlineNanos - clock.nanos()) {
            LockSupport.parkNanos(left);
            // While the mark is set, parking returns at once; the loop's thread has to see it all
            // the same.
            interrupted |= Thread.interrupted();
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
