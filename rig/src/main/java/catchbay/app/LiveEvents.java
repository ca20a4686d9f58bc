package catchbay.app;

import catchbay.record.DocumentException;

import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;

/**
 * How runs go, as lines of JSON in a file or a pipe for whoever looks on. Written by a thread of
 * its own that nobody waits for: where the file is slow only the newest moment is written, and
 * where it takes nothing any more the run goes on without.
 */
final class LiveEvents implements AutoCloseable {

    /** No more than so long is waited for a reader when all is over. */
    private static final long CLOSE_MILLIS_MAX = 1000;

    /** Nobody looks on. */
    static final LiveEvents NONE = new LiveEvents();

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition work = lock.newCondition();
    private final Thread writer;

    // Both under the lock.
    private Supplier<String> newest;
    private boolean closing;

    private LiveEvents() {
        writer = null;
    }

    /**
     * @param file is appended to; made where it is missing
     */
    LiveEvents(Path file) {
        if (Files.isDirectory(file)) {
            throw new DocumentException(
                    "option --events: " + file + " is a folder; name a file or a pipe");
        }
        writer = Thread.ofPlatform().name("live-events").daemon().unstarted(() -> write(file));
        writer.start();
    }

    /** Tells how a run stands now; the line is made by the writer. */
    void tell(Supplier<String> line) {
        if (writer != null) {
            put(line, false);
        }
    }

    private void put(Supplier<String> line, boolean last) {
        lock.lock();
        try {
            newest = line == null ? newest : line;
            closing |= last;
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    /** The newest moment once there is one; null when all is over. */
    private Supplier<String> taken() throws InterruptedException {
        lock.lock();
        try {
            while (newest == null && !closing) {
                work.await();
            }
            Supplier<String> line = newest;
            newest = null;
            return line;
        } finally {
            lock.unlock();
        }
    }

    private void write(Path file) {
        try (Writer to =
                Files.newBufferedWriter(
                        file,
                        StandardCharsets.UTF_8,
                        StandardOpenOption.CREATE,
                        StandardOpenOption.APPEND)) {
            for (Supplier<String> line = taken(); line != null; line = taken()) {
                to.write(line.get() + "\n");
                to.flush();
            }
        } catch (InterruptedException ended) {
            Thread.currentThread().interrupt();
        } catch (IOException gone) {
            System.err.println(
                    "catchbay: nobody can look on any more ("
                            + gone.getMessage()
                            + "); the run goes on. See that --events names a file that may be"
                            + " written.");
        }
    }

    @Override
    public void close() {
        if (writer == null) {
            return;
        }
        put(null, true);
        try {
            writer.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException asked) {
            Thread.currentThread().interrupt();
        }
    }
}
