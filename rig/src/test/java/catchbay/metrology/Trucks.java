package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** Invented trucks and their catches, for the tests of curve and diagnosis. */
final class Trucks {

    static final LocalDate DAY = LocalDate.of(2026, 1, 15);

    /** 600 pulses/US gal in steps of 0.1. */
    static final TruckConstant PULSES = constant(TruckConstant.Form.PULSES_PER_VOLUME, 600, 0.1);

    static final TruckConstant VOLUME =
            constant(TruckConstant.Form.VOLUME_PER_PULSE, 0.00167, 0.00001);

    static final TruckConstant PERCENT = constant(TruckConstant.Form.PERCENT_OF_READING, 100, 0.1);

    private Trucks() {}

    static TruckConstant constant(TruckConstant.Form form, double value, double step) {
        return new TruckConstant(
                form, value, VolumeUnit.US_GALLON, step, step, value * 100, Optional.empty());
    }

    static FlowRate flow(double usGallonsPerMinute) {
        return FlowRate.perMinute(usGallonsPerMinute, VolumeUnit.US_GALLON);
    }

    static CurvePoint point(String run, double flow, double number, double random, double common) {
        return point(run, flow, number, random, common, "R-7", DAY);
    }

    static CurvePoint point(
            String run,
            double flow,
            double number,
            double random,
            double common,
            String instrument,
            LocalDate day) {
        return new CurvePoint(
                run,
                day,
                flow(flow),
                number,
                random,
                Double.POSITIVE_INFINITY,
                0,
                common,
                instrument);
    }

    /** A curve through one catch at each flow. */
    static TruckCurve curve(
            TruckConstant constant, double random, double common, double[]... flowAndNumber) {
        List<CurvePoint> points = new java.util.ArrayList<>();
        for (double[] each : flowAndNumber) {
            points.add(point("run-" + (points.size() + 1), each[0], each[1], random, common));
        }
        return drawn(constant, points);
    }

    static TruckCurve drawn(TruckConstant constant, List<CurvePoint> points) {
        return switch (TruckCurve.through(constant, points)) {
            case TruckCurve.Drawing.Drawn(TruckCurve curve) -> curve;
            case TruckCurve.Drawing.TooFew(String reason) -> throw new AssertionError(reason);
        };
    }

    static ConstantFit.Fitted fitted(TruckCurve curve, FlowMix mix) {
        return switch (ConstantFit.of(curve, mix)) {
            case ConstantFit.Fitted fitted -> fitted;
            case ConstantFit.NoneFits(String reason) -> throw new AssertionError(reason);
        };
    }

    /** Amounts in US gal; the standard uncertainties as shares of their own amounts. */
    static Comparison comparison(
            double asked, double reported, double ofReported, double measured, double ofMeasured) {
        ModelSketch sketch = new ModelSketch();
        double reportedLitres = Volume.ofUsGallons(reported).litres();
        double measuredLitres = Volume.ofUsGallons(measured).litres();
        return Comparison.of(
                sketch,
                ModelSketch.exactly(Volume.ofUsGallons(asked).litres()),
                sketch.normal("step", reportedLitres, reportedLitres * ofReported, Scope.RUN),
                sketch.normal(
                        "certificate", measuredLitres, measuredLitres * ofMeasured, Scope.BAY),
                ModelSketch.exactly(0),
                PULSES);
    }

    /** A steady catch of one minute, flows in US gal/min, the reported one good to 0.1 %. */
    static CatchEvidence caught(String run, double asked, double reported, double measured) {
        return new CatchEvidence(
                run,
                flow(measured),
                comparison(asked, reported, 0.001, measured, 0.002),
                ConstantAdvice.Control.CLOSED_ON_METER,
                Optional.empty(),
                false,
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }
}
