package catchbay.app;

import catchbay.run.RunInput;
import catchbay.store.TraceFile;

import java.io.IOException;
import java.util.function.Consumer;

/**
 * Writes the trace on the loop's own thread, for virtual time, where a slow disk cannot make
 * anything late. Lines come onto the medium when that is asked for, and at the end.
 */
public final class InlineTraceLog implements TraceLog {

    private static final long NONE = -1;

    private final TraceFile file;
    private long appendedNanos;
    private long durableNanos = NONE;
    private String failure;
    private boolean told;

    /** A log into a trace that was just begun; it closes the file. */
    public InlineTraceLog(TraceFile file) {
        this.file = file;
    }

    @Override
    public void append(byte[] bytes, int from, int length, long atNanos) {
        appendedNanos = atNanos;
        trying(() -> file.append(bytes, from, length));
    }

    @Override
    public void requestSync() {
        if (trying(file::sync)) {
            durableNanos = appendedNanos;
        }
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        if (durableNanos != NONE) {
            long upTo = durableNanos;
            durableNanos = NONE;
            into.accept(new RunInput.TraceDurable(appendedNanos, upTo));
        }
        if (failure != null && !told) {
            told = true;
            into.accept(new RunInput.TraceFailed(appendedNanos, failure));
        }
    }

    @Override
    public End seal(long atNanos, String end, String reason) {
        if (failure == null) {
            try {
                return new End.Closed(file.seal(atNanos, end, reason));
            } catch (IOException unwritable) {
                failure = TraceFailure.write(unwritable);
            }
        }
        return new End.Lost(failure);
    }

    @Override
    public void close() {
        trying(file::close);
    }

    private interface Writing {
        void write() throws IOException;
    }

    /** After a failure nothing more is written: what comes behind a gap would look whole. */
    private boolean trying(Writing writing) {
        if (failure != null) {
            return false;
        }
        try {
            writing.write();
            return true;
        } catch (IOException unwritable) {
            failure = TraceFailure.write(unwritable);
            return false;
        }
    }
}
