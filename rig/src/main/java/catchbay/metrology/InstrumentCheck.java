package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;

import java.time.LocalDate;
import java.util.List;

/**
 * A reference meter held against the scale by several catches at one flow, or one meter against
 * another by way of the scale.
 *
 * @param difference as a ratio: the meter less what it is held against
 * @param limit what that may be to either side, as a ratio, > 0
 */
public record InstrumentCheck(Budget.Output difference, double limit) {

    /** Fewest catches of which a scatter is learned. */
    public static final int CATCHES_MIN = 3;

    private static final String DIFFERENCE = "difference";

    public InstrumentCheck {
        if (!(limit > 0)) {
            throw new IllegalArgumentException(
                    "instruments need a limit above 0, had the ratio " + limit);
        }
    }

    /**
     * The mean of several catches: as uncertain as both instruments are, of which what is drawn
     * anew in each catch is averaged, and as the catches scatter.
     *
     * @param day on which all were made
     * @param catches each with both instruments, at least {@link #CATCHES_MIN}
     */
    public static InstrumentCheck of(LocalDate day, List<Comparison> catches, double limit) {
        if (catches.size() < CATCHES_MIN) {
            throw new IllegalArgumentException(
                    "instruments need "
                            + CATCHES_MIN
                            + " catches or more, so that they can scatter, had "
                            + catches.size());
        }
        List<Budget.Repeat> repeats =
                catches.stream()
                        .map(one ->
                                new Budget.Repeat(
                                        day,
                                        one.budget().only(List.of(Comparison.BETWEEN_INSTRUMENTS))))
                        .toList();
        Budget.Output mean = Budget.ofMean(repeats).output(Comparison.BETWEEN_INSTRUMENTS);
        double[] apart =
                catches.stream()
                        .mapToDouble(
                                one -> one.budget().output(Comparison.BETWEEN_INSTRUMENTS).value())
                        .toArray();
        ModelSketch sketch = new ModelSketch();
        Quantity instruments =
                sketch.normal(
                        "both instruments",
                        mean.value(),
                        mean.standard(),
                        mean.degreesOfFreedom(),
                        Scope.BAY);
        Quantity scatter =
                sketch.normal(
                        "scatter of the catches",
                        0,
                        Sample.deviation(apart) / Math.sqrt(apart.length),
                        apart.length - 1,
                        Scope.RUN);
        sketch.output(DIFFERENCE, x -> instruments.at(x) + scatter.at(x));
        return new InstrumentCheck(sketch.sketched().budget().output(DIFFERENCE), limit);
    }

    /**
     * This meter against another, each held against the same scale. What the scale adds to both
     * cancels in truth and is left in: the interval is wider than it need be, never narrower.
     */
    public InstrumentCheck against(InstrumentCheck other) {
        ModelSketch sketch = new ModelSketch();
        Quantity one = part(sketch, "one meter against the scale", difference);
        Quantity two = part(sketch, "the other against the scale", other.difference);
        sketch.output(DIFFERENCE, x -> (1 + one.at(x)) / (1 + two.at(x)) - 1);
        return new InstrumentCheck(
                sketch.sketched().budget().output(DIFFERENCE), Math.min(limit, other.limit));
    }

    private static Quantity part(ModelSketch sketch, String name, Budget.Output of) {
        return sketch.normal(name, of.value(), of.standard(), of.degreesOfFreedom(), Scope.BAY);
    }

    /** Whether they agree; as {@link WeightCheck.Answer#of}. */
    public WeightCheck.Answer answer() {
        return WeightCheck.Answer.of(difference, limit);
    }
}
