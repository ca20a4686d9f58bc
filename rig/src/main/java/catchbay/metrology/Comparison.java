package catchbay.metrology;

import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.Ratio;

import java.util.List;
import java.util.Optional;

/**
 * Three amounts over one window and the three errors between them, with the uncertainty of each and
 * all that they share. {@code (1 + application) (1 + meter) = 1 + control}.
 *
 * @param model how all of it follows from what was read and from what is known of the instruments
 * @param budget the model's budget; volumes in litres, errors as ratios, the constant in its own
 *     unit
 */
public record Comparison(ModelSketch.Sketched model, Budget budget) {

    /** Rate times distance. */
    public static final String ASKED = "asked";

    /** What the truck's controller says it delivered. */
    public static final String REPORTED = "reported";

    /** What the bay measured. */
    public static final String MEASURED = "measured";

    /** The volume by the reference meter, where fitted. */
    public static final String BY_REFERENCE = "by reference";

    /** The volume by the scale, where fitted. */
    public static final String BY_SCALE = "by scale";

    /** (by reference - by scale) / by scale, where both are fitted. */
    public static final String BETWEEN_INSTRUMENTS = "reference against scale";

    /** (reported - measured) / measured: wrong constant or meter. */
    public static final String METER_ERROR = "meter error";

    /** (reported - asked) / asked: the controller cannot hold its own target. */
    public static final String CONTROL_ERROR = "control error";

    /** (measured - asked) / asked: what the road sees. */
    public static final String APPLICATION_ERROR = "application error";

    /** What every repeat of a catch gives, whichever instruments could measure. */
    public static final List<String> OF_REPEATS =
            List.of(ASKED, REPORTED, MEASURED, METER_ERROR, CONTROL_ERROR, APPLICATION_ERROR);

    /** The input that says how repeats of a catch scatter; exact where they are taken not to. */
    public static final String RUN_SCATTER = "scatter from run to run";

    /** The constant that would cure the meter error, as it would be entered. */
    public static final String CONSTANT = "new constant";

    /**
     * Sets three amounts of a sketch against each other.
     *
     * @param sketch where the amounts come from; its results so far stay beside those of here
     * @param asked in litres; its best value above zero
     * @param reported in litres
     * @param measured in litres; its best value above zero
     * @param scatter what a repeat of the catch would show of the meter error, as a ratio about 0
     * @param constant the truck's constant
     */
    public static Comparison of(
            ModelSketch sketch,
            Quantity asked,
            Quantity reported,
            Quantity measured,
            Quantity scatter,
            TruckConstant constant) {
        double best = sketch.best(measured);
        if (sketch.best(asked) == 0 || best == 0) {
            throw new IllegalArgumentException(
                    "a comparison needs asked and measured volumes above 0 L, were "
                            + sketch.best(asked)
                            + " and "
                            + best
                            + " L");
        }
        sketch.output(ASKED, asked);
        sketch.output(REPORTED, reported);
        sketch.output(MEASURED, measured);
        Quantity over = x -> reported.at(x) / measured.at(x) * (1 + scatter.at(x));
        sketch.output(METER_ERROR, x -> over.at(x) - 1);
        sketch.output(CONTROL_ERROR, x -> reported.at(x) / asked.at(x) - 1);
        sketch.output(APPLICATION_ERROR, x -> measured.at(x) / asked.at(x) - 1);
        if (sketch.best(reported) > 0) {
            Quantity rounding =
                    sketch.even(
                            "rounding of the entered constant",
                            0,
                            constant.step() / 2,
                            Input.Scope.BAY);
            sketch.output(CONSTANT, x -> constant.curing(over.at(x)) + rounding.at(x));
        }
        ModelSketch.Sketched model = sketch.sketched();
        return new Comparison(model, model.budget());
    }

    /**
     * The budget of this catch as one of several, with what their scatter has turned out to be.
     *
     * @param scatter of the meter error from run to run, relative to reported over measured; empty
     *     to keep the catch's own
     */
    Budget asRepeat(Optional<Scatter> scatter) {
        if (scatter.isEmpty()) {
            return budget.only(OF_REPEATS);
        }
        Input found = scatter.get().input(RUN_SCATTER);
        List<Input> inputs =
                model.inputs().stream()
                        .map(input -> input.name().equals(RUN_SCATTER) ? found : input)
                        .toList();
        return Budget.of(inputs, model.outputs(), model.model()).only(OF_REPEATS);
    }

    /** By the budget alone: the model is a function, and the same one wherever its inputs are. */
    @Override
    public boolean equals(Object other) {
        return other instanceof Comparison comparison && budget.equals(comparison.budget);
    }

    @Override
    public int hashCode() {
        return budget.hashCode();
    }

    /** What was asked. */
    public Estimate asked() {
        return Estimate.of(budget.output(ASKED));
    }

    /** What the truck's controller says it delivered. */
    public Estimate reported() {
        return Estimate.of(budget.output(REPORTED));
    }

    /** What the bay measured. */
    public Estimate measured() {
        return Estimate.of(budget.output(MEASURED));
    }

    /** The volume by one instrument, {@link #BY_REFERENCE} or {@link #BY_SCALE}, where fitted. */
    public Optional<Estimate> by(String instrument) {
        return budget.outputs().stream()
                .filter(output -> output.name().equals(instrument))
                .findFirst()
                .map(Estimate::of);
    }

    /** (reported - measured) / measured. */
    public Ratio meterError() {
        return new Ratio(budget.output(METER_ERROR).value());
    }

    /** (reported - asked) / asked. */
    public Ratio controlError() {
        return new Ratio(budget.output(CONTROL_ERROR).value());
    }

    /** (measured - asked) / asked. */
    public Ratio applicationError() {
        return new Ratio(budget.output(APPLICATION_ERROR).value());
    }

    /** Expanded uncertainty, 95 %, of one of the three errors, as a ratio. */
    public Ratio expanded(String error) {
        return new Ratio(budget.output(error).expanded());
    }
}
