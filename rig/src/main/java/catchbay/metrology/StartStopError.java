package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.Mass;

import java.util.List;
import java.util.OptionalDouble;

/**
 * By how much longer liquid runs into the tank than a window lasts, found from one long catch held
 * against many short ones at the same flow: an error at each start and stop counts once in the one,
 * and many times in the others. At a flow q a catch of t collects {@code q (t + error)}.
 *
 * <p>Whatever else adds the same mass to every catch, as drip that is never weighed, is part of
 * what is found; at that flow it belongs there.
 *
 * @param rounds of which it is found
 * @param seconds the mean of the rounds, in s; below zero where liquid runs shorter
 * @param limitSeconds beyond which it is a fault of the bay and no error to be corrected, > 0
 */
public record StartStopError(List<Round> rounds, Budget.Output seconds, double limitSeconds) {

    /** Fewest rounds of which a scatter is learned. */
    public static final int ROUNDS_MIN = 2;

    private static final String ERROR = "start-stop error";

    /**
     * A catch of a round.
     *
     * @param seconds how long its window was, > 0
     * @param net what the scale showed more after it than before, > 0
     * @param metered what a meter gated by the same window counted, in any unit proportional to
     *     volume, > 0; empty where none could be counted between its pulses
     */
    public record Catch(double seconds, Mass net, OptionalDouble metered) {
        public Catch {
            if (!(seconds > 0)
                    || !(net.kilograms() > 0)
                    || metered.isPresent() && !(metered.getAsDouble() > 0)) {
                throw new IllegalArgumentException(
                        "a catch needs a window, a mass and a count above 0, had "
                                + seconds
                                + " s, "
                                + net.kilograms()
                                + " kg and "
                                + metered);
            }
        }

        /** What the scale would have shown at the flow of another catch, kg. */
        private double atFlowOf(Catch other) {
            double flow = metered.getAsDouble() / seconds;
            return net.kilograms() * other.metered.getAsDouble() / other.seconds / flow;
        }
    }

    /**
     * One long catch, and short ones that together last about as long.
     *
     * @param shorts two or more, together so long that they are shorter than the long one each
     */
    public record Round(Catch whole, List<Catch> shorts) {
        public Round {
            shorts = List.copyOf(shorts);
            if (shorts.size() < 2 || shorts.stream().anyMatch(c -> c.seconds >= whole.seconds)) {
                throw new IllegalArgumentException(
                        "a round needs 2 or more short catches, each shorter than its long one of "
                                + whole.seconds
                                + " s, had "
                                + shorts.size());
            }
        }

        /**
         * Whether the flow's own changes are taken out: every catch was metered. No flow is quite
         * constant, and a per cent of it is as much as the error looked for.
         */
        public boolean metered() {
            return whole.metered.isPresent()
                    && shorts.stream().allMatch(c -> c.metered.isPresent());
        }

        private double shortSeconds() {
            return shorts.stream().mapToDouble(Catch::seconds).sum();
        }

        private double shortKilograms() {
            return shorts.stream()
                    .mapToDouble(c -> metered() ? c.atFlowOf(whole) : c.net.kilograms())
                    .sum();
        }

        /** Mean flow of the short catches over that of the long one, as they were caught. */
        public double ratio() {
            return shortKilograms() / shortSeconds() / (whole.net.kilograms() / whole.seconds);
        }

        /**
         * The error, exactly: with R the ratio, n short catches of T in all and one of t it is
         * {@code (R - 1) / (n / T - R / t)}, which is {@code t (R - 1) / (n - R)} where T = t. The
         * idea is that of ISO 4185, annex A (from memory).
         */
        public double seconds() {
            return (ratio() - 1) / (shorts.size() / shortSeconds() - ratio() / whole.seconds);
        }

        /** How many seconds a kilogram more in all short catches together stands for. */
        private double secondsPerKilogram() {
            double flow = whole.net.kilograms() / whole.seconds;
            return 1 / (flow * (shorts.size() - shortSeconds() / whole.seconds));
        }
    }

    public StartStopError {
        rounds = List.copyOf(rounds);
        if (!(limitSeconds > 0)) {
            throw new IllegalArgumentException(
                    "a start-stop error needs a limit above 0 s, had " + limitSeconds);
        }
    }

    /**
     * What the rounds give. Their scatter tells how well; to that come the steps of the scale,
     * which equal catches may meet alike. Both kinds of catches climb the same part of the scale,
     * so that its span and its departure from a straight line cancel.
     *
     * @param rounds at least {@link #ROUNDS_MIN}
     * @param resolution the step of the scale
     */
    public static StartStopError of(List<Round> rounds, Mass resolution, double limitSeconds) {
        if (rounds.size() < ROUNDS_MIN) {
            throw new IllegalArgumentException(
                    "a start-stop error needs "
                            + ROUNDS_MIN
                            + " rounds or more, so that they can scatter, had "
                            + rounds.size());
        }
        double[] found = rounds.stream().mapToDouble(Round::seconds).toArray();
        double perKilogram =
                rounds.stream().mapToDouble(Round::secondsPerKilogram).average().orElseThrow();
        double root = Math.sqrt(found.length);
        double half = resolution.kilograms() / 2 * perKilogram / root;
        ModelSketch sketch = new ModelSketch();
        Quantity mean =
                sketch.normal(
                        "scatter of the rounds",
                        Sample.mean(found),
                        Sample.deviation(found) / root,
                        found.length - 1,
                        Scope.RUN);
        Quantity whole = sketch.twoEven("scale, steps of the long catches", 0, half, Scope.RUN);
        Quantity parts = sketch.twoEven("scale, steps of the short catches", 0, half, Scope.RUN);
        sketch.output(ERROR, x -> mean.at(x) + whole.at(x) + parts.at(x));
        return new StartStopError(rounds, sketch.sketched().budget().output(ERROR), limitSeconds);
    }

    /** Whether it may be corrected for; as {@link WeightCheck.Answer#of}. */
    public WeightCheck.Answer answer() {
        return WeightCheck.Answer.of(seconds, limitSeconds);
    }

    /**
     * Half-width of the even spread that is as uncertain as this: a catch takes its doubt of the
     * timing so. Where few rounds make the interval wide, the spread is widened alike.
     */
    public static double halfWidthSeconds(double expandedSeconds) {
        return Input.ROOT_3 * expandedSeconds / Certificate.COVERAGE;
    }
}
