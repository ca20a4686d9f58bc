package catchbay.metrology;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.util.List;
import java.util.Optional;

/** Invented trucks and their catches, for the tests of curve and diagnosis. */
final class Trucks {

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
        return new CurvePoint(run, flow(flow), number, random, common, "R-7");
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

    /** A steady catch of one minute, flows in US gal/min, the reported one good to 0.1 %. */
    static CatchEvidence caught(String run, double asked, double reported, double measured) {
        return new CatchEvidence(
                run,
                flow(measured),
                new Comparison(
                        Volume.ofUsGallons(asked),
                        new Estimate(Volume.ofUsGallons(reported), List.of())
                                .with("step", Volume.ofUsGallons(reported).litres() * 0.001),
                        new Estimate(Volume.ofUsGallons(measured), List.of())
                                .with(
                                        "certificate",
                                        Volume.ofUsGallons(measured).litres() * 0.002)),
                ConstantAdvice.Control.CLOSED_ON_METER,
                Optional.empty(),
                false,
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }
}
