package catchbay.metrology;

import catchbay.metrology.FlowMix.Duty;
import catchbay.metrology.FlowMix.Fit;
import catchbay.metrology.TruckCurve.Reading;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The best single constant for a mix of work. It aims at no error and knows no tolerance. */
public sealed interface ConstantFit {

    /**
     * A constant for the mix.
     *
     * @param fit what it is best by
     * @param unrounded the best number before it was rounded to what can be entered
     * @param best the truck's constant with the best number that can be entered
     * @param mean what the curve says of the whole mix, weighted
     * @param table the two-point table that leaves least, where its numbers can be entered
     * @param leftovers each kind of work with the errors that are left, in the mix's order
     */
    record Fitted(
            Fit fit,
            double unrounded,
            TruckConstant best,
            Reading mean,
            Optional<Table> table,
            List<Leftover> leftovers)
            implements ConstantFit {}

    /** There is none, for the reason given as a sentence. */
    record NoneFits(String reason) implements ConstantFit {}

    /**
     * A table of two flows with a number each: a straight line between them, the nearer number
     * outside.
     */
    record Table(FlowRate lowFlow, double lowNumber, FlowRate highFlow, double highNumber) {
        /** The number that a controller with this table works with. */
        public double numberAt(FlowRate flow) {
            double low = lowFlow.litresPerSecond();
            double share = (flow.litresPerSecond() - low) / (highFlow.litresPerSecond() - low);
            double inside = Math.min(1, Math.max(0, share));
            return lowNumber + inside * (highNumber - lowNumber);
        }
    }

    /**
     * The errors of the truck's meter at one kind of work.
     *
     * @param duty the work
     * @param errors empty where its flow lies outside the tested ones: nothing is said of it
     */
    record Leftover(Duty duty, Optional<Errors> errors) {}

    /**
     * Meter errors at one flow.
     *
     * @param reading the right number there
     * @param now with the constant as it is
     * @param best with the best constant
     * @param table with the two-point table, where there is one
     */
    record Errors(Reading reading, Ratio now, Ratio best, Optional<Ratio> table) {}

    /** The fit of a curve to a mix. Work outside the tested flows has no say. */
    static ConstantFit of(TruckCurve curve, FlowMix mix) {
        List<Duty> all = mix.over(curve);
        List<Duty> tested = tested(curve, all);
        if (tested.isEmpty()) {
            return new NoneFits(
                    "No work of the mix lies within the tested flows of "
                            + TruckCurve.gallonsPerMinute(curve.stations().getFirst().flow())
                            + " to "
                            + TruckCurve.gallonsPerMinute(curve.stations().getLast().flow())
                            + "; catch at the flows of the mix.");
        }
        FitScore score = new FitScore(curve, mix.fit(), tested);
        double unrounded = score.best();
        TruckConstant now = curve.constant();
        Optional<Double> entered = score.enterable(unrounded);
        if (entered.isEmpty()) {
            return new NoneFits(
                    "The best constant, "
                            + now.written(now.rounded(unrounded))
                            + ", cannot be entered (limits "
                            + now.written(now.least())
                            + " to "
                            + now.written(now.most())
                            + "); check the meter, its liquid and its unit.");
        }
        TruckConstant best = now.with(entered.get());
        Optional<Table> table = score.table();
        List<Leftover> leftovers = new ArrayList<>();
        for (Duty duty : all) {
            leftovers.add(
                    new Leftover(
                            duty,
                            curve.at(duty.flow())
                                    .map(reading -> errors(curve, duty, reading, best, table))));
        }
        return new Fitted(mix.fit(), unrounded, best, score.mean(), table, leftovers);
    }

    /** What a curve says of a whole mix; of its own flows alike where no work lies within them. */
    static Reading mean(TruckCurve curve, FlowMix mix) {
        List<Duty> tested = tested(curve, mix.over(curve));
        List<Duty> judged = tested.isEmpty() ? FlowMix.EVEN.over(curve) : tested;
        return new FitScore(curve, mix.fit(), judged).mean();
    }

    private static List<Duty> tested(TruckCurve curve, List<Duty> all) {
        return all.stream().filter(duty -> curve.at(duty.flow()).isPresent()).toList();
    }

    private static Errors errors(
            TruckCurve curve,
            Duty duty,
            Reading reading,
            TruckConstant best,
            Optional<Table> table) {
        TruckConstant now = curve.constant();
        return new Errors(
                reading,
                now.errorWith(now.value(), reading.number()),
                now.errorWith(best.value(), reading.number()),
                table.map(t -> now.errorWith(t.numberAt(duty.flow()), reading.number())));
    }
}
