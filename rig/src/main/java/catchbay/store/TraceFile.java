package catchbay.store;

import catchbay.record.TraceDigest;
import catchbay.record.TraceText;

import java.io.IOException;
import java.util.Optional;

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
     * fails at any step the trace is an open one still, or again: who is told that it failed must
     * not find it recorded later.
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
        try {
            folder.rename(run, TraceFolder.Form.OPEN, TraceFolder.Form.CLOSED);
        } catch (IOException unsure) {
            withdrawAfter(unsure);
            throw unsure;
        }
        return new ClosedTrace(
                run, TraceFolder.Form.CLOSED.fileName(run), digest.sha256(), digest.lines());
    }

    /** Makes a sealed trace an open one again, since whoever waited for it has given it up. */
    public void withdraw() throws IOException {
        folder.rename(run, TraceFolder.Form.CLOSED, TraceFolder.Form.OPEN);
    }

    /** Its new name may be there already although it could not be brought onto the medium. */
    private void withdrawAfter(IOException failure) {
        try {
            if (folder.form(run).equals(Optional.of(TraceFolder.Form.CLOSED))) {
                withdraw();
            }
        } catch (IOException second) {
            failure.addSuppressed(second);
        }
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
