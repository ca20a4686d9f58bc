package catchbay.record;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.WeightCheck;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.run.Doubts;
import catchbay.run.RunSetup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/**
 * By what a scale is tried where it stands.
 *
 * @param weights the check weights
 * @param stacked whether they are put on one upon the other and taken off again, and not each alone
 * @param limit what may be wrong at a load
 * @param shuntLimit what hose and its uncertainty may come to
 */
public record ScaleTestRules(
        List<WeightCheck.Load> weights, boolean stacked, WeightCheck.Limit limit, Mass shuntLimit) {

    /** Steps of the scale that a hose may carry. Common practice, no source. */
    private static final int SHUNT_STEPS = 3;

    private static final Measure<Mass> ABOVE_ZERO =
            Measure.MASS.within("above 0", mass -> mass.kilograms() > 0);

    /** From water in a can to lead; a figure in another unit is caught by it. */
    private static final Measure<Density> SOLID =
            Measure.DENSITY.within(
                    "from 900 to 12000 kg/m3",
                    density ->
                            density.kilogramsPerCubicMetre() >= 900
                                    && density.kilogramsPerCubicMetre() <= 12_000);

    /**
     * The rules of a section, with the scale's own certificate and doubts where it does not say.
     *
     * @param from the section; may be empty
     * @param setup of the bay, with its scale, on the day of the test
     * @param kind which test it is: weights may be out of date where none is put on
     */
    public static ScaleTestRules read(Fields from, RunSetup setup, ScaleTestText.Kind kind) {
        RunSetup.Scale scale = setup.scale().orElseThrow();
        Doubts.Scale doubts = setup.doubts().scale();
        List<WeightCheck.Load> weights = new ArrayList<>();
        if (from.has("weights")) {
            for (Fields weight : from.sections("weights")) {
                weights.add(weight(weight));
                if (kind == ScaleTestText.Kind.WEIGHTS) {
                    refuseOutOfDate(weight, setup.day());
                }
            }
        }
        double years = scale.certificate().yearsOn(setup.day());
        Ratio share =
                new Ratio(
                        scale.certificate().relativeExpandedUncertainty()
                                + doubts.driftPerYear().value() * years);
        Mass base =
                new Mass(
                        doubts.certifiedBase().kilograms()
                                + doubts.linearity().kilograms()
                                + scale.resolution().kilograms());
        WeightCheck.Limit limit =
                new WeightCheck.Limit(
                        from.quantity("limit_base", DoubtsText.MASS, base),
                        from.quantity("limit", Measure.SHARE, share));
        return new ScaleTestRules(
                List.copyOf(weights),
                from.flag("stacked", false),
                limit,
                from.quantity(
                        "shunt_limit",
                        ABOVE_ZERO,
                        new Mass(SHUNT_STEPS * scale.resolution().kilograms())));
    }

    private static WeightCheck.Load weight(Fields from) {
        String name = from.text("name");
        Mass mass = from.quantity("mass", ABOVE_ZERO);
        Mass expanded = from.quantity("uncertainty", ABOVE_ZERO);
        Density density = from.quantity("density", SOLID, Buoyancy.WEIGHTS);
        from.has("expiry");
        return from.made(() -> new WeightCheck.Load(name, mass, expanded, density));
    }

    private static void refuseOutOfDate(Fields weight, LocalDate day) {
        if (weight.has("expiry") && weight.date("expiry").isBefore(day)) {
            throw weight.refused(
                    "expiry",
                    "the certificate of this weight is out of date on "
                            + day
                            + "; have it calibrated, or take it out");
        }
    }
}
