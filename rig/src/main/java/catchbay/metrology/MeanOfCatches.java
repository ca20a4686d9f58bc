package catchbay.metrology;

import catchbay.quantity.Ratio;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The mean of a series of equal catches.
 *
 * @param runs how many they are
 * @param budget what they gave on average: the amounts and errors of {@link Comparison#OF_REPEATS}
 * @param scatter how a single one of them scatters, relative to reported over measured; empty where
 *     nothing is known of it
 * @param own whether the series' own catches had a say in that
 */
public record MeanOfCatches(int runs, Budget budget, Optional<Scatter> scatter, boolean own) {

    /** Far below what any instrument shows, far above what arithmetic leaves. */
    private static final double FINEST = 1e-9;

    /**
     * One catch of the series.
     *
     * @param day the day it was made on
     * @param comparison what it gave
     */
    public record Catch(LocalDate day, Comparison comparison) {

        /**
         * Reported over measured: what repeats of a catch have in common, whatever they caught. To
         * a billionth, so that what is left of subtracting two large totals does not pass for
         * scatter.
         */
        double over() {
            return Math.rint((1 + comparison.meterError().value()) / FINEST) * FINEST;
        }
    }

    /**
     * The mean of all completed valid catches, with the scatter of the planned ones (see {@link
     * Scatter}, which says why not that of all of them).
     *
     * @param catches in the order they were made, at least one
     * @param planned how many were planned before the first
     * @param otherwise the scatter that counts where fewer were made, or all are identical
     * @param pooled whether that comes from earlier catches, so that it is pooled with theirs
     */
    public static MeanOfCatches of(
            List<Catch> catches, int planned, Optional<Scatter> otherwise, boolean pooled) {
        Optional<Scatter> own = ofPlanned(overs(catches), planned);
        Optional<Scatter> scatter =
                own.isPresent() && otherwise.isPresent() && pooled
                        ? Optional.of(own.get().pooledWith(otherwise.get()))
                        : own.or(() -> otherwise);
        List<Budget.Repeat> repeats = new ArrayList<>();
        for (Catch each : catches) {
            repeats.add(new Budget.Repeat(each.day, each.comparison.asRepeat(scatter)));
        }
        return new MeanOfCatches(catches.size(), Budget.ofMean(repeats), scatter, own.isPresent());
    }

    /**
     * By how much the meter error of this mean and of another one may differ by chance: expanded,
     * 95 %, by what single catches of both scatter, since all else is in both of them. Empty where
     * no scatter is known. With the smaller of both degrees of freedom, so rather too wide.
     */
    public Optional<Ratio> differsBy(MeanOfCatches other) {
        return scatter.flatMap(one ->
                other.scatter.map(two -> {
                    double u =
                            Math.sqrt(
                                    one.standard() * one.standard() / runs
                                            + two.standard() * two.standard() / other.runs);
                    double freedom = Math.min(one.degreesOfFreedom(), two.degreesOfFreedom());
                    return new Ratio(Coverage.factor(0.95, freedom) * u);
                }));
    }

    /** Reported over measured of each catch: what is looked at for agreement and outliers. */
    public static double[] overs(List<Catch> catches) {
        return catches.stream().mapToDouble(Catch::over).toArray();
    }

    private static Optional<Scatter> ofPlanned(double[] overs, int planned) {
        if (overs.length < planned) {
            return Optional.empty();
        }
        double mean = Sample.mean(Arrays.copyOf(overs, planned));
        double[] relative = Arrays.stream(overs).map(over -> over / mean).toArray();
        return Sample.deviation(Arrays.copyOf(relative, planned)) == 0
                ? Optional.empty()
                : Optional.of(Scatter.ofPlanned(relative, planned));
    }
}
