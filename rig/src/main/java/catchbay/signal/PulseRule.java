package catchbay.signal;

import java.util.Locale;

/**
 * How the edges of one line are judged. All durations are nanoseconds.
 *
 * @param debounceNanos an edge closer than this to the last good one is a bounce, counted and left
 *     out; 0 = none
 * @param leapRatio a spacing this many times longer or shorter than the one before is a leap: the
 *     sign of a pulse missed, or of one too many, that the door's numbers do not show; > 1
 * @param evenRatioMax the largest scatter of the spacing ({@link Tally#scatter()}) at which the
 *     spacing counts as even, so that a window may be read between pulses
 * @param slowNanos a spacing longer than this is flow below the certified range; {@link
 *     Long#MAX_VALUE} = not judged
 * @param fastNanos a spacing shorter than this is flow above the certified range; 0 = not judged
 */
public record PulseRule(
        long debounceNanos, double leapRatio, double evenRatioMax, long slowNanos, long fastNanos) {

    /**
     * Common practice, no source: a missed pulse doubles a spacing, so the line is drawn below two.
     */
    public static final double LEAP_RATIO = 1.7;

    /**
     * Found by simulation, no source: above seven hundredths of scatter an even train's own
     * spacings begin to leap by {@link #LEAP_RATIO} by chance, and a good catch would be void.
     */
    public static final double EVEN_RATIO_MAX = 0.07;

    public PulseRule {
        if (debounceNanos < 0) {
            throw new IllegalArgumentException("debounce must be >= 0 ns, was " + debounceNanos);
        }
        if (!(leapRatio > 1) || leapRatio == Double.POSITIVE_INFINITY) {
            throw new IllegalArgumentException(
                    "leap ratio must be a number above 1, was " + leapRatio);
        }
        if (!(evenRatioMax >= 0) || evenRatioMax > 1) {
            throw new IllegalArgumentException(
                    "even ratio must be from 0 to 1, was " + evenRatioMax);
        }
        if (slowNanos <= fastNanos || fastNanos < 0) {
            throw new IllegalArgumentException(
                    "slow spacing must be above fast spacing, both >= 0 ns, were "
                            + slowNanos
                            + " and "
                            + fastNanos);
        }
    }

    /** The rule with no debounce, the usual leap and evenness, and no range. */
    public static PulseRule plain() {
        return new PulseRule(0, LEAP_RATIO, EVEN_RATIO_MAX, Long.MAX_VALUE, 0);
    }

    /**
     * Why this debounce may not be used on a line that can reach the rate given, or null when it
     * may: a debounce of more than a quarter of the shortest period would eat real pulses.
     *
     * @param pulsesPerSecondMax the highest rate the line is expected to reach, > 0
     */
    public String refusalAt(double pulsesPerSecondMax) {
        double quarterNanos = 1e9 / pulsesPerSecondMax / 4;
        if (debounceNanos <= quarterNanos) {
            return null;
        }
        return String.format(
                Locale.ROOT,
                "debounce of %d us is longer than %.1f us, a quarter of the period at %.1f"
                        + " pulses/s; shorten the debounce or state a lower highest rate",
                debounceNanos / 1000,
                quarterNanos / 1000,
                pulsesPerSecondMax);
    }
}
