package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;

import java.util.Arrays;
import java.util.List;

/**
 * How much equal runs scatter, and how well that is known. Where its size may come from matters:
 * runs are repeated until they look good, so the deviation of all of them, taken when it looked
 * good, is too small. Two sources are not bent by stopping:
 *
 * <ul>
 *   <li>the runs that were planned before the first one, however many followed. Whether to go on is
 *       decided by differences between runs only, and of normal runs the mean does not depend on
 *       their differences; so {@code (mean of all n - truth) sqrt(n) / s} is exactly Student's with
 *       the planned runs' degrees of freedom (Stein, Annals of Mathematical Statistics 16 (1945)
 *       243, from memory; the tests draw it). The limit is relative to the mean, which bends this
 *       by no more than the scatter is of the mean;
 *   <li>sets of earlier days, pooled, each with its planned runs only. It adds degrees of freedom,
 *       which three or five runs have few of.
 * </ul>
 *
 * @param standard standard deviation of a single run, in the unit of what the runs measure; above
 *     zero
 * @param degreesOfFreedom of that deviation, at least 1 or infinite
 */
public record Scatter(double standard, double degreesOfFreedom) {

    public Scatter {
        if (!Double.isFinite(standard) || standard <= 0) {
            throw new IllegalArgumentException(
                    "scatter of runs must be finite and above 0, was "
                            + standard
                            + "; runs that never differ say nothing of their scatter");
        }
        if (!(degreesOfFreedom >= 1)) {
            throw new IllegalArgumentException(
                    "degrees of freedom of a scatter must be at least 1, were " + degreesOfFreedom);
        }
    }

    /**
     * The deviation of the planned runs, with one degree of freedom fewer than they are.
     *
     * @param runs all completed valid runs, in the order they were made
     * @param planned how many were planned before the first; at least {@link
     *     Repeatability#RUNS_MIN} and no more than were made
     */
    public static Scatter ofPlanned(double[] runs, int planned) {
        if (planned < Repeatability.RUNS_MIN || planned > runs.length) {
            throw new IllegalArgumentException(
                    "scatter needs at least "
                            + Repeatability.RUNS_MIN
                            + " planned runs, all of them made; planned "
                            + planned
                            + ", made "
                            + runs.length);
        }
        return new Scatter(Sample.deviation(Arrays.copyOf(runs, planned)), planned - 1);
    }

    /**
     * Sets that scatter alike as one: the mean of their variances, weighted by their degrees of
     * freedom, which add up (JCGM 100:2008, 4.2.4).
     *
     * @param sets at least one, each with finite degrees of freedom
     */
    public static Scatter pooled(List<Scatter> sets) {
        double freedom = 0;
        double squares = 0;
        for (Scatter set : sets) {
            if (Double.isInfinite(set.degreesOfFreedom)) {
                throw new IllegalArgumentException(
                        "a scatter of infinite degrees of freedom cannot be pooled; use it as it"
                                + " is");
            }
            freedom += set.degreesOfFreedom;
            squares += set.degreesOfFreedom * set.standard * set.standard;
        }
        if (sets.isEmpty()) {
            throw new IllegalArgumentException("there is no scatter to pool");
        }
        return new Scatter(Math.sqrt(squares / freedom), freedom);
    }

    /**
     * This set pooled with earlier ones, unless it scatters more than they explain (F above its 95
     * % point): then it stands alone, since a truck that has become unsteady must not borrow from
     * its better days.
     *
     * @param earlier {@link #pooled} from earlier sets
     */
    public Scatter pooledWith(Scatter earlier) {
        Scatter both = pooled(List.of(this, earlier));
        double ratio = standard * standard / (earlier.standard * earlier.standard);
        double most =
                BetweenDays.critical(
                        Coverage.PROBABILITY, degreesOfFreedom, earlier.degreesOfFreedom);
        return ratio > most ? this : both;
    }

    /**
     * The scatter as an input around zero of scope RUN, to be added to what a run measures; {@link
     * Budget#ofMean} divides it by the root of the number of runs.
     */
    public Input input(String name) {
        return new Input(name, 0, standard, degreesOfFreedom, Shape.STUDENT, Scope.RUN);
    }
}
