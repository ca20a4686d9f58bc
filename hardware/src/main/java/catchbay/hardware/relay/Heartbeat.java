package catchbay.hardware.relay;

import catchbay.hardware.clock.LoopHealth;

import com.pi4j.io.gpio.digital.DigitalOutput;

import java.util.concurrent.locks.LockSupport;

/**
 * Beats on a line for the hard-wired watchdog relay, from a thread of its own, as long as the
 * measuring loop is well. A dead program, a hung loop and a line that fails are all the same to the
 * relay: the line stands still, and it drops everything until somebody resets it.
 */
final class Heartbeat implements AutoCloseable {

    private static final long CLOSE_MILLIS_MAX = 2000;

    private final DigitalOutput line;
    private final LoopHealth health;
    private final long beatNanos;
    private final Thread beater = new Thread(this::beat, "heartbeat");
    private volatile boolean ended;
    private volatile Throwable failure;

    /**
     * @param line nobody else's
     * @param beatNanos from one change of the level to the next, ns
     */
    Heartbeat(DigitalOutput line, LoopHealth health, long beatNanos) {
        this.line = line;
        this.health = health;
        this.beatNanos = beatNanos;
        beater.setDaemon(true);
        beater.setUncaughtExceptionHandler((thread, thrown) -> failure = thrown);
    }

    void start() {
        beater.start();
    }

    private void beat() {
        while (!ended) {
            if (health.isWell()) {
                line.toggle();
            }
            LockSupport.parkNanos(beatNanos);
        }
        line.off();
    }

    /** What ended the beating before its time; null while all is well. */
    Throwable failure() {
        return failure;
    }

    /** No beat any more, for good: the watchdog relay is wanted to drop. */
    void end() {
        ended = true;
        LockSupport.unpark(beater);
    }

    /** Ends it, and waits until its line is nobody's. */
    @Override
    public void close() {
        end();
        try {
            beater.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
