package catchbay.metrology;

import catchbay.quantity.Ratio;

import java.util.Optional;

/**
 * How far a relative error may be from zero. No law sets one for the liquid system of a winter
 * truck, so each comes with where it is from.
 *
 * @param lower the least error allowed, empty where only too much is an error
 * @param upper the most allowed, empty where only too little is; above the lower one, and one of
 *     them is there
 * @param source who set it, as it is to be printed; not blank
 */
public record Tolerance(Optional<Ratio> lower, Optional<Ratio> upper, String source) {

    /** What is used until a shop sets its own: +-2 %, common practice, no source. */
    public static final Tolerance COMMON_PRACTICE =
            within(Ratio.ofPercent(2), "common practice, no source");

    public Tolerance {
        if (lower.isEmpty() && upper.isEmpty()) {
            throw new IllegalArgumentException("a tolerance needs at least one limit, has none");
        }
        if (lower.isPresent() && upper.isPresent() && lower.get().value() >= upper.get().value()) {
            throw new IllegalArgumentException(
                    "a tolerance must reach from a lower to a higher limit, was "
                            + lower.get().percent()
                            + " % to "
                            + upper.get().percent()
                            + " %");
        }
        if (source.isBlank()) {
            throw new IllegalArgumentException(
                    "a tolerance needs its source; say 'common practice, no source' if it has"
                            + " none");
        }
    }

    /** So far to either side of zero. */
    public static Tolerance within(Ratio limit, String source) {
        if (limit.value() <= 0) {
            throw new IllegalArgumentException(
                    "a tolerance about zero must be above 0 %, was " + limit.percent() + " %");
        }
        return new Tolerance(Optional.of(new Ratio(-limit.value())), Optional.of(limit), source);
    }

    /** No more than the limit; any amount less. */
    public static Tolerance atMost(Ratio limit, String source) {
        return new Tolerance(Optional.empty(), Optional.of(limit), source);
    }

    /** No less than the limit; any amount more. */
    public static Tolerance atLeast(Ratio limit, String source) {
        return new Tolerance(Optional.of(limit), Optional.empty(), source);
    }

    /** How far an error is beyond the nearer limit; negative inside, by how far it is inside. */
    double beyond(double error) {
        double over = error - upper.map(Ratio::value).orElse(Double.POSITIVE_INFINITY);
        double under = lower.map(Ratio::value).orElse(Double.NEGATIVE_INFINITY) - error;
        return Math.max(over, under);
    }

    /** From the lower limit to the upper; infinite where one is missing. */
    double width() {
        return upper.map(Ratio::value).orElse(Double.POSITIVE_INFINITY)
                - lower.map(Ratio::value).orElse(Double.NEGATIVE_INFINITY);
    }
}
