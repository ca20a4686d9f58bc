package catchbay.metrology;

/**
 * Whether the run furthest from the mean is further than chance puts it: the two-sided test of
 * Grubbs at the 5 % level (Grubbs, Technometrics 11 (1969) 1; NIST/SEMATECH e-Handbook of
 * Statistical Methods, 1.3.5.17). It points at a run and asks; it never takes one away. One run at
 * a time: two far runs on the same side can hide each other.
 */
public final class Grubbs {

    /** Of two runs neither is further from the mean than the other. */
    public static final int RUNS_MIN = 3;

    private static final double LEVEL = 0.05;

    /** What the test says. */
    public sealed interface Finding {

        /**
         * No run stands out.
         *
         * @param statistic G, the largest distance from the mean in standard deviations
         * @param critical what G exceeds once in twenty when no run is out of line
         */
        record None(double statistic, double critical) implements Finding {}

        /**
         * A run stands out and its cause should be asked for.
         *
         * @param index which run, from 0
         * @param value what it measured
         * @param statistic G
         * @param critical what G exceeds once in twenty when no run is out of line
         */
        record Flagged(int index, double value, double statistic, double critical)
                implements Finding {}

        /** The runs cannot be tested, for the reason given as a sentence. */
        record Untestable(String reason) implements Finding {}
    }

    private Grubbs() {}

    /**
     * The test of these runs.
     *
     * @param runs what each completed valid run measured, in one unit; finite
     */
    public static Finding test(double[] runs) {
        if (runs.length < RUNS_MIN) {
            return new Finding.Untestable(
                    "Outliers are looked for among at least "
                            + RUNS_MIN
                            + " runs; there are "
                            + runs.length
                            + ".");
        }
        double mean = Sample.mean(runs);
        double deviation = Sample.deviation(runs);
        if (deviation == 0) {
            return new Finding.Untestable("All runs are identical, so none stands out.");
        }
        int furthest = 0;
        for (int i = 1; i < runs.length; i++) {
            if (Math.abs(runs[i] - mean) > Math.abs(runs[furthest] - mean)) {
                furthest = i;
            }
        }
        double statistic = Math.abs(runs[furthest] - mean) / deviation;
        double critical = critical(runs.length);
        return statistic > critical
                ? new Finding.Flagged(furthest, runs[furthest], statistic, critical)
                : new Finding.None(statistic, critical);
    }

    /**
     * {@code (n-1)/sqrt(n) sqrt(t^2 / (n-2+t^2))} with t the upper 5 %/2n point of n - 2 degrees of
     * freedom (e-Handbook, 1.3.5.17).
     *
     * @param runs at least {@link #RUNS_MIN}
     */
    static double critical(int runs) {
        // Two-sided coverage of 1 - 0.05/n leaves 0.05/2n above.
        double t = Coverage.factor(1 - LEVEL / runs, runs - 2);
        return (runs - 1) / Math.sqrt(runs) * Math.sqrt(t * t / (runs - 2 + t * t));
    }
}
