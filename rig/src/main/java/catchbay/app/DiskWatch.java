package catchbay.app;

import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.RunInput;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;

/**
 * Looks from time to time how much of the disk is free, on a thread of its own: a disk that does
 * not answer must not hold the loop.
 */
final class DiskWatch implements Source {

    private static final long EVERY_SECONDS = 5;
    private static final long NONE = -1;

    private final TraceFolder traces;
    private final Timekeeper time;
    private final AtomicLong free = new AtomicLong(NONE);
    private final CountDownLatch closed = new CountDownLatch(1);

    DiskWatch(TraceFolder traces, Timekeeper time) {
        this.traces = traces;
        this.time = time;
        Thread.ofPlatform().name("disk-watch").daemon().start(this::look);
    }

    private void look() {
        try {
            do {
                free.set(traces.freeBytes());
            } while (!closed.await(EVERY_SECONDS, TimeUnit.SECONDS));
        } catch (IOException notTold) {
            // A disk that fails shows itself where the trace is written.
            free.set(NONE);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        long bytes = free.getAndSet(NONE);
        if (bytes != NONE) {
            into.accept(new RunInput.DiskFree(time.monotonicNanos(), bytes));
        }
    }

    @Override
    public void close() {
        closed.countDown();
    }
}
