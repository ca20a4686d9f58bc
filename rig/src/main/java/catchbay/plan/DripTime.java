package catchbay.plan;

import catchbay.quantity.Volume;

import java.util.Optional;

/**
 * How long a measure drips after the stream has broken: the published times for volumetric
 * measures, the same for every run (Measurement Canada, field inspection manual, volumetric
 * measuring devices, part 4, section 22). Of a tank on a scale no such times are published, and
 * these serve.
 */
final class DripTime {

    private static final long SECOND_NANOS = 1_000_000_000L;

    /** Up to this many litres it drips for so many seconds. */
    private record Row(double litresMax, long seconds) {}

    private static final Row[] ROWS = {
        new Row(5, 10), new Row(20, 20), new Row(500, 60), new Row(5000, 120), new Row(15_000, 180)
    };

    private DripTime() {}

    /** For a measure that holds so much, ns; empty where it is larger than any in the table. */
    static Optional<Long> publishedNanos(Volume holds) {
        for (Row row : ROWS) {
            if (holds.litres() <= row.litresMax) {
                return Optional.of(row.seconds * SECOND_NANOS);
            }
        }
        return Optional.empty();
    }
}
