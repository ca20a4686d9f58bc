package catchbay.signal;

import catchbay.quantity.Mass;

/**
 * Whether a scale has come to rest, judged by time and not by how many readings came: all readings
 * since an anchor lie within a band. Constant-size.
 *
 * @param bandKilograms the widest spread that counts as rest, kg, > 0
 * @param sinceNanos stamp of the first reading of the present rest; {@link Tally#NONE} when there
 *     is none
 * @param lastNanos stamp of the last reading that belongs to it
 * @param low the least of its readings, kg
 * @param high the greatest of its readings, kg
 * @param sum the sum of its readings, kg
 * @param readings how many they are
 */
public record MassSteadiness(
        double bandKilograms,
        long sinceNanos,
        long lastNanos,
        double low,
        double high,
        double sum,
        long readings) {

    /** Nothing seen. */
    public static MassSteadiness starting(double bandKilograms) {
        if (!(bandKilograms > 0) || Double.isInfinite(bandKilograms)) {
            throw new IllegalArgumentException(
                    "band of a scale at rest must be > 0 kg, was " + bandKilograms);
        }
        return new MassSteadiness(bandKilograms, Tally.NONE, Tally.NONE, 0, 0, 0, 0);
    }

    /** The same measure with nothing seen. */
    public MassSteadiness restarted() {
        return starting(bandKilograms);
    }

    /** This and one more reading; a scale in motion ends the rest. */
    public MassSteadiness take(long atNanos, ScaleFrame.Weight weight) {
        if (weight.inMotion()) {
            return restarted();
        }
        double kilograms = weight.mass().kilograms();
        double lower = Math.min(low, kilograms);
        double upper = Math.max(high, kilograms);
        // A reading between two digits may fall to either side: allow the band itself, plus
        // rounding of the sum.
        if (readings == 0 || upper - lower > bandKilograms * (1 + 1e-9)) {
            return new MassSteadiness(
                    bandKilograms, atNanos, atNanos, kilograms, kilograms, kilograms, 1);
        }
        return new MassSteadiness(
                bandKilograms, sinceNanos, atNanos, lower, upper, sum + kilograms, readings + 1);
    }

    /** How long the scale has been at rest, ns; 0 when it is not. */
    public long restNanos() {
        return readings == 0 ? 0 : lastNanos - sinceNanos;
    }

    /** Whether it has been at rest for so long, by one reading at least. */
    public boolean isAtRestFor(long nanos) {
        return readings > 0 && restNanos() >= nanos;
    }

    /** The mean of the readings at rest; fails when there are none. */
    public Mass mean() {
        if (readings == 0) {
            throw new IllegalStateException("no reading at rest to take the mean of");
        }
        return new Mass(sum / readings);
    }
}
