package catchbay.store;

import catchbay.record.TraceDigest;
import catchbay.record.TraceText;

import java.io.IOException;

/** The trace of a run under way. Used by one thread at a time. */
public final class TraceFile implements AutoCloseable {

    private static final int BUFFER_BYTES = 64 * 1024;

    private final TraceFolder folder;
    private final String run;
    private final FileLayer.Growing file;
    private final TraceDigest digest = new TraceDigest();
    private final byte[] buffer = new byte[BUFFER_BYTES];
    private int buffered;

    TraceFile(TraceFolder folder, String run, FileLayer.Growing file) {
        this.folder = folder;
        this.run = run;
        this.file = file;
    }

    /** Appends whole lines. They may stay in memory until {@link #sync}. */
    public void append(byte[] lines, int from, int length) throws IOException {
        digest.take(lines, from, length);
        if (length > buffer.length - buffered) {
            flush();
        }
        if (length > buffer.length) {
            file.write(lines, from, length);
        } else {
            System.arraycopy(lines, from, buffer, buffered, length);
            buffered += length;
        }
    }

    /** Returns when all lines so far are on the medium. */
    public void sync() throws IOException {
        flush();
        file.sync();
    }

    /**
     * Writes the closing line and brings all of it onto the medium under its closed name. When it
     * fails at any step the trace is still found as an open one.
     *
     * @param atNanos when the run ended, monotonic clock
     * @param end its outcome's name
     * @param reason its outcome's reason
     */
    public ClosedTrace seal(long atNanos, String end, String reason) throws IOException {
        TraceText closing = new TraceText();
        closing.closing(digest.closing(atNanos, end, reason));
        append(closing.bytes(), 0, closing.length());
        sync();
        file.close();
        folder.rename(run, TraceFolder.Form.OPEN, TraceFolder.Form.CLOSED);
        return new ClosedTrace(
                run, TraceFolder.Form.CLOSED.fileName(run), digest.sha256(), digest.lines());
    }

    /** Lets the file go; what was not sealed stays an open trace. */
    @Override
    public void close() throws IOException {
        file.close();
    }

    private void flush() throws IOException {
        file.write(buffer, 0, buffered);
        buffered = 0;
    }
}
