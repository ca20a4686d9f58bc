package catchbay.hardware.clock;

/**
 * Whether the measuring loop goes round, as one thread tells and another asks. Both the service
 * manager and the watchdog relay are told by this one measure that the program is alive.
 */
public final class LoopHealth {

    /** How long a turn may take before the loop counts as hung; one should take 10 ms. */
    private static final long TURN_NANOS_MAX = 1_000_000_000;

    private static final long IDLE = Long.MIN_VALUE;

    private volatile long turnedNanos = IDLE;

    /** The loop went round. */
    public void turned() {
        turnedNanos = System.nanoTime();
    }

    /** No run is under way: the loop does not go round, and need not. */
    public void idle() {
        turnedNanos = IDLE;
    }

    /** Whether it goes round, or need not. */
    public boolean isWell() {
        long last = turnedNanos;
        return last == IDLE || System.nanoTime() - last <= TURN_NANOS_MAX;
    }
}
