package catchbay.app;

import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.RunInput;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;

/**
 * The operating system's wish that the program end (Ctrl-C, SIGTERM): it becomes an input of the
 * run, so that the run ends in its safe state and its trace is closed, and only then does the
 * program go.
 */
final class StopSignal implements Source {

    /** How long the end of the program waits for the run to close, seconds. */
    private static final long WAIT_SECONDS = 2;

    private final AtomicBoolean wanted = new AtomicBoolean();
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Thread hook = Thread.ofPlatform().name("stop").unstarted(this::stopAndWait);
    private final Timekeeper time;
    private boolean told;

    private StopSignal(Timekeeper time) {
        this.time = time;
    }

    /** Listens from now on. */
    static StopSignal listening(Timekeeper time) {
        StopSignal signal = new StopSignal(time);
        Runtime.getRuntime().addShutdownHook(signal.hook);
        return signal;
    }

    /** What the end of the program does: asks the run to stop, and waits until it is closed. */
    void stopAndWait() {
        wanted.set(true);
        try {
            if (!closed.await(WAIT_SECONDS, TimeUnit.SECONDS)) {
                System.err.println(
                        "The run did not close within "
                                + WAIT_SECONDS
                                + " s; its trace is left open and will be marked interrupted at the"
                                + " next start.");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        if (wanted.get() && !told) {
            told = true;
            into.accept(
                    new RunInput.StopPressed(
                            time.monotonicNanos(), "Ctrl-C or a signal to the program"));
        }
    }

    /** The run is closed and its result told: outputs safe, trace on the medium, page printed. */
    @Override
    public void close() {
        closed.countDown();
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException alreadyEnding) {
            // The program is ending because of this very signal; the hook is waiting for the latch
            // above.
        }
    }
}
