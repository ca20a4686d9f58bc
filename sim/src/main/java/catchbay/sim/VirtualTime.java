package catchbay.sim;

import catchbay.port.Timekeeper;

import java.time.Instant;

/**
 * A clock that moves only while somebody sleeps, and plays the stand-in world meanwhile. The
 * calendar time follows it from a fixed start, and can be made to drift and to step without the
 * monotonic time noticing.
 */
public final class VirtualTime implements Timekeeper {

    /**
     * Where the monotonic clock stands at the beginning; not zero, so that nothing can take it for
     * an elapsed time.
     */
    public static final long START_NANOS = 10_000_000_000L;

    /**
     * How the calendar time goes wrong.
     *
     * @param driftPartsPerMillion how much too fast it goes
     * @param stepNanos by how much it jumps once
     * @param stepAfterNanos when it jumps, after the beginning
     */
    public record WallBend(double driftPartsPerMillion, long stepNanos, long stepAfterNanos) {
        /** A calendar time that goes right. */
        public static final WallBend NONE = new WallBend(0, 0, 0);
    }

    private final StandInBay bay;
    private final Instant start;
    private final WallBend bend;
    private long nowNanos = START_NANOS;

    /**
     * @param bay the bay to play
     * @param start the calendar time at the beginning
     */
    public VirtualTime(StandInBay bay, Instant start, WallBend bend) {
        this.bay = bay;
        this.start = start;
        this.bend = bend;
    }

    @Override
    public long monotonicNanos() {
        return nowNanos;
    }

    @Override
    public Instant wallTime() {
        long elapsed = nowNanos - START_NANOS;
        long drift = (long) (elapsed * (bend.driftPartsPerMillion / 1e6));
        long step = elapsed >= bend.stepAfterNanos ? bend.stepNanos : 0;
        return start.plusNanos(elapsed).plusNanos(drift).plusNanos(step);
    }

    @Override
    public String bootId() {
        return "virtual-" + start;
    }

    @Override
    public boolean movesOnlyInSleep() {
        return true;
    }

    @Override
    public void sleepUntil(long deadlineNanos) {
        if (deadlineNanos > nowNanos) {
            bay.at(nowNanos);
            long stalled = bay.at(deadlineNanos).programStalledUntilNanos();
            nowNanos = Math.max(deadlineNanos, stalled);
            bay.at(nowNanos);
        }
    }
}
