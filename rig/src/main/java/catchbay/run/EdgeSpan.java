package catchbay.run;

import catchbay.signal.EdgeBatch;

/**
 * The edges of one line since it was begun to be watched. Constant-size; immutable.
 *
 * @param edges how many came
 * @param missing how many more the door numbered than came, between the first and the last
 * @param lastSequence the door's number of the last one; nothing before the first
 * @param firstNanos stamp of the first one
 * @param lastNanos stamp of the last one
 * @param shortestNanos the shortest spacing of two; {@link Long#MAX_VALUE} before there are two
 * @param longestNanos the longest spacing of two; 0 before there are two
 */
public record EdgeSpan(
        long edges,
        long missing,
        long lastSequence,
        long firstNanos,
        long lastNanos,
        long shortestNanos,
        long longestNanos) {

    /** Nothing came. */
    public static final EdgeSpan NONE = new EdgeSpan(0, 0, 0, 0, 0, Long.MAX_VALUE, 0);

    /** This and some more edges, of stamps that rise. */
    public EdgeSpan take(EdgeBatch batch) {
        long shortest = shortestNanos;
        long longest = longestNanos;
        long before = lastNanos;
        for (int i = 0; i < batch.size(); i++) {
            if (edges > 0 || i > 0) {
                long apart = batch.stampNanos(i) - before;
                shortest = Math.min(shortest, apart);
                longest = Math.max(longest, apart);
            }
            before = batch.stampNanos(i);
        }
        return new EdgeSpan(
                edges + batch.size(),
                missing + (edges == 0 ? 0 : batch.firstSequence() - lastSequence - 1),
                batch.lastSequence(),
                edges == 0 ? batch.firstNanos() : firstNanos,
                batch.lastNanos(),
                shortest,
                longest);
    }

    /** Edges a second between the first and the last; 0 where there are no two. */
    public double hertz() {
        return edges < 2 || lastNanos == firstNanos
                ? 0
                : (edges - 1) * 1e9 / (lastNanos - firstNanos);
    }
}
