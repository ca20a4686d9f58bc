package catchbay.metrology;

import org.hipparchus.analysis.solvers.BrentSolver;

import java.util.Arrays;

/**
 * How a result is spread about its best value, in combined standard uncertainties: the sum of what
 * its independent causes give to it, each with its own shape. Symmetric about 0. Immutable.
 *
 * <p>As long as normal terms or many small ones make it, that is Student's t with the effective
 * degrees of freedom (JCGM 100:2008, G.4.1). Where a few flat terms lead, t makes the interval up
 * to a fifth too wide; then the distributions of the causes are propagated through the linear model
 * themselves (JCGM 101:2008, 5.4 and 7), by inverting their characteristic function (Gil-Pelaez,
 * Biometrika 38 (1951) 481, from memory) rather than by chance, so that a result has one interval
 * and not a new one for each seed.
 */
public final class ResultDistribution {

    /**
     * Excess kurtosis below which the causes' own shapes are propagated: above it t is right to a
     * third of a per cent (the term (z^3 - 3z)/24 of the Cornish-Fisher expansion, from memory).
     */
    static final double EXCESS_MIN = -0.1;

    /** Of a rectangular distribution; that of a triangular one is half of it. */
    private static final double EXCESS_OF_RECTANGLE = -1.2;

    private static final double EXCESS_OF_TRIANGLE = -0.6;

    /** A flat term of a smaller share of the variance is as good as normal. */
    private static final double SHARE_MIN = 1e-3;

    /** What may be left out of the inverted integral. */
    private static final double REST = 1e-7;

    /** Beyond so many standard deviations nothing of a normal term is left. */
    private static final double NORMAL_REACH = 8;

    private final double degreesOfFreedom;

    /** Half-widths of the rectangles; a triangle is the sum of two. Empty where t is right. */
    private final double[] halfWidths;

    /** Variance of all that is normal or as good as. */
    private final double normal;

    /** Made once, for interval and verdict alike; null where t is right. */
    private final Inversion inversion;

    private ResultDistribution(double degreesOfFreedom, double[] halfWidths, double normal) {
        this.degreesOfFreedom = degreesOfFreedom;
        this.halfWidths = halfWidths;
        this.normal = normal;
        this.inversion = halfWidths.length == 0 ? null : new Inversion();
    }

    /** Student's t, as of a sum of normal terms. */
    static ResultDistribution student(double degreesOfFreedom) {
        return new ResultDistribution(degreesOfFreedom, new double[0], 1);
    }

    /**
     * That of a sum of causes.
     *
     * @param effects what one standard uncertainty of each cause does to the result
     * @param shapes the shape of each
     * @param degreesOfFreedom of the whole, effective, at least 1
     */
    static ResultDistribution of(double[] effects, Input.Shape[] shapes, double degreesOfFreedom) {
        double variance = 0;
        for (double effect : effects) {
            variance += effect * effect;
        }
        if (variance == 0) {
            return student(degreesOfFreedom);
        }
        double excess = 0;
        double flat = 0;
        double[] halfWidths = new double[2 * effects.length];
        int count = 0;
        for (int i = 0; i < effects.length; i++) {
            double share = effects[i] * effects[i] / variance;
            boolean rectangle = shapes[i] == Input.Shape.RECTANGULAR;
            boolean triangle = shapes[i] == Input.Shape.TRIANGULAR;
            excess +=
                    share
                            * share
                            * (rectangle ? EXCESS_OF_RECTANGLE : triangle ? EXCESS_OF_TRIANGLE : 0);
            if (share < SHARE_MIN || !(rectangle || triangle)) {
                continue;
            }
            flat += share;
            double root = Math.sqrt(share);
            if (rectangle) {
                halfWidths[count++] = Input.ROOT_3 * root;
            } else {
                halfWidths[count++] = Input.ROOT_6 * root / 2;
                halfWidths[count++] = Input.ROOT_6 * root / 2;
            }
        }
        return excess >= EXCESS_MIN
                ? student(degreesOfFreedom)
                : new ResultDistribution(
                        degreesOfFreedom, Arrays.copyOf(halfWidths, count), Math.max(0, 1 - flat));
    }

    /** Whether the causes' own shapes make it, and not Student's t. */
    boolean propagated() {
        return inversion != null;
    }

    /**
     * The coverage factor: half the width of the interval of this probability about 0.
     *
     * @param probability between 0 and 1, both excluded
     */
    double factor(double probability) {
        double student = Coverage.factor(probability, Coverage.truncated(degreesOfFreedom));
        if (!propagated()) {
            return student;
        }
        double ofNormal = Coverage.factor(probability, Double.POSITIVE_INFINITY);
        // What is known with few degrees of freedom widens the whole as it would widen a normal
        // one.
        return inversion.quantile((1 + probability) / 2) * student / ofNormal;
    }

    /** The probability of lying at most so many standard uncertainties above the best value. */
    double probabilityUpTo(double standards) {
        if (!propagated()) {
            return Coverage.probabilityUpTo(standards, degreesOfFreedom);
        }
        double wider =
                Coverage.factor(Coverage.PROBABILITY, Coverage.truncated(degreesOfFreedom))
                        / Coverage.factor(Coverage.PROBABILITY, Double.POSITIVE_INFINITY);
        return inversion.cumulative(standards / wider);
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof ResultDistribution distribution
                && degreesOfFreedom == distribution.degreesOfFreedom
                && normal == distribution.normal
                && Arrays.equals(halfWidths, distribution.halfWidths);
    }

    @Override
    public int hashCode() {
        return 31 * Double.hashCode(degreesOfFreedom) + Arrays.hashCode(halfWidths);
    }

    @Override
    public String toString() {
        return propagated() ? "propagated shapes" : "Student's t, " + degreesOfFreedom;
    }

    /**
     * The characteristic function at the middles of equal steps, ready to be inverted: {@code F(x)
     * = 1/2 + 1/pi integral of phi(w) sin(wx)/w}. Steps are so narrow that the copies of the
     * distribution which a sum makes of it lie apart, and as many as it takes until the rest is
     * nothing.
     */
    private final class Inversion {

        private final double reach;
        private final double step;
        private double[] weights = new double[64];
        private int count;

        Inversion() {
            double sum = NORMAL_REACH * Math.sqrt(normal);
            for (double halfWidth : halfWidths) {
                sum += halfWidth;
            }
            reach = sum;
            step = Math.PI / reach;
            double bound;
            do {
                double w = (count + 0.5) * step;
                double phi = StrictMath.exp(-normal * w * w / 2);
                bound = phi;
                for (double halfWidth : halfWidths) {
                    double angle = halfWidth * w;
                    phi *= StrictMath.sin(angle) / angle;
                    bound *= Math.min(1, 1 / angle);
                }
                if (count == weights.length) {
                    weights = Arrays.copyOf(weights, 2 * count);
                }
                weights[count++] = phi / w;
                bound /= w;
            } while (bound > REST);
        }

        double cumulative(double x) {
            if (Math.abs(x) >= reach) {
                return x > 0 ? 1 : 0;
            }
            double sum = 0;
            for (int i = 0; i < count; i++) {
                sum += weights[i] * StrictMath.sin((i + 0.5) * step * x);
            }
            return Math.clamp(0.5 + step / Math.PI * sum, 0.0, 1.0);
        }

        double quantile(double probability) {
            return new BrentSolver(1e-9).solve(200, x -> cumulative(x) - probability, 0, reach);
        }
    }
}
