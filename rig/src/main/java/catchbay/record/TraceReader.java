package catchbay.record;

import com.fasterxml.jackson.databind.JsonNode;
import com.github.luben.zstd.ZstdIOException;
import com.github.luben.zstd.ZstdInputStream;

import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import java.util.Optional;

/**
 * Reads a trace line by line, compressed or not, in memory of constant size and in time linear to
 * its length. A line that cannot be read is refused by its number. Not thread-safe.
 */
public final class TraceReader implements AutoCloseable {

    /** How much of a file is read on, to tell damage from a line that was written wrong. */
    private static final long CHECKED_BYTES_MAX = 256L * 1024 * 1024;

    private final InputStream text;
    private final String name;
    private final FrequentLine frequent = new FrequentLine();
    private final TraceDigest digest = new TraceDigest();
    private byte[] buffer = new byte[16 * 1024];
    private int from;
    private int to;
    private boolean streamEnded;
    private int lineLength;
    private long lineNumber;
    private boolean lineTerminated;
    private final TraceLine.Header header;
    private TraceSeal seal;

    /**
     * Opens a trace and reads its first line.
     *
     * @param stored the trace's bytes; closed with this reader
     * @param name what to call the trace in refusals
     * @throws DocumentException when the first line is no header
     * @throws IOException when the bytes cannot be got
     */
    public TraceReader(InputStream stored, String name) throws IOException {
        this.name = name;
        this.text = TraceArchive.text(stored);
        try {
            header = first();
        } catch (DocumentException unreadable) {
            throw orDamaged(unreadable);
        }
        taken();
    }

    private TraceLine.Header first() throws IOException {
        if (!advance()) {
            throw new DocumentException(
                    name
                            + " is empty; a trace begins with a line that has catchbay_trace and "
                            + "setup");
        }
        return LineText.header(tree(), place());
    }

    /** The first line. */
    public TraceLine.Header header() {
        return header;
    }

    /** The number of the line read last; the header is line 1. */
    public long lineNumber() {
        return lineNumber;
    }

    /**
     * The next line after the header; empty at the end, from when on {@link #seal()} is known.
     *
     * @throws DocumentException when the line cannot be read, with its number and what to do
     * @throws IOException when the bytes cannot be got
     */
    public Optional<TraceLine> next() throws IOException {
        try {
            return following();
        } catch (DocumentException unreadable) {
            throw orDamaged(unreadable);
        }
    }

    private Optional<TraceLine> following() throws IOException {
        if (!advance()) {
            if (seal == null) {
                seal =
                        new TraceSeal.Unsealed(
                                name
                                        + " has no closing line: its run was not ended, or it "
                                        + "was written by "
                                        + "hand");
            }
            return Optional.empty();
        }
        if (seal != null) {
            throw new DocumentException(place() + " comes after the closing line; delete it");
        }
        Optional<TraceLine> read =
                frequent.read(buffer, from, lineLength).map(TraceLine.Input::new);
        TraceLine line =
                read.isPresent() ? read.get() : LineText.line(tree(), place(), header.turns());
        if (line instanceof TraceLine.Closing closing) {
            seal = sealOf(closing);
        } else {
            taken();
        }
        return Optional.of(line);
    }

    /**
     * Whether the trace is whole.
     *
     * @throws IllegalStateException before {@link #next()} has answered empty
     */
    public TraceSeal seal() {
        if (seal == null || !streamEnded || from < to) {
            throw new IllegalStateException("a trace's seal is known only once all of it is read");
        }
        return seal;
    }

    @Override
    public void close() throws IOException {
        text.close();
    }

    private TraceSeal sealOf(TraceLine.Closing closing) {
        long lines = digest.lines();
        String sha256 = digest.sha256();
        boolean terminated = lineTerminated;
        taken();
        if (header.turns() == TraceLine.Turns.IMPLIED) {
            return new TraceSeal.Unsealed(name + " has implied turns: it was written by hand");
        }
        if (!terminated) {
            return new TraceSeal.Unsealed(name + " breaks off within its closing line");
        }
        if (closing.lines() != lines) {
            return new TraceSeal.Damaged(
                    name
                            + " has "
                            + lines
                            + " lines before its closing line, which counts "
                            + closing.lines()
                            + "; restore it from a copy");
        }
        if (!closing.sha256().equals(sha256)) {
            return new TraceSeal.Damaged(
                    name
                            + " has SHA-256 "
                            + sha256
                            + " before its closing line, which says "
                            + closing.sha256()
                            + "; restore it from a copy");
        }
        return new TraceSeal.Sealed(closing, digest.sha256());
    }

    /** The line in the buffer counts; the next one follows it. */
    private void taken() {
        int length = lineLength + (lineTerminated ? 1 : 0);
        digest.take(buffer, from, length);
        from += length;
    }

    private JsonNode tree() {
        try {
            return Json.read(buffer, from, lineLength, place());
        } catch (DocumentException unreadable) {
            if (lineTerminated) {
                throw unreadable;
            }
            throw new DocumentException(
                    place() + " breaks off before its end; delete it to evaluate what came before");
        }
    }

    private String place() {
        return name + " line " + lineNumber;
    }

    /** Finds the next line in the buffer, filling it; false at the end. */
    private boolean advance() throws IOException {
        int scanned = from;
        while (true) {
            while (scanned < to && buffer[scanned] != '\n') {
                scanned++;
            }
            if (scanned < to) {
                return found(scanned, true);
            }
            if (streamEnded) {
                return from < to && found(to, false);
            }
            if (from > 0) {
                System.arraycopy(buffer, from, buffer, 0, to - from);
                scanned -= from;
                to -= from;
                from = 0;
            }
            if (to > TraceText.LINE_BYTES_MAX) {
                lineNumber++;
                throw tooLong();
            }
            if (to == buffer.length) {
                buffer = Arrays.copyOf(buffer, 2 * to);
            }
            fill();
        }
    }

    /**
     * Bits that turned over in a compressed file come out as lines that make no sense; its check
     * sum, which stands at its end, tells the one from the other.
     */
    private DocumentException orDamaged(DocumentException unreadable) throws IOException {
        if (!(text instanceof ZstdInputStream)) {
            return unreadable;
        }
        try {
            long left = CHECKED_BYTES_MAX;
            for (int count = 0; count >= 0 && left > 0; left -= count) {
                count = text.read(buffer, 0, buffer.length);
            }
            return unreadable;
        } catch (ZstdIOException damaged) {
            return damaged();
        }
    }

    private DocumentException damaged() {
        return new DocumentException(
                name
                        + " is a damaged compressed file (its lines up to "
                        + lineNumber
                        + " came out); restore it from a copy");
    }

    private DocumentException tooLong() {
        return new DocumentException(
                place()
                        + " is longer than "
                        + TraceText.LINE_BYTES_MAX
                        + " bytes; split its edges over several lines");
    }

    private boolean found(int end, boolean terminated) {
        lineNumber++;
        if (end - from > TraceText.LINE_BYTES_MAX) {
            throw tooLong();
        }
        lineLength = end - from;
        lineTerminated = terminated;
        return true;
    }

    private void fill() throws IOException {
        try {
            int count = text.read(buffer, to, buffer.length - to);
            if (count < 0) {
                streamEnded = true;
            } else {
                to += count;
            }
        } catch (ZstdIOException damaged) {
            throw damaged();
        }
    }
}
