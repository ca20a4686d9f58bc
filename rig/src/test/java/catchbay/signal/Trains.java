package catchbay.signal;

import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.random.RandomGenerator;

/** Pulse trains for tests: stamps in nanoseconds and ways to hand them to a gate. */
final class Trains {

    static final long SECOND = 1_000_000_000L;
    static final long MILLI = 1_000_000L;

    private Trains() {}

    /** Stamps of a steady train from its first edge up to, and without, an end. */
    static long[] steady(double hertz, double firstNanos, double untilNanos) {
        double period = 1e9 / hertz;
        int count = (int) Math.ceil((untilNanos - firstNanos) / period);
        long[] stamps = new long[count];
        for (int i = 0; i < count; i++) {
            stamps[i] = Math.round(firstNanos + i * period);
        }
        return stamps;
    }

    /**
     * A train like {@link #steady}, each edge off its place by an even spread of +-jitter periods.
     */
    static long[] jittered(
            RandomGenerator random,
            double hertz,
            double jitter,
            double firstNanos,
            double untilNanos) {
        long[] stamps = steady(hertz, firstNanos, untilNanos);
        for (int i = 0; i < stamps.length; i++) {
            stamps[i] += Math.round((random.nextDouble() * 2 - 1) * jitter * 1e9 / hertz);
        }
        return stamps;
    }

    static long[] without(long[] stamps, int index) {
        long[] fewer = new long[stamps.length - 1];
        System.arraycopy(stamps, 0, fewer, 0, index);
        System.arraycopy(stamps, index + 1, fewer, index, fewer.length - index);
        return fewer;
    }

    static long[] with(long[] stamps, int index, long stamp) {
        long[] more = new long[stamps.length + 1];
        System.arraycopy(stamps, 0, more, 0, index);
        more[index] = stamp;
        System.arraycopy(stamps, index, more, index + 1, stamps.length - index);
        return more;
    }

    /** Index of the first stamp after {@code nanos}. */
    static int after(long[] stamps, long nanos) {
        int index = 0;
        while (index < stamps.length && stamps[index] <= nanos) {
            index++;
        }
        return index;
    }

    /** One flying window over a whole train, with its stamps known in time. */
    static PulseGate flying(PulseRule rule, EdgeBatch train, long open, long close) {
        return PulseGate.idle(rule).await().open(open, false).await().close(close).take(train);
    }

    static PulseGate flying(long[] stamps, long open, long close) {
        return flying(PulseRule.plain(), EdgeBatch.of(0, stamps), open, close);
    }

    /** One standing window over a whole train. */
    static PulseGate standing(PulseRule rule, long[] stamps, long open, long close) {
        PulseGate idle = PulseGate.idle(rule).open(open, true).close(close);
        return stamps.length == 0 ? idle : idle.take(EdgeBatch.of(0, stamps));
    }

    /**
     * Hands over a train in random pieces. The opening and closing are told after a random number
     * of pieces beyond their stamps, during which edges are held back.
     */
    static PulseGate inPieces(
            RandomGenerator random,
            PulseGate gate,
            List<EdgeBatch> train,
            long open,
            long close,
            boolean flowRests) {
        List<EdgeBatch> pieces = new ArrayList<>();
        for (EdgeBatch batch : train) {
            pieces.addAll(split(random, batch));
        }
        UnaryOperator<PulseGate> opening = g -> g.open(open, flowRests);
        UnaryOperator<PulseGate> closing = g -> g.close(close);
        PulseGate fed = feedUntil(pieces, gate, open).await();
        fed = opening.apply(feed(pieces, fed, random.nextInt(4), close));
        fed = feedUntil(pieces, fed, close).await();
        fed = closing.apply(feed(pieces, fed, random.nextInt(4), Long.MAX_VALUE));
        return feed(pieces, fed, pieces.size(), Long.MAX_VALUE);
    }

    /** All pieces that end before a stamp; the next one may reach beyond it, so it waits. */
    private static PulseGate feedUntil(List<EdgeBatch> pieces, PulseGate gate, long nanos) {
        PulseGate fed = gate;
        while (!pieces.isEmpty() && pieces.getFirst().lastNanos() < nanos) {
            fed = fed.take(pieces.removeFirst());
        }
        return fed;
    }

    private static PulseGate feed(List<EdgeBatch> pieces, PulseGate gate, int count, long until) {
        PulseGate fed = gate;
        for (int i = 0;
                i < count && !pieces.isEmpty() && pieces.getFirst().lastNanos() < until;
                i++) {
            fed = fed.take(pieces.removeFirst());
        }
        return fed;
    }

    /** A batch cut at random places into copies of its parts. */
    static List<EdgeBatch> split(RandomGenerator random, EdgeBatch batch) {
        List<EdgeBatch> parts = new ArrayList<>();
        int from = 0;
        while (from < batch.size()) {
            int length =
                    Math.min(
                            batch.size() - from, random.nextBoolean() ? 1 : random.nextInt(1, 200));
            long[] stamps = new long[length];
            for (int i = 0; i < length; i++) {
                stamps[i] = batch.stampNanos(from + i);
            }
            parts.add(EdgeBatch.of(batch.firstSequence() + from, stamps));
            from += length;
        }
        return parts;
    }
}
