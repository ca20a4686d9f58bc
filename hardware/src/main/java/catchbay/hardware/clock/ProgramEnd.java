package catchbay.hardware.clock;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * The end of the program, as outputs meet it: whoever uses them gets its time to make them safe and
 * close them, and what has not been closed by then is made safe here.
 */
public final class ProgramEnd {

    /** How long the user gets, ms, within the two seconds that an end may take. */
    private static final long WAIT_MILLIS = 1500;

    private final CountDownLatch closed = new CountDownLatch(1);
    private final Runnable makeSafe;
    private final Thread hook;

    /**
     * @param name of the thread that looks after it
     * @param makeSafe done at the end, by that thread, for what is still open
     */
    public ProgramEnd(String name, Runnable makeSafe) {
        this.makeSafe = makeSafe;
        this.hook = Thread.ofPlatform().name(name).unstarted(this::come);
    }

    /** Looks after it from now on. */
    public void watch() {
        Runtime.getRuntime().addShutdownHook(hook);
    }

    /** The outputs are closed; nothing is left to be done. */
    public void closed() {
        closed.countDown();
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException alreadyEnding) {
            // The hook waits for the latch above.
        }
    }

    /** What the end does. */
    public void come() {
        try {
            if (closed.await(WAIT_MILLIS, TimeUnit.MILLISECONDS)) {
                return;
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
        makeSafe.run();
    }
}
