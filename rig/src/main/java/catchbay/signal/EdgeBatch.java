package catchbay.signal;

import java.util.Arrays;

/**
 * Some edges of one line, as the door stamped and numbered them, with no number missing between
 * them: a gap in the numbers starts a new batch. Immutable; parts of a batch share its stamps.
 */
public final class EdgeBatch {

    private final long firstSequence;
    private final long[] stampsNanos;
    private final int from;
    private final int to;

    private EdgeBatch(long firstSequence, long[] stampsNanos, int from, int to) {
        this.firstSequence = firstSequence;
        this.stampsNanos = stampsNanos;
        this.from = from;
        this.to = to;
    }

    /**
     * A batch of at least one edge.
     *
     * @param firstSequence the door's number of the first edge, >= 0; the others follow by one,
     *     none beyond 64 bits
     * @param stampsNanos stamps in nanoseconds of the monotonic clock, >= 0, in the order in which
     *     they came; copied
     */
    public static EdgeBatch of(long firstSequence, long... stampsNanos) {
        return of(firstSequence, stampsNanos, stampsNanos.length);
    }

    /**
     * A batch of the first {@code count} stamps of a buffer that the caller goes on using; copied.
     */
    public static EdgeBatch of(long firstSequence, long[] stampsNanos, int count) {
        if (count <= 0) {
            throw new IllegalArgumentException("a batch must hold at least one edge");
        }
        if (count > stampsNanos.length) {
            throw new IllegalArgumentException(
                    "a batch of "
                            + count
                            + " edges cannot come from "
                            + stampsNanos.length
                            + " stamps");
        }
        if (firstSequence < 0 || firstSequence > Long.MAX_VALUE - count) {
            throw new IllegalArgumentException(
                    "first sequence number must be >= 0 and leave room for "
                            + count
                            + " more, was "
                            + firstSequence);
        }
        for (int i = 0; i < count; i++) {
            if (stampsNanos[i] < 0) {
                throw new IllegalArgumentException(
                        "edge stamp must be >= 0 ns, was " + stampsNanos[i]);
            }
        }
        return new EdgeBatch(firstSequence, Arrays.copyOf(stampsNanos, count), 0, count);
    }

    /** How many edges, at least one. */
    public int size() {
        return to - from;
    }

    /** The door's number of the first edge. */
    public long firstSequence() {
        return firstSequence;
    }

    /** The door's number of the last edge. */
    public long lastSequence() {
        return firstSequence + size() - 1;
    }

    /** The stamp of one edge, nanoseconds of the monotonic clock. */
    public long stampNanos(int index) {
        return stampsNanos[from + index];
    }

    /** The stamp of the first edge. */
    public long firstNanos() {
        return stampsNanos[from];
    }

    /** The stamp of the last edge. */
    public long lastNanos() {
        return stampsNanos[to - 1];
    }

    /** How many edges come before the first one stamped after {@code nanos}. */
    public int countUpTo(long nanos) {
        int index = from;
        while (index < to && stampsNanos[index] <= nanos) {
            index++;
        }
        return index - from;
    }

    /** The first {@code count} edges, at least one. */
    public EdgeBatch head(int count) {
        return new EdgeBatch(firstSequence, stampsNanos, from, from + count);
    }

    /** What follows the first {@code count} edges, at least one. */
    public EdgeBatch tail(int count) {
        return new EdgeBatch(firstSequence + count, stampsNanos, from + count, to);
    }

    /** The same edges, the first of them with this number, >= 0. */
    public EdgeBatch numberedFrom(long first) {
        if (first < 0 || first > Long.MAX_VALUE - size()) {
            throw new IllegalArgumentException(
                    "first sequence number must be >= 0 and leave room for "
                            + size()
                            + " more, was "
                            + first);
        }
        return new EdgeBatch(first, stampsNanos, from, to);
    }

    /** The shared stamps, for the fold alone; never written to. */
    long[] sharedStamps() {
        return stampsNanos;
    }

    int from() {
        return from;
    }

    int to() {
        return to;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof EdgeBatch that
                && firstSequence == that.firstSequence
                && Arrays.equals(stampsNanos, from, to, that.stampsNanos, that.from, that.to);
    }

    @Override
    public int hashCode() {
        return Long.hashCode(firstSequence) * 31 + Long.hashCode(lastNanos());
    }

    @Override
    public String toString() {
        return size()
                + " edges from number "
                + firstSequence
                + ", "
                + firstNanos()
                + " to "
                + lastNanos()
                + " ns";
    }
}
