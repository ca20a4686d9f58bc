package catchbay.metrology;

import catchbay.quantity.Ratio;

import java.util.Locale;
import java.util.Optional;

/**
 * Whether repeated runs agree well enough, and whether to make another. Every completed valid run
 * counts; a choice of the best consecutive ones would always agree in the end.
 */
public final class Repeatability {

    /** Two runs agree or differ by luck; nothing is said of fewer runs than three. */
    public static final int RUNS_MIN = 3;

    /** As far as the table of {@link #meanRange} goes. */
    public static final int RUNS_MAX = 20;

    /**
     * Mean range of n normal values over their standard deviation, d2, from n = 3 to 20 (Tippett,
     * Biometrika 17 (1925) 364, from memory; held against its integral in the tests).
     */
    private static final double[] MEAN_RANGE = {
        1.693, 2.059, 2.326, 2.534, 2.704, 2.847, 2.970, 3.078, 3.173, 3.258, 3.336, 3.407, 3.472,
        3.532, 3.588, 3.640, 3.689, 3.735
    };

    /**
     * What is wanted of a set of runs; all of it is fixed before the first run.
     *
     * @param runs how many to make at least, {@link #RUNS_MIN} to {@code runsMax}
     * @param runsMax after how many to stop, at most {@link #RUNS_MAX}
     * @param wanted half-width of the 95 % interval that the scatter alone may leave the mean,
     *     relative to it; above zero
     */
    public record Plan(int runs, int runsMax, Ratio wanted) {
        public Plan {
            if (runsMax < runs) {
                throw new IllegalArgumentException(
                        "at least "
                                + runs
                                + " runs are planned, and at most "
                                + runsMax
                                + ", which is fewer; raise the most or lower the least");
            }
            if (runs < RUNS_MIN || runsMax > RUNS_MAX) {
                throw new IllegalArgumentException(
                        "repeatability takes "
                                + RUNS_MIN
                                + " to "
                                + RUNS_MAX
                                + " runs, asked for "
                                + runs
                                + " up to "
                                + runsMax
                                + "; plan at least "
                                + RUNS_MIN);
            }
            if (wanted.value() <= 0) {
                throw new IllegalArgumentException(
                        "the uncertainty wanted of repeats must be above 0 %, was "
                                + wanted.percent()
                                + " %");
            }
        }
    }

    /** What to do next. */
    public sealed interface Decision {

        /** The runs agree: their range is within the limit for so many. */
        record Enough(Ratio range, Ratio limit) implements Decision {}

        /** One more run, for the reason given as a sentence. */
        record RunAgain(String reason) implements Decision {}

        /**
         * As many runs as allowed, and they still do not agree. Their mean stands, with the
         * uncertainty their scatter gives it, which is more than was wanted.
         */
        record LimitReached(Ratio range, Ratio limit, String advice) implements Decision {}

        /** The runs cannot be told from one run shown several times; no repeatability is stated. */
        record Refused(String reason) implements Decision {}
    }

    private Repeatability() {}

    /**
     * What to do after these runs.
     *
     * @param runs what each completed valid run measured, in order: positive, all in one unit; no
     *     more than the plan allows
     */
    public static Decision after(Plan plan, double[] runs) {
        if (runs.length > plan.runsMax()) {
            throw new IllegalArgumentException(
                    runs.length + " runs were made where " + plan.runsMax() + " were the limit");
        }
        if (runs.length < plan.runs()) {
            return new Decision.RunAgain(
                    runs.length + " of the " + plan.runs() + " planned runs are made.");
        }
        Ratio range = rangeOverMean(runs);
        if (range.value() == 0) {
            return new Decision.Refused(
                    String.format(
                            Locale.ROOT,
                            "All %d runs gave exactly the same, which no real catch does: the"
                                    + " display step is too coarse to see their scatter, or one"
                                    + " reading was taken %d times. Check the readings, or record"
                                    + " them with more digits.",
                            runs.length,
                            runs.length));
        }
        Ratio limit = limit(plan.wanted(), runs.length);
        if (range.value() <= limit.value()) {
            return new Decision.Enough(range, limit);
        }
        String apart =
                String.format(
                        Locale.ROOT,
                        "%d runs lie %.3f %% apart, more than the %.3f %% that so many may",
                        runs.length,
                        range.percent(),
                        limit.percent());
        return runs.length < plan.runsMax()
                ? new Decision.RunAgain(apart + ".")
                : new Decision.LimitReached(
                        range,
                        limit,
                        apart
                                + "; no more are planned. Look for air, an unsteady pump or a"
                                + " drifting scale, or accept the larger uncertainty.");
    }

    /**
     * The range that n runs may have, relative to their mean, for a wanted uncertainty of the mean:
     * {@code U sqrt(n) d2(n) / t95(n - 1)}. Range over d2 estimates the deviation of a run; that
     * over sqrt(n), times t, is the uncertainty of the mean. (The same formula with 0.027 % makes
     * the table of API MPMS 4.8, appendix A, from memory.)
     *
     * @param wanted half-width of the 95 % interval of the mean, relative; above zero
     * @param runs {@link #RUNS_MIN} to {@link #RUNS_MAX}
     */
    public static Ratio limit(Ratio wanted, int runs) {
        return new Ratio(
                wanted.value()
                        * Math.sqrt(runs)
                        * meanRange(runs)
                        / Coverage.factor(Coverage.PROBABILITY, runs - 1));
    }

    /**
     * The fewest runs, of those that a plan allows, whose scatter would leave their mean what is
     * wanted: {@code t95(n - 1) s / sqrt(n)}. Their expected range is then just within {@link
     * #limit}.
     *
     * @param scatter standard deviation of a run, relative, as it is expected; >= 0
     * @return empty where not even the most would do
     */
    public static Optional<Integer> runsFor(Plan plan, Ratio scatter) {
        for (int runs = plan.runs(); runs <= plan.runsMax(); runs++) {
            double left =
                    Coverage.factor(Coverage.PROBABILITY, runs - 1)
                            * scatter.value()
                            / Math.sqrt(runs);
            if (left <= plan.wanted().value()) {
                return Optional.of(runs);
            }
        }
        return Optional.empty();
    }

    /** d2: the mean range of so many normal values over their standard deviation. */
    static double meanRange(int runs) {
        if (runs < RUNS_MIN || runs > RUNS_MAX) {
            throw new IllegalArgumentException(
                    "repeatability takes "
                            + RUNS_MIN
                            + " to "
                            + RUNS_MAX
                            + " runs, was asked for "
                            + runs
                            + "; make at least "
                            + RUNS_MIN);
        }
        return MEAN_RANGE[runs - RUNS_MIN];
    }

    /** (most - least) / mean of the runs, the form the limit is meant for. */
    public static Ratio rangeOverMean(double[] runs) {
        return new Ratio(range(runs) / Sample.mean(runs));
    }

    /** (most - least) / least of the runs, the form of API MPMS 12.2 (from memory). */
    public static Ratio rangeOverLeast(double[] runs) {
        return new Ratio(range(runs) / Sample.least(runs));
    }

    private static double range(double[] runs) {
        if (runs.length < RUNS_MIN) {
            throw new IllegalArgumentException(
                    "repeatability takes at least "
                            + RUNS_MIN
                            + " runs, there are "
                            + runs.length
                            + "; make more");
        }
        for (double run : runs) {
            if (!Double.isFinite(run) || run <= 0) {
                throw new IllegalArgumentException(
                        "runs to compare must be finite and above 0, one was " + run);
            }
        }
        return Sample.most(runs) - Sample.least(runs);
    }
}
