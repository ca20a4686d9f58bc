package catchbay.metrology;

/**
 * A straight line through points by least squares, with what its parameters and its predictions are
 * worth (JCGM 100:2008, H.3): every point has the same weight, the ordinates scatter alike, and the
 * abscissas are known without error. Kept about the mean abscissa, where level and slope are
 * uncorrelated. Immutable.
 */
public final class Regression {

    /** Two points always lie on a line and say nothing of the scatter. */
    public static final int POINTS_MIN = 3;

    private final double meanAbscissa;
    private final double level;
    private final double slope;
    private final double squaresOfAbscissas;
    private final double squaresOfResiduals;
    private final int count;

    private Regression(
            double meanAbscissa,
            double level,
            double slope,
            double squaresOfAbscissas,
            double squaresOfResiduals,
            int count) {
        this.meanAbscissa = meanAbscissa;
        this.level = level;
        this.slope = slope;
        this.squaresOfAbscissas = squaresOfAbscissas;
        this.squaresOfResiduals = squaresOfResiduals;
        this.count = count;
    }

    /**
     * The line through these points.
     *
     * @param abscissas x, in a unit of their own; at least {@link #POINTS_MIN}, finite, not all
     *     equal
     * @param ordinates y, one for each x, finite
     */
    public static Regression of(double[] abscissas, double[] ordinates) {
        if (abscissas.length != ordinates.length || abscissas.length < POINTS_MIN) {
            throw new IllegalArgumentException(
                    "a line needs at least "
                            + POINTS_MIN
                            + " points with one ordinate each, got "
                            + abscissas.length
                            + " abscissas and "
                            + ordinates.length
                            + " ordinates");
        }
        double meanX = Sample.mean(abscissas);
        double meanY = Sample.mean(ordinates);
        double xx = 0;
        double xy = 0;
        for (int i = 0; i < abscissas.length; i++) {
            double x = abscissas[i] - meanX;
            xx += x * x;
            xy += x * (ordinates[i] - meanY);
        }
        if (xx == 0) {
            throw new IllegalArgumentException(
                    "a line needs points at different abscissas, all "
                            + abscissas.length
                            + " are at "
                            + meanX);
        }
        double slope = xy / xx;
        double residuals = 0;
        for (int i = 0; i < abscissas.length; i++) {
            double residual = ordinates[i] - meanY - slope * (abscissas[i] - meanX);
            residuals += residual * residual;
        }
        return new Regression(meanX, meanY, slope, xx, residuals, abscissas.length);
    }

    /** The mean of the abscissas, where the line is known best. */
    public double meanAbscissa() {
        return meanAbscissa;
    }

    /** What the ordinate changes by per unit of the abscissa. */
    public double slope() {
        return slope;
    }

    /** Standard uncertainty of the slope: s / sqrt(sum (x - mean)^2). */
    public double slopeStandard() {
        return residualDeviation() / Math.sqrt(squaresOfAbscissas);
    }

    /** The line's ordinate at an abscissa. */
    public double at(double abscissa) {
        return level + slope * (abscissa - meanAbscissa);
    }

    /**
     * Standard uncertainty of the line's ordinate there: s sqrt(1/n + (x - mean)^2 / sum (x -
     * mean)^2). At 0 that of the intercept.
     */
    public double standardAt(double abscissa) {
        return residualDeviation() * Math.sqrt(leverage(abscissa));
    }

    /**
     * Standard uncertainty of one new reading there, as foretold from the line: its own scatter
     * added, s sqrt(1 + 1/n + (x - mean)^2 / sum (x - mean)^2).
     */
    public double predictionStandardAt(double abscissa) {
        return residualDeviation() * Math.sqrt(1 + leverage(abscissa));
    }

    /** Covariance of the line's ordinate there with the slope; none at the mean abscissa. */
    public double covarianceWithSlopeAt(double abscissa) {
        return (abscissa - meanAbscissa) * slopeStandard() * slopeStandard();
    }

    /** Standard deviation of the points about the line, with n - 2 degrees of freedom. */
    public double residualDeviation() {
        return Math.sqrt(squaresOfResiduals / degreesOfFreedom());
    }

    /** Degrees of freedom of every standard uncertainty here: n - 2. */
    public int degreesOfFreedom() {
        return count - 2;
    }

    private double leverage(double abscissa) {
        double apart = abscissa - meanAbscissa;
        return 1.0 / count + apart * apart / squaresOfAbscissas;
    }
}
