package catchbay.sim;

import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;

/**
 * Where the pulses of one line come into the bay: numbers them, spoils them where a fault says so,
 * and lets them into the buffer when their time has come.
 */
final class Door {

    /**
     * A bounce follows its edge so closely (illustrative: reed contacts bounce for some tenths of a
     * millisecond).
     */
    static final long BOUNCE_NANOS = 120_000;

    /**
     * Where between two pulses an edge comes that no pulse made, in hundredths of the spacing
     * before.
     */
    private static final int STRAY_PART = 40;

    /**
     * Of edges at moments of their own so many may come so close to a pulse that the debounce takes
     * one of the two for a bounce.
     */
    private static final int BESIDE_PULSES = 2;

    private final PulseBuffer buffer;
    private final List<Long> wrong = new ArrayList<>();
    private final List<Long> noise = new ArrayList<>();
    private long[] stamps = new long[256];
    private long[] sequences = new long[256];
    private int from;
    private int to;
    private long nextSequence = 1;
    private long lastNanos = -1;
    private long losingNumbered;
    private long losingUnnumbered;
    private long bouncing;
    private long straying;
    private long losingEvery;
    private long untilLost;
    private boolean dead;
    private long stalledUntilNanos = Long.MIN_VALUE;

    Door(PulseLine line) {
        buffer = new PulseBuffer(line);
    }

    /** A pulse of the line; stamps rise. */
    void pulse(long stampNanos) {
        long before = lastNanos;
        lastNanos = stampNanos;
        if (loses()) {
            wrong.add(stampNanos);
            return;
        }
        add(stampNanos);
        if (bouncing > 0) {
            bouncing--;
            addWrong(stampNanos + BOUNCE_NANOS);
        }
        if (straying > 0 && before >= 0) {
            straying--;
            addWrong(stampNanos + (stampNanos - before) * STRAY_PART / 100);
        }
    }

    /** Whether the next edge is lost. */
    private boolean loses() {
        if (dead) {
            return true;
        }
        if (losingNumbered > 0) {
            losingNumbered--;
            nextSequence++;
            return true;
        }
        if (losingUnnumbered > 0) {
            losingUnnumbered--;
            return true;
        }
        if (losingEvery > 0 && --untilLost <= 0) {
            untilLost = losingEvery;
            return true;
        }
        return false;
    }

    private void addWrong(long stampNanos) {
        wrong.add(stampNanos);
        add(stampNanos);
    }

    /** The next so many edges are lost after they were numbered. */
    void loseNumbered(long edges) {
        losingNumbered += edges;
    }

    /** The next so many edges are lost before anything numbers them. */
    void loseUnnumbered(long edges) {
        losingUnnumbered += edges;
    }

    /** The next so many edges are followed by one that bounces. */
    void bounce(long edges) {
        bouncing += edges;
    }

    /** The next so many edges are followed by one that no pulse made. */
    void stray(long edges) {
        straying += edges;
    }

    /** Every so manieth edge is lost before anything numbers it; 0 = none. */
    void loseEvery(long edges) {
        losingEvery = edges;
        untilLost = edges;
    }

    /** An edge that no pulse made, in the step that begins now or later. */
    void disturb(long stampNanos) {
        if (!dead) {
            noise.add(stampNanos);
            add(stampNanos);
        }
    }

    /**
     * How many edges were surely too many or too few between two moments, each of them after a
     * debounce.
     */
    long wrongBetween(long fromNanos, long toNanos) {
        long others = between(noise, fromNanos, toNanos);
        return between(wrong, fromNanos, toNanos) + Math.max(0, others - BESIDE_PULSES);
    }

    private static long between(List<Long> stamps, long fromNanos, long toNanos) {
        return stamps.stream().filter(stamp -> stamp > fromNanos && stamp < toNanos).count();
    }

    /** Somebody has looked after the line: from now on every pulse is an edge, read at once. */
    void heal() {
        losingNumbered = 0;
        losingUnnumbered = 0;
        losingEvery = 0;
        bouncing = 0;
        straying = 0;
        dead = false;
        stalledUntilNanos = Long.MIN_VALUE;
    }

    /** From now on no edge comes any more. */
    void die() {
        dead = true;
    }

    /** Until then nobody empties the buffer. */
    void stallUntil(long nanos) {
        stalledUntilNanos = nanos;
    }

    /** Somebody asks for the line anew: its numbers begin with one, as the kernel's do. */
    void reopen() {
        buffer.clear();
        from = 0;
        to = 0;
        nextSequence = 1;
    }

    /** Edges stamped up to now reach the buffer. */
    void release(long nowNanos) {
        while (from < to && stamps[from] <= nowNanos) {
            buffer.put(stamps[from], sequences[from]);
            from++;
        }
        if (from == to) {
            from = 0;
            to = 0;
        }
    }

    void drain(long nowNanos, Consumer<RunInput> into) {
        if (nowNanos >= stalledUntilNanos) {
            buffer.drain(into);
        }
    }

    /**
     * Edges are numbered as they come in time: an edge before one that is still to come takes its
     * place.
     */
    private void add(long stampNanos) {
        if (to == stamps.length) {
            makeRoom();
        }
        int at = to;
        while (at > from && stamps[at - 1] > stampNanos) {
            stamps[at] = stamps[at - 1];
            at--;
        }
        stamps[at] = stampNanos;
        sequences[to] = nextSequence++;
        to++;
    }

    private void makeRoom() {
        int count = to - from;
        int room = count > stamps.length / 2 ? stamps.length * 2 : stamps.length;
        long[] moved = Arrays.copyOf(stamps, room);
        System.arraycopy(stamps, from, moved, 0, count);
        long[] movedSequences = Arrays.copyOf(sequences, room);
        System.arraycopy(sequences, from, movedSequences, 0, count);
        stamps = moved;
        sequences = movedSequences;
        from = 0;
        to = count;
    }
}
