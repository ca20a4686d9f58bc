package catchbay.metrology;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.random.RandomGenerator;

/**
 * Propagation of distributions through a model by drawing its inputs many times (JCGM 101:2008):
 * the check of a {@link Budget}, and the interval to state where a term that is far from normal, or
 * a model that bends over the width of its inputs, makes the budget's own interval wrong.
 * Immutable.
 */
public final class MonteCarlo {

    /** Fewer draws leave too few in the tails for the ends of an interval. */
    public static final int DRAWS_MIN = 1_000;

    /** More would keep more memory than a small computer has to spare: 80 MB for each output. */
    public static final int DRAWS_MAX = 10_000_000;

    /**
     * From one value to another.
     *
     * @param low its lower end
     * @param high its upper end, not below the lower
     */
    public record Interval(double low, double high) {

        /** How wide it is. */
        public double width() {
            return high - low;
        }

        /** Whether the value lies in it, its ends included. */
        public boolean contains(double value) {
            return low <= value && value <= high;
        }
    }

    /**
     * What the draws say of one output, in its unit.
     *
     * @param name the output's name
     * @param mean the average of the draws (JCGM 101:2008, 7.6)
     * @param standard their standard deviation (7.6). It does not settle when an input is Student's
     *     with 2 degrees of freedom or fewer; the intervals do
     * @param symmetric the interval of {@link Coverage#PROBABILITY} that leaves as many draws below
     *     as above it (7.7)
     * @param shortest the shortest interval of that probability (7.7)
     * @param meanDeviation standard deviation of the mean as an estimate from so many draws
     * @param standardDeviation the same of the standard deviation
     * @param lowDeviation the same of the lower end of the symmetric interval
     * @param highDeviation the same of its upper end
     */
    public record Result(
            String name,
            double mean,
            double standard,
            Interval symmetric,
            Interval shortest,
            double meanDeviation,
            double standardDeviation,
            double lowDeviation,
            double highDeviation) {}

    private final List<Result> results;
    private final double[][] correlations;

    private MonteCarlo(List<Result> results, double[][] correlations) {
        this.results = results;
        this.correlations = correlations;
    }

    /**
     * Draws a model's outputs. The same generator state gives the same result on every machine.
     *
     * @param inputs the model's inputs, in its order, with different names
     * @param outputs the names of its outputs, in its order; at least one, all different
     * @param draws how many; {@link #DRAWS_MIN} to {@link #DRAWS_MAX}. For the ends of a 95 %
     *     interval to two digits 200,000 are enough (JCGM 101:2008, 7.2.2)
     * @param random where chance comes from; the caller makes and seeds it
     */
    public static MonteCarlo of(
            List<Input> inputs,
            List<String> outputs,
            Model model,
            int draws,
            RandomGenerator random) {
        if (draws < DRAWS_MIN || draws > DRAWS_MAX) {
            throw new IllegalArgumentException(
                    "Monte Carlo needs "
                            + DRAWS_MIN
                            + " to "
                            + DRAWS_MAX
                            + " draws, was asked for "
                            + draws);
        }
        Evaluation evaluation = new Evaluation(inputs, outputs, model);
        double[][] drawn = new double[outputs.size()][draws];
        double[] point = new double[inputs.size()];
        Chance chance = new Chance(random);
        for (int d = 0; d < draws; d++) {
            for (int i = 0; i < point.length; i++) {
                point[i] = chance.draw(evaluation.inputs().get(i));
            }
            double[] values = evaluation.at(point, "a drawn point");
            for (int o = 0; o < values.length; o++) {
                drawn[o][d] = values[o];
            }
        }
        double[][] correlations = correlations(drawn);
        List<Result> results = new ArrayList<>();
        for (int o = 0; o < drawn.length; o++) {
            results.add(result(evaluation.outputs().get(o), drawn[o]));
        }
        return new MonteCarlo(List.copyOf(results), correlations);
    }

    /** One result for each output, in the order of the model's outputs. */
    public List<Result> results() {
        return results;
    }

    /** The result of that name; fails with a sentence that lists the known ones. */
    public Result result(String name) {
        return results.get(indexOf(name));
    }

    /** Correlation coefficient of the draws of two outputs; 0 where one of them never varies. */
    public double correlation(String one, String other) {
        return correlations[indexOf(one)][indexOf(other)];
    }

    private int indexOf(String name) {
        for (int i = 0; i < results.size(); i++) {
            if (results.get(i).name().equals(name)) {
                return i;
            }
        }
        throw new IllegalArgumentException(
                "no output '"
                        + name
                        + "' was drawn; use one of "
                        + results.stream().map(Result::name).toList());
    }

    private static double[][] correlations(double[][] drawn) {
        double[][] products = new double[drawn.length][drawn.length];
        double[] means = new double[drawn.length];
        for (int o = 0; o < drawn.length; o++) {
            means[o] = Sample.mean(drawn[o]);
        }
        for (int a = 0; a < drawn.length; a++) {
            for (int b = 0; b < drawn.length; b++) {
                for (int d = 0; d < drawn[a].length; d++) {
                    products[a][b] += (drawn[a][d] - means[a]) * (drawn[b][d] - means[b]);
                }
            }
        }
        double[][] correlations = new double[drawn.length][drawn.length];
        for (int a = 0; a < drawn.length; a++) {
            for (int b = 0; b < drawn.length; b++) {
                double spread = Math.sqrt(products[a][a]) * Math.sqrt(products[b][b]);
                correlations[a][b] = spread == 0 ? 0 : products[a][b] / spread;
            }
        }
        return correlations;
    }

    /** Sorts the draws. */
    private static Result result(String name, double[] draws) {
        double mean = Sample.mean(draws);
        double squares = 0;
        double fourths = 0;
        for (double draw : draws) {
            double square = (draw - mean) * (draw - mean);
            squares += square;
            fourths += square * square;
        }
        int count = draws.length;
        double variance = squares / (count - 1);
        double standard = Math.sqrt(variance);
        // Var(s^2) = (m4 - m2^2)/M to first order, and s = sqrt(s^2).
        double ofVariance = Math.sqrt(Math.max(0, fourths / count - variance * variance) / count);
        Arrays.sort(draws);
        int held = (int) (Coverage.PROBABILITY * count + 0.5);
        int first = (count - held + 1) / 2 - 1;
        int shortest = 0;
        for (int r = 1; r + held < count; r++) {
            if (draws[r + held] - draws[r] < draws[shortest + held] - draws[shortest]) {
                shortest = r;
            }
        }
        return new Result(
                name,
                mean,
                standard,
                new Interval(draws[first], draws[first + held]),
                new Interval(draws[shortest], draws[shortest + held]),
                standard / Math.sqrt(count),
                standard == 0 ? 0 : ofVariance / (2 * standard),
                deviation(draws, first),
                deviation(draws, first + held));
    }

    /**
     * Standard deviation of an order statistic, without assuming a shape: the number of draws below
     * a quantile is binomial, so half the distance between the draws one standard deviation of it
     * to either side.
     */
    private static double deviation(double[] sorted, int index) {
        double below = (index + 0.5) / sorted.length;
        int step = (int) Math.ceil(Math.sqrt(sorted.length * below * (1 - below)));
        int low = Math.max(0, index - step);
        int high = Math.min(sorted.length - 1, index + step);
        return (sorted[high] - sorted[low]) / 2;
    }
}
