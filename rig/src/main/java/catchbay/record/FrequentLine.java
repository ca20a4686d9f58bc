package catchbay.record;

import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import java.nio.charset.StandardCharsets;
import java.util.Optional;

/**
 * Reads the two lines of which a trace has the most, turns and edges, when they stand exactly as
 * {@link TraceText} writes them. Everything else is left to {@link LineText}, which reads those two
 * in any form and alone refuses.
 */
final class FrequentLine {

    private static final byte[] AT = ascii("{\"at\":");
    private static final byte[] TURN = ascii(",\"turn\":1}");
    private static final byte[] EDGES = ascii(",\"edges\":\"");
    private static final byte[] FIRST_SEQUENCE = ascii(",\"first_seq\":");
    private static final byte[] GAPS = ascii(",\"gaps_ns\":[");
    private static final byte[] END = ascii("]}");
    private static final byte[][] LINES = lineKeys();

    /** So few digits that no number of them can overflow. */
    private static final int DIGITS_MAX = 18;

    private static final long NOT_A_NUMBER = Long.MIN_VALUE;

    private long[] stamps = new long[64];
    private byte[] bytes;
    private int position;
    private int end;

    /** The line, or empty when it is another or stands otherwise. */
    Optional<RunInput> read(byte[] line, int from, int length) {
        bytes = line;
        position = from;
        end = from + length;
        if (!skip(AT)) {
            return Optional.empty();
        }
        long at = number();
        if (at < 0 || at > TraceLine.STAMP_NANOS_MAX) {
            return Optional.empty();
        }
        if (skip(TURN)) {
            return position == end ? Optional.of(new RunInput.Turn(at)) : Optional.empty();
        }
        return skip(EDGES) ? edges(at) : Optional.empty();
    }

    private Optional<RunInput> edges(long at) {
        PulseLine line = line();
        if (line == null || !skip(FIRST_SEQUENCE)) {
            return Optional.empty();
        }
        long sequence = number();
        if (sequence < 0 || sequence > TraceLine.SEQUENCE_MAX || !skip(GAPS)) {
            return Optional.empty();
        }
        stamps[0] = at;
        int count = 1;
        while (position < end && bytes[position] != ']') {
            if (count > 1 && bytes[position++] != ',') {
                return Optional.empty();
            }
            long gap = number();
            long stamp = stamps[count - 1] + gap;
            if (gap == NOT_A_NUMBER || stamp < 0 || stamp > TraceLine.STAMP_NANOS_MAX) {
                return Optional.empty();
            }
            if (count == stamps.length) {
                stamps = java.util.Arrays.copyOf(stamps, 2 * count);
            }
            stamps[count++] = stamp;
        }
        if (!skip(END) || position != end) {
            return Optional.empty();
        }
        return Optional.of(new RunInput.Edges(line, EdgeBatch.of(sequence, stamps, count)));
    }

    private PulseLine line() {
        for (PulseLine line : PulseLine.values()) {
            if (skip(LINES[line.ordinal()])) {
                return line;
            }
        }
        return null;
    }

    private boolean skip(byte[] expected) {
        if (end - position < expected.length) {
            return false;
        }
        for (int i = 0; i < expected.length; i++) {
            if (bytes[position + i] != expected[i]) {
                return false;
            }
        }
        position += expected.length;
        return true;
    }

    /** A whole number as JSON writes it, short enough not to overflow. */
    private long number() {
        boolean negative = position < end && bytes[position] == '-';
        int first = negative ? position + 1 : position;
        int at = first;
        long value = 0;
        while (at < end && bytes[at] >= '0' && bytes[at] <= '9') {
            value = value * 10 + (bytes[at++] - '0');
            if (at - first > DIGITS_MAX) {
                return NOT_A_NUMBER;
            }
        }
        boolean padded = at - first > 1 && bytes[first] == '0';
        if (at == first || padded) {
            return NOT_A_NUMBER;
        }
        position = at;
        return negative ? -value : value;
    }

    private static byte[][] lineKeys() {
        byte[][] keys = new byte[PulseLine.values().length][];
        for (PulseLine line : PulseLine.values()) {
            // With its closing quote, since one key may begin as another does.
            keys[line.ordinal()] = ascii(line.key() + "\"");
        }
        return keys;
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }
}
