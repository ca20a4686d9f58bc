package catchbay.hardware.computer;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.Computer;
import catchbay.run.BayComputer;
import catchbay.run.BayComputer.ClockDoubt;

import java.time.Clock;
import java.util.EnumSet;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;

/**
 * Looks at the computer once a second, on a thread of its own: the firmware takes a while to
 * answer. A second is short enough for the flags of the moment, which under-voltage leaves set for
 * as long as it lasts.
 */
final class WatchedComputer implements Computer {

    private static final long PERIOD_NANOS = 1_000_000_000;

    /**
     * How far calendar time may part from monotonic time between two looks, ms: a time server bends
     * the clock by at most 500 parts in a million (adjtimex(2)), and a busy machine may stop
     * between the two readings.
     */
    private static final long STEP_MILLIS = 500;

    private static final long CLOSE_MILLIS_MAX = 2000;

    private final LinuxFiles files;
    private final BooleanSupplier kernelSynchronised;
    private final MonotonicClock monotonic;
    private final Clock calendar;
    private final Thread watcher = new Thread(this::watch, "computer");
    private volatile BayComputer state;
    private volatile boolean closing;

    // Of the looking thread alone, once it runs.
    private boolean stepped;
    private long apartMillis;

    /** Looks for the first time, and then goes on looking. */
    WatchedComputer(
            LinuxFiles files,
            BooleanSupplier kernelSynchronised,
            MonotonicClock monotonic,
            Clock calendar) {
        this.files = files;
        this.kernelSynchronised = kernelSynchronised;
        this.monotonic = monotonic;
        this.calendar = calendar;
        this.apartMillis = apartMillis();
        look();
        watcher.setDaemon(true);
        watcher.start();
    }

    @Override
    public BayComputer state() {
        return state;
    }

    @Override
    public void close() {
        closing = true;
        LockSupport.unpark(watcher);
        try {
            watcher.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void watch() {
        while (!closing) {
            LockSupport.parkNanos(PERIOD_NANOS);
            look();
        }
    }

    private void look() {
        long apart = apartMillis();
        stepped |= Math.abs(apart - apartMillis) > STEP_MILLIS;
        apartMillis = apart;
        Set<ClockDoubt> doubts = EnumSet.noneOf(ClockDoubt.class);
        if (!files.hasClockChip()
                && !files.wasSynchronised()
                && !kernelSynchronised.getAsBoolean()) {
            doubts.add(ClockDoubt.UNSET);
        }
        if (stepped) {
            doubts.add(ClockDoubt.STEPPED);
        }
        state = new BayComputer(files.powerFlags(), Optional.of(doubts), OptionalLong.empty());
    }

    /** What the calendar is ahead of the monotonic clock; as long as nobody sets it, the same. */
    private long apartMillis() {
        return calendar.millis() - monotonic.nanos() / 1_000_000;
    }
}
