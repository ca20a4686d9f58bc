package catchbay.app;

import catchbay.run.RunInput;
import catchbay.store.ClosedTrace;
import catchbay.store.TraceFile;

import java.io.IOException;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;

/**
 * Writes the trace on a thread of its own, since a disk may take longer than the loop may wait. The
 * loop copies its lines into one half of a bounded queue while the writer empties the other; it
 * brings them onto the medium once a second, and when asked.
 */
public final class ThreadedTraceLog implements TraceLog {

    /** The longest that lines wait for the medium while the disk keeps up. */
    static final long SYNC_NANOS = 1_000_000_000L;

    /** Ten seconds of lines at 20,000 edges/s and 10 bytes an edge, and some. */
    static final int QUEUE_BYTES_MAX = 4 * 1024 * 1024;

    /** How long the end of a run waits for a disk that does not answer. */
    private static final long SEAL_SECONDS_MAX = 60;

    private static final long NONE = -1;

    private final TraceFile file;
    private final long sealNanosMax;
    private final Thread writer;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition work = lock.newCondition();
    private final Condition sealed = lock.newCondition();

    // All of these under the lock.
    private byte[] queue = new byte[64 * 1024];
    private int queued;
    private long queuedNanos;
    private boolean syncRequested;
    private Closing closing;
    private boolean closed;
    private long durableNanos = NONE;
    private String failure;
    private boolean told;
    private End end;

    // Of the writer alone.
    private byte[] taken = new byte[64 * 1024];
    private long syncedNanos = NONE;

    private record Closing(long atNanos, String end, String reason) {}

    /** What the writer does next. */
    private record Task(int bytes, long upToNanos, boolean sync, Closing closing, boolean last) {}

    /** A log into a trace that was just begun; it closes the file. */
    public ThreadedTraceLog(TraceFile file) {
        this(file, TimeUnit.SECONDS.toNanos(SEAL_SECONDS_MAX));
    }

    /** As {@link #ThreadedTraceLog(TraceFile)}, with another patience at the end of a run. */
    ThreadedTraceLog(TraceFile file, long sealNanosMax) {
        this.file = file;
        this.sealNanosMax = sealNanosMax;
        this.writer = Thread.ofPlatform().name("trace-writer").daemon().start(this::write);
    }

    @Override
    public void append(byte[] bytes, int from, int length, long atNanos) {
        lock.lock();
        try {
            queuedNanos = atNanos;
            if (failure != null) {
                return;
            }
            if (length > QUEUE_BYTES_MAX - queued) {
                failure = TraceFailure.full(QUEUE_BYTES_MAX);
                return;
            }
            if (queued + length > queue.length) {
                queue =
                        Arrays.copyOf(
                                queue,
                                Math.min(
                                        QUEUE_BYTES_MAX,
                                        Math.max(2 * queue.length, queued + length)));
            }
            System.arraycopy(bytes, from, queue, queued, length);
            queued += length;
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    @Override
    public void requestSync() {
        lock.lock();
        try {
            syncRequested = true;
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        long durable;
        String failed;
        long now;
        lock.lock();
        try {
            durable = durableNanos;
            durableNanos = NONE;
            failed = told ? null : failure;
            told = failure != null;
            now = queuedNanos;
        } finally {
            lock.unlock();
        }
        // Outside the lock: what is told here makes lines of its own.
        if (durable != NONE) {
            into.accept(new RunInput.TraceDurable(now, durable));
        }
        if (failed != null) {
            into.accept(new RunInput.TraceFailed(now, failed));
        }
    }

    @Override
    public End seal(long atNanos, String outcome, String reason) {
        lock.lock();
        try {
            closing = new Closing(atNanos, outcome, reason);
            work.signal();
            long left = sealNanosMax;
            while (end == null && left > 0) {
                left = sealed.awaitNanos(left);
            }
            return end != null
                    ? end
                    : givenUp(
                            "The trace could not be closed within "
                                    + TimeUnit.NANOSECONDS.toSeconds(sealNanosMax)
                                    + " s: the disk does not answer; check it.");
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            return givenUp("The program was told to end while the trace was being closed.");
        } finally {
            lock.unlock();
        }
    }

    /** From now on the trace is lost, also where the disk answers after all; under the lock. */
    private End givenUp(String sentence) {
        failure = sentence;
        end = new End.Lost(sentence);
        return end;
    }

    /** Lines that are still in the queue are written first. */
    @Override
    public void close() {
        lock.lock();
        try {
            closed = true;
            work.signal();
        } finally {
            lock.unlock();
        }
        try {
            writer.join(TimeUnit.SECONDS.toMillis(SEAL_SECONDS_MAX));
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void write() {
        boolean last = false;
        while (!last) {
            Task task = next();
            last = task.last;
            try {
                file.append(taken, 0, task.bytes);
                if (task.sync) {
                    file.sync();
                    syncedNanos = task.upToNanos;
                    durable(task.upToNanos);
                }
                if (task.closing != null) {
                    seal(task.closing);
                }
                if (last) {
                    file.close();
                }
            } catch (IOException unwritable) {
                failed(TraceFailure.write(unwritable));
            }
        }
    }

    /** Waits for something to do; at most a second while lines are not on the medium. */
    private Task next() {
        lock.lock();
        try {
            boolean waited = false;
            while (queued == 0 && !syncRequested && closing == null && !closed && !waited) {
                waited =
                        !work.await(SYNC_NANOS, TimeUnit.NANOSECONDS) && syncedNanos != queuedNanos;
            }
            if (failure != null) {
                return afterFailure();
            }
            byte[] full = queue;
            queue = taken;
            taken = full;
            boolean sync = syncRequested || waited || queuedNanos - syncedNanos >= SYNC_NANOS;
            Task task = new Task(queued, queuedNanos, sync, closing, closed);
            queued = 0;
            syncRequested = false;
            closing = null;
            return task;
        } catch (InterruptedException interrupted) {
            throw new AssertionError("nobody interrupts the writer", interrupted);
        } finally {
            lock.unlock();
        }
    }

    /** After a failure nothing more is written: what comes behind a gap would look whole. */
    private Task afterFailure() {
        queued = 0;
        syncRequested = false;
        if (closing != null) {
            closing = null;
            end = new End.Lost(failure);
            sealed.signal();
        }
        return new Task(0, syncedNanos, false, null, closed);
    }

    private void durable(long upToNanos) {
        lock.lock();
        try {
            durableNanos = upToNanos;
        } finally {
            lock.unlock();
        }
    }

    /** Whoever was told that the trace is lost must not find it recorded later. */
    private void seal(Closing with) throws IOException {
        ClosedTrace trace = file.seal(with.atNanos, with.end, with.reason);
        boolean late;
        lock.lock();
        try {
            late = end != null;
            if (!late) {
                end = new End.Closed(trace);
                sealed.signal();
            }
        } finally {
            lock.unlock();
        }
        if (late) {
            file.withdraw();
        }
    }

    private void failed(String sentence) {
        lock.lock();
        try {
            failure = sentence;
            if (end == null) {
                end = new End.Lost(sentence);
                sealed.signal();
            }
        } finally {
            lock.unlock();
        }
    }
}
