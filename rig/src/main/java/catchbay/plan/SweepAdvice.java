package catchbay.plan;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.ConstantFit;
import catchbay.metrology.CurvePoint;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.TruckCurve;
import catchbay.metrology.Verdict;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What to do with the truck's constant after its points as found. */
public sealed interface SweepAdvice {

    /** The constant stays as it is, for the reason given as a sentence. */
    record Keep(String reason) implements SweepAdvice {}

    /**
     * A new number: to be entered, or, where points were left, only what the others come to.
     *
     * @param constant the truck's constant with the new number
     * @param note what to keep in mind, as sentences
     */
    record Enter(TruckConstant constant, String note) implements SweepAdvice {}

    /**
     * Of three flows or more by the truck's curve, for the shop's mix of work; of fewer by the mean
     * of what is right at each. Catches whose flow was disturbed have no say.
     */
    static SweepAdvice after(Sweep sweep) {
        RunSetup setup = sweep.forecast().setup();
        if (sweep.entered().isPresent()) {
            // The shop may do other work by now: what was advised is what was entered.
            return new Enter(sweep.entered().get(), note(setup.truck().control()));
        }
        List<CurvePoint> points = new ArrayList<>();
        for (Leg leg : sweep.legs()) {
            if (!leg.verifying()) {
                points.addAll(points(sweep, leg));
            }
        }
        if (points.isEmpty()) {
            return new Keep(
                    "No new constant: no point has a catch that could carry one (steady flow, and"
                            + " something reported).");
        }
        TruckConstant now = setup.truck().constant();
        return switch (TruckCurve.through(now, points)) {
            case TruckCurve.Drawing.Drawn(TruckCurve curve) -> byCurve(sweep, curve);
            case TruckCurve.Drawing.TooFew(String _) -> byMean(sweep, now);
        };
    }

    private static List<CurvePoint> points(Sweep sweep, Leg leg) {
        List<CurvePoint> points = new ArrayList<>();
        for (Series.Run run : sweep.progress(leg).series().counted()) {
            CatchResult result = run.result().orElseThrow();
            if (result.disturbance().isEmpty()
                    && result.comparison().reported().volume().litres() > 0) {
                points.add(CaughtPoint.of(run.name(), sweep.forecast().setup(), result));
            }
        }
        return points;
    }

    private static SweepAdvice byCurve(Sweep sweep, TruckCurve curve) {
        TruckConstant now = curve.constant();
        return switch (ConstantFit.of(curve, sweep.mix())) {
            case ConstantFit.NoneFits(String reason) -> new Keep("No new constant: " + reason);
            case ConstantFit.Fitted fitted -> {
                double error = now.errorWith(now.value(), fitted.mean().number()).value();
                Ratio within = fitted.mean().expanded();
                String what =
                        sweep.mix().duties().isEmpty()
                                ? "the mean meter error of the points, each flow counting the same,"
                                : "the meter error weighted by the shop's mix of work (curve.mix)";
                yield decided(sweep, fitted.best(), what, error, within);
            }
        };
    }

    /** Of one or two flows: each says what is right, and their mean is entered. */
    private static SweepAdvice byMean(Sweep sweep, TruckConstant now) {
        double sum = 0;
        int legs = 0;
        double error = 0;
        double within = 0;
        for (Leg leg : sweep.legs()) {
            LegProgress progress = sweep.progress(leg);
            Optional<MeanOfCatches> mean =
                    leg.verifying() || points(sweep, leg).isEmpty()
                            ? Optional.empty()
                            : progress.series().mean(sweep.forecast().setup().doubts().scatter());
            if (mean.isPresent()) {
                Budget.Output of = mean.get().budget().output(Comparison.METER_ERROR);
                sum += now.curing(new Volume(1 + of.value()), new Volume(1));
                error += of.value();
                within = Math.max(within, of.expanded());
                legs++;
            }
        }
        double number = now.rounded(sum / legs);
        if (!now.accepts(number)) {
            return new Keep(
                    "No new constant: "
                            + now.written(number)
                            + " would be needed, outside what can be entered ("
                            + now.limits()
                            + "); check the meter, its liquid and its unit.");
        }
        String what = legs == 1 ? "the meter error" : "the mean meter error of the points";
        return decided(sweep, now.with(number), what, error / legs, new Ratio(within));
    }

    /**
     * @param what of which the error is the meter error, as the sentence's beginning
     */
    private static SweepAdvice decided(
            Sweep sweep, TruckConstant best, String what, double error, Ratio within) {
        TruckConstant now = sweep.forecast().setup().truck().constant();
        if (Math.abs(error) <= within.value()) {
            return new Keep(
                    String.format(
                            Locale.ROOT,
                            "No new constant: %s is %s %%, within its uncertainty of %.2f %%.%s",
                            what,
                            Numeral.signed(error * 100, 2),
                            within.percent(),
                            uneven(sweep)));
        }
        if (best.value() == now.value()) {
            return new Keep(
                    "No new constant: the change is smaller than the controller's entry step of "
                            + now.written(now.step())
                            + "."
                            + uneven(sweep));
        }
        return new Enter(
                best,
                sweep.pointsLeft() > 0
                        ? "Points were left: this is what the others come to, and not to be"
                                + " entered."
                        : note(sweep.forecast().setup().truck().control()));
    }

    /**
     * What to say where points fail all the same by a meter that errs there: the errors cancel in
     * the mean, and one number moves them all alike.
     */
    private static String uneven(Sweep sweep) {
        RunSetup setup = sweep.forecast().setup();
        boolean fails =
                sweep.legs().stream()
                        .filter(leg -> !leg.verifying())
                        .flatMap(leg ->
                                sweep
                                        .progress(leg)
                                        .series()
                                        .mean(setup.doubts().scatter())
                                        .stream())
                        .map(MeanOfCatches::budget)
                        .filter(budget -> errs(budget.output(Comparison.METER_ERROR)))
                        .anyMatch(budget ->
                                setup.judgement()
                                        .verdict(budget)
                                        .filter(verdict -> !Verdict.passes(verdict))
                                        .isPresent());
        return fails
                ? " Points fail all the same: no single constant cures meter errors that differ"
                        + " from point to point. Look at the meter: losses at low flow, wear, air."
                : "";
    }

    private static boolean errs(Budget.Output error) {
        return Math.abs(error.value()) > error.expanded();
    }

    /** What the next catch shows depends on how the controller sets its flow. */
    private static String note(ConstantAdvice.Control control) {
        return switch (control) {
            case CLOSED_ON_METER ->
                    "The controller holds its own figure: with the new constant it will report what"
                            + " it reported before, and the real flow will change.";
            case OPEN_LOOP ->
                    "The controller does not hold its flow: with the new constant the real flow"
                            + " stays as it was, and what it reports will change.";
        };
    }
}
