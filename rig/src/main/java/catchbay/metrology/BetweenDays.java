package catchbay.metrology;

import org.hipparchus.distribution.continuous.FDistribution;

import java.util.List;

/**
 * Whether the bay scatters more from day to day than within one, by a one-way analysis of variance
 * (JCGM 100:2008, H.5): what goes into a budget once a day, and what with every run.
 *
 * @param mean the mean of all readings, in their unit
 * @param meanStandard standard uncertainty of that mean, with {@code days - 1} degrees of freedom:
 *     the day's part over the days, the run's part over the runs
 * @param withinDeviation standard deviation of a reading within its day, above zero
 * @param withinDegreesOfFreedom readings less days, at least 1
 * @param betweenDeviation standard deviation of the days' true values, the day's part alone; 0
 *     where the days differ no more than their runs explain, which does not show that there is none
 * @param betweenDegreesOfFreedom effective, by Satterthwaite; at least 1
 * @param ratio F: the days' mean square over the runs' mean square
 * @param ratioCritical what F exceeds once in twenty when all days are alike
 */
public record BetweenDays(
        double mean,
        double meanStandard,
        double withinDeviation,
        int withinDegreesOfFreedom,
        double betweenDeviation,
        double betweenDegreesOfFreedom,
        double ratio,
        double ratioCritical) {

    /** Whether the days differ by more than their runs explain, at the 5 % level. */
    public boolean significant() {
        return ratio > ratioCritical;
    }

    /**
     * The analysis of readings of one quantity.
     *
     * @param days the readings of each day, finite; at least two days, each with a reading, and one
     *     with two
     */
    public static BetweenDays of(List<double[]> days) {
        int count = 0;
        double sum = 0;
        double within = 0;
        double sizes = 0;
        for (double[] day : days) {
            count += day.length;
            sum += Sample.mean(day) * day.length;
            within += Sample.squares(day);
            sizes += (double) day.length * day.length;
        }
        int betweenFreedom = days.size() - 1;
        int withinFreedom = count - days.size();
        if (betweenFreedom < 1 || withinFreedom < 1) {
            throw new IllegalArgumentException(
                    "to tell days from runs takes at least two days, one of them with two runs; got"
                            + " "
                            + days.size()
                            + " days with "
                            + count
                            + " runs");
        }
        if (within == 0) {
            throw new IllegalArgumentException(
                    "all runs of each day are identical, so that nothing can be said of their"
                            + " scatter; record them with more digits");
        }
        double mean = sum / count;
        double between = 0;
        for (double[] day : days) {
            double apart = Sample.mean(day) - mean;
            between += day.length * apart * apart;
        }
        double meanSquareBetween = between / betweenFreedom;
        double meanSquareWithin = within / withinFreedom;
        // The size a balanced design would have; equal to the size of the days where all are equal.
        double size = (count - sizes / count) / betweenFreedom;
        double excess = Math.max(0, meanSquareBetween - meanSquareWithin);
        double ofDays = excess / size;
        double freedom =
                excess
                        * excess
                        / (meanSquareBetween * meanSquareBetween / betweenFreedom
                                + meanSquareWithin * meanSquareWithin / withinFreedom);
        return new BetweenDays(
                mean,
                Math.sqrt(ofDays * sizes / count / count + meanSquareWithin / count),
                Math.sqrt(meanSquareWithin),
                withinFreedom,
                Math.sqrt(ofDays),
                Math.max(1, freedom),
                meanSquareBetween / meanSquareWithin,
                critical(Coverage.PROBABILITY, betweenFreedom, withinFreedom));
    }

    /** The value that F of these degrees of freedom stays below with that probability. */
    static double critical(double probability, double above, double below) {
        return new FDistribution(above, below).inverseCumulativeProbability(probability);
    }
}
