package catchbay.metrology;

import org.hipparchus.distribution.RealDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;

/** From a standard uncertainty to an interval of stated probability (JCGM 100:2008, annex G). */
public final class Coverage {

    /** The coverage probability of every interval the bay prints unless it says otherwise: 0.95. */
    public static final double PROBABILITY = 0.95;

    private static final NormalDistribution NORMAL = new NormalDistribution(0, 1);

    /**
     * How far below a whole number the rounding of the sum may leave degrees of freedom that are
     * whole, relative: a thousandfold of what double arithmetic does to a few dozen terms.
     */
    private static final double ROUNDING = 1e-11;

    /**
     * From here on Student's t is taken as normal. Its quantile is larger by (z^3 + z)/4v, below
     * 1e-6 of it; computed by the incomplete beta function it would be further off than that, and
     * far off above 1e12.
     */
    private static final double NORMAL_FROM = 1e7;

    private Coverage() {}

    /**
     * The coverage factor t_p(v) that makes an interval of this probability out of a standard
     * uncertainty (JCGM 100:2008, table G.2).
     *
     * @param probability between 0 and 1, both excluded
     * @param degreesOfFreedom at least 1, whole or not, or infinite
     */
    public static double factor(double probability, double degreesOfFreedom) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException(
                    "coverage probability must be between 0 and 1, was "
                            + probability
                            + "; 0.95 is usual");
        }
        if (!(degreesOfFreedom >= 1)) {
            throw new IllegalArgumentException(
                    "degrees of freedom must be at least 1 or infinite, were "
                            + degreesOfFreedom
                            + "; take more readings");
        }
        double upper = (1 + probability) / 2;
        return distribution(degreesOfFreedom).inverseCumulativeProbability(upper);
    }

    /**
     * The probability that a quantity known with these degrees of freedom lies at most so many
     * standard uncertainties above its best value.
     */
    static double probabilityUpTo(double standards, double degreesOfFreedom) {
        return distribution(degreesOfFreedom).cumulativeProbability(standards);
    }

    private static RealDistribution distribution(double degreesOfFreedom) {
        return degreesOfFreedom < NORMAL_FROM ? new TDistribution(degreesOfFreedom) : NORMAL;
    }

    /**
     * Effective degrees of freedom of a sum of independent terms: u^4 / sum (u_i^4 / v_i), the
     * Welch-Satterthwaite formula (JCGM 100:2008, G.2b). Infinite where no uncertain term has
     * finite ones.
     *
     * @param variances u_i^2, each >= 0
     * @param degreesOfFreedom v_i, each at least 1 or infinite
     */
    static double effectiveDegreesOfFreedom(double[] variances, double[] degreesOfFreedom) {
        double whole = 0;
        for (double variance : variances) {
            whole += variance;
        }
        if (whole == 0) {
            return Double.POSITIVE_INFINITY;
        }
        double sum = 0;
        for (int i = 0; i < variances.length; i++) {
            // Shares, not variances, are squared: fourth powers of small uncertainties underflow.
            double share = variances[i] / whole;
            sum += share * share / degreesOfFreedom[i];
        }
        // Never fewer than the fewest of a term; rounding may say a hair less.
        return Math.max(1, 1 / sum);
    }

    /** Degrees of freedom cut to the next lower whole number (JCGM 100:2008, G.4.1 NOTE 1). */
    static double truncated(double degreesOfFreedom) {
        return Math.floor(degreesOfFreedom * (1 + ROUNDING));
    }
}
