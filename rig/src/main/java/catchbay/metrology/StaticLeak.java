package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.Mass;

import java.util.List;

/**
 * What comes into a tank or goes out of it with everything shut: its weight at the end of a long
 * watch against that at its beginning.
 *
 * @param begun what the scale showed at the beginning
 * @param ended what it showed at the end
 * @param kilogramsPerHour above zero where the tank grows heavier
 * @param limit what that may be to either side, in kg/h, > 0
 */
public record StaticLeak(Mass begun, Mass ended, Budget.Output kilogramsPerHour, double limit) {

    private static final String RATE = "rate of the leak";

    /** At either end so much of the watch is averaged. Common practice, no source. */
    private static final double END_SHARE = 0.1;

    private static final int READINGS_MIN = 3;
    private static final double HOUR_SECONDS = 3600;

    /**
     * A reading of the scale.
     *
     * @param seconds when it was taken, from any beginning
     */
    public record Reading(double seconds, Mass mass) {}

    public StaticLeak {
        if (!(limit > 0)) {
            throw new IllegalArgumentException("a leak's limit must be above 0 kg/h, was " + limit);
        }
    }

    /**
     * What a watch gives: the mean of its last tenth less that of its first, over the time between.
     * Beside the readings' own scatter either mean may be half a step off, since a quiet scale
     * shows one step all the time.
     *
     * @param readings in order of time
     * @param resolution the step of the scale
     * @throws IllegalArgumentException where an end has too few readings to scatter
     */
    public static StaticLeak of(List<Reading> readings, Mass resolution, double limit) {
        double begun = readings.isEmpty() ? 0 : readings.getFirst().seconds;
        double over = readings.isEmpty() ? 0 : readings.getLast().seconds - begun;
        List<Reading> first =
                readings.stream().filter(r -> r.seconds <= begun + END_SHARE * over).toList();
        List<Reading> last =
                readings.stream().filter(r -> r.seconds >= begun + (1 - END_SHARE) * over).toList();
        if (first.size() < READINGS_MIN || last.size() < READINGS_MIN || over <= 0) {
            throw new IllegalArgumentException(
                    "a leak is told from "
                            + READINGS_MIN
                            + " readings or more at either end of its watch, there were "
                            + first.size()
                            + " and "
                            + last.size());
        }
        double hours = (seconds(last) - seconds(first)) / HOUR_SECONDS;
        ModelSketch sketch = new ModelSketch();
        Quantity before = mean(sketch, "scale, scatter at the beginning", first);
        Quantity after = mean(sketch, "scale, scatter at the end", last);
        Quantity steps =
                sketch.twoEven(
                        "scale, steps of both ends", 0, resolution.kilograms() / 2, Scope.RUN);
        sketch.output(RATE, x -> (after.at(x) - before.at(x) + steps.at(x)) / hours);
        return new StaticLeak(
                mean(first), mean(last), sketch.sketched().budget().output(RATE), limit);
    }

    private static double seconds(List<Reading> readings) {
        return readings.stream().mapToDouble(Reading::seconds).average().orElseThrow();
    }

    private static Mass mean(List<Reading> readings) {
        return new Mass(
                readings.stream().mapToDouble(r -> r.mass.kilograms()).average().orElseThrow());
    }

    private static Quantity mean(ModelSketch sketch, String name, List<Reading> readings) {
        double[] shown = readings.stream().mapToDouble(r -> r.mass.kilograms()).toArray();
        return sketch.normal(
                name,
                Sample.mean(shown),
                Sample.deviation(shown) / Math.sqrt(shown.length),
                shown.length - 1,
                Scope.RUN);
    }

    /** Whether the tank holds what is in it; as {@link WeightCheck.Answer#of}. */
    public WeightCheck.Answer answer() {
        return WeightCheck.Answer.of(kilogramsPerHour, limit);
    }
}
