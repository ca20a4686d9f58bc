package catchbay.sim.honesty;

import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Density;
import catchbay.quantity.FlowRate;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Doubts;
import catchbay.run.Judgement;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.run.Session;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * A bay with a truck in it: what is stated, and what is true of all that stays the same from day to
 * day. Sizes of stated uncertainties are drawn, too, so that now this term leads and now that;
 * their ranges are common practice, no source.
 *
 * @param kind what is caught and how
 * @param setup what is stated
 * @param liquid the liquid as it is stated and as it may be
 * @param errors what is wrong with the bay for good
 * @param runDeviation true deviation of the truck's error from run to run, of which the setup
 *     states what nine runs have shown
 * @param dayDeviation the same from day to day
 * @param uneven deviation of the place of a meter's pulse, in spacings
 */
record Bay(
        Kind kind,
        RunSetup setup,
        DrawnLiquid liquid,
        Errors errors,
        double runDeviation,
        double dayDeviation,
        double uneven) {

    /**
     * What is wrong for good.
     *
     * @param constant of the reference, relative: certificate, drift and the other liquid
     * @param bend of the reference between its certified flows, -1 to 1 of the most there may be
     * @param span of the scale by its certificate, relative
     * @param load of the scale, kg: linearity, eccentric load, hose
     * @param timing of the diverter, s, in truth
     * @param crossing where between its end switches the stream is cut, -0.5 to 0.5
     * @param speed that the truck believes, relative
     * @param warmer by how much the liquid is warmer at the truck's meter than at the reference, K
     * @param expansion of the liquid, relative to what is stated
     */
    record Errors(
            double constant,
            double bend,
            double span,
            double load,
            double timing,
            double crossing,
            double speed,
            double warmer,
            double expansion) {}

    private static final long SECOND = 1_000_000_000L;
    private static final LocalDate TODAY = LocalDate.of(2026, 1, 15);
    private static final double MILES_PER_HOUR = 20;
    private static final int READINGS = 9;

    /** Pulses/US gal of the reference at its three certified flows. */
    private static final double[] CERTIFIED_FLOWS = {1, 6, 30};

    /**
     * Draws a bay.
     *
     * @param stated from where what is stated comes
     * @param truth from where the errors come
     */
    static Bay of(Kind kind, Dice stated, Dice truth) {
        double runDeviation = stated.between(0.0003, 0.0015);
        double dayDeviation = stated.between(0.0003, 0.001);
        DrawnLiquid liquid = DrawnLiquid.of(kind.fluid(), stated, truth);
        double gallonsPerMinute = kind.large() ? stated.between(8, 20) : stated.between(2, 4);
        double seconds = kind.large() ? stated.between(90, 150) : stated.between(45, 75);
        Doubts doubts =
                doubts(
                        kind,
                        liquid.stated().temperature(),
                        stated,
                        truth,
                        runDeviation,
                        dayDeviation);
        boolean speedCounted = stated.oneOf(true, false);
        RunSetup setup =
                new RunSetup(
                        "study",
                        TODAY,
                        kind.instruments() == Kind.Instruments.SCALE
                                ? Optional.empty()
                                : Optional.of(reference(stated)),
                        kind.instruments() == Kind.Instruments.PULSES
                                ? Optional.empty()
                                : Optional.of(scale(kind, stated)),
                        kind.report() == Kind.Report.DISPLAY
                                ? Optional.empty()
                                : Optional.of(
                                        new RunSetup.Diverter(
                                                stated.oneOf(RunSetup.Feedback.values()),
                                                2 * SECOND)),
                        new RunSetup.Liquid(
                                "study", liquid.stated(), new Density(stated.between(1.05, 1.25))),
                        new RunSetup.Truck(
                                "study", constant(), ConstantAdvice.Control.CLOSED_ON_METER, 0),
                        new RunSetup.Asked(
                                new RunSetup.Application.Direct(
                                        LiquidPerLane.ofUsGallonsPerLaneMile(
                                                gallonsPerMinute * 60 / MILES_PER_HOUR),
                                        1),
                                Speed.ofMilesPerHour(MILES_PER_HOUR),
                                speedCounted ? Optional.of(8_000.0) : Optional.empty()),
                        reported(kind, stated),
                        plan(kind, seconds, speedCounted, stated),
                        doubts,
                        Judgement.USUAL,
                        Session.USUAL,
                        Repeats.USUAL);
        return new Bay(
                kind,
                setup,
                liquid,
                errors(setup, truth),
                runDeviation,
                dayDeviation,
                stated.between(0.002, 0.02));
    }

    private static Doubts doubts(
            Kind kind,
            Temperature warm,
            Dice stated,
            Dice truth,
            double runDeviation,
            double dayDeviation) {
        double much = kind.large() ? 1 : 0.15;
        return new Doubts(
                new Doubts.Reference(
                        new Ratio(stated.between(0.0005, 0.0015)),
                        new Ratio(stated.between(0.0005, 0.002)),
                        0,
                        Optional.empty(),
                        Optional.empty()),
                new Doubts.Scale(
                        new Mass(much * stated.between(0, 0.01)),
                        new Mass(much * stated.between(0.01, 0.05)),
                        new Mass(much * stated.between(0.005, 0.02)),
                        new Mass(much * stated.between(0.005, 0.03)),
                        new Mass(much * stated.between(0.005, 0.02)),
                        new Mass(much * stated.between(0.005, 0.03)),
                        new Mass(much * stated.between(0, 0.03)),
                        new Mass(much * stated.between(0.01, 0.05)),
                        new Ratio(stated.between(0.0002, 0.001)),
                        new Ratio(stated.between(0, 5e-5)),
                        new Mass(0),
                        Optional.of(true)),
                new Doubts.Diverter(
                        stated.between(-0.05, 0.05), stated.between(0.005, 0.03), "drawn"),
                new Doubts.Temperatures(
                        Optional.of(new Temperature(warm.celsius() + stated.between(-3, 3))),
                        Optional.of(warm),
                        Optional.of(new Temperature(stated.between(5, 25))),
                        stated.between(0.3, 2),
                        Optional.empty(),
                        Doubts.Sensors.NONE),
                new Doubts.Line(
                        Volume.ofUsGallons(stated.between(0.5, 3)),
                        Volume.ofUsGallons(much * stated.between(0, 0.02)),
                        stated.between(0.3, 2)),
                new Ratio(stated.between(0.002, 0.01)),
                Ratio.ZERO,
                new Doubts.Scatter(
                        new Ratio(truth.deviationSeen(runDeviation, READINGS)),
                        READINGS,
                        new Ratio(truth.deviationSeen(dayDeviation, READINGS)),
                        READINGS));
    }

    private static Errors errors(RunSetup setup, Dice truth) {
        Doubts doubts = setup.doubts();
        Doubts.Temperatures warmth = doubts.temperatures();
        double constant = 0;
        if (setup.reference().isPresent()) {
            RunSetup.Reference reference = setup.reference().get();
            constant =
                    truth.normal(reference.certificate().relativeExpandedUncertainty() / 2)
                            + truth.even(
                                    doubts.reference().driftPerYear().value()
                                            * years(reference.certificate()))
                            + truth.even(doubts.reference().otherLiquid().value());
        }
        double span =
                setup.scale().map(s -> s.certificate().relativeExpandedUncertainty()).orElse(0.0);
        return new Errors(
                constant,
                truth.even(1),
                truth.normal(span / 2)
                        + setup.scale()
                                .map(scale ->
                                        truth.even(
                                                doubts.scale().driftPerYear().value()
                                                        * years(scale.certificate())))
                                .orElse(0.0),
                truth.even(doubts.scale().linearity().kilograms())
                        + truth.even(doubts.scale().eccentricity().kilograms())
                        + truth.even(doubts.scale().creep().kilograms())
                        + truth.even(doubts.scale().hose().kilograms())
                        + truth.normal(doubts.scale().certifiedBase().kilograms() / Math.sqrt(2)),
                doubts.diverter().timingErrorSeconds()
                        + truth.even(doubts.diverter().timingHalfWidthSeconds()),
                truth.even(0.5),
                truth.even(doubts.speed().value()),
                warmth.truckMeter().orElseThrow().minus(warmth.reference().orElseThrow())
                        + truth.even(warmth.halfWidthKelvin()),
                truth.even(0.1));
    }

    private static double years(Certificate certificate) {
        return (TODAY.toEpochDay() - certificate.date().toEpochDay()) / 365.25;
    }

    private static RunSetup.Reference reference(Dice stated) {
        List<ReferenceCurve.Point> points =
                Arrays.stream(CERTIFIED_FLOWS)
                        .mapToObj(flow ->
                                new ReferenceCurve.Point(
                                        FlowRate.perMinute(flow, VolumeUnit.US_GALLON),
                                        PulseConstant.per(
                                                1000 + stated.even(5), VolumeUnit.US_GALLON)))
                        .toList();
        return new RunSetup.Reference(
                certificate("R", stated.between(0.001, 0.005)),
                new ReferenceCurve(points),
                0,
                1000,
                1.7,
                0.07,
                false);
    }

    private static RunSetup.Scale scale(Kind kind, Dice stated) {
        double resolution =
                kind.large() ? stated.oneOf(0.02, 0.05, 0.1) : stated.oneOf(0.005, 0.02);
        return new RunSetup.Scale(
                certificate("S", stated.between(0.0005, 0.002)),
                MassUnit.KILOGRAM,
                new Mass(resolution),
                new Mass(500),
                new Mass(2 * resolution),
                2 * SECOND,
                5 * SECOND);
    }

    private static Certificate certificate(String serial, double expanded) {
        return new Certificate(
                serial,
                TODAY.minusDays(200),
                TODAY.plusDays(165),
                expanded,
                new Certificate.Conditions(
                        Optional.empty(), Optional.empty(), Optional.of(new Temperature(20))));
    }

    private static TruckConstant constant() {
        return new TruckConstant(
                TruckConstant.Form.PULSES_PER_VOLUME,
                600,
                VolumeUnit.US_GALLON,
                0.1,
                1,
                9999,
                Optional.empty());
    }

    private static RunSetup.Reported reported(Kind kind, Dice stated) {
        Volume step =
                Volume.ofUsGallons(
                        kind.large() ? stated.oneOf(0.01, 0.1) : stated.oneOf(0.001, 0.01));
        return switch (kind.report()) {
            case PULSES -> new RunSetup.Reported.MeterPulses();
            case LINE ->
                    new RunSetup.Reported.RunningLine(
                            step, Math.round(stated.between(0.05, 0.4) * SECOND), 2 * SECOND);
            case DISPLAY -> new RunSetup.Reported.Display(step, SECOND, new Ratio(0.2));
        };
    }

    private static RunSetup.Plan plan(
            Kind kind, double seconds, boolean speedCounted, Dice stated) {
        boolean display = kind.report() == Kind.Report.DISPLAY;
        boolean judged =
                !display
                        && (kind.instruments() != Kind.Instruments.SCALE
                                || kind.report() == Kind.Report.PULSES);
        boolean byScale =
                kind.instruments() == Kind.Instruments.SCALE
                        || kind.instruments() == Kind.Instruments.BOTH && stated.oneOf(true, false);
        return new RunSetup.Plan(
                display ? RunSetup.Window.STANDING : RunSetup.Window.FLYING,
                // Without pulses counted back the bay's own supply starts the flow.
                speedCounted ? RunSetup.FlowBy.GROUND_SPEED : RunSetup.FlowBy.SUPPLY,
                byScale ? RunSetup.MeasureBy.SCALE : RunSetup.MeasureBy.REFERENCE,
                display ? 0 : 2 * SECOND,
                SECOND,
                judged ? 3 : 0,
                0.05,
                30 * SECOND,
                Math.round(seconds * SECOND),
                2 * SECOND,
                2 * SECOND,
                30 * SECOND,
                0,
                new Ratio(0.03),
                0.05,
                0.1,
                0.05,
                300 * SECOND);
    }

    /**
     * The meter's true constant at a flow, pulses/L, before what its certificate is off: it goes
     * through the certified points and bends between them, by a part of the most that the points
     * next to them allow.
     *
     * @param bend that part, -1 to 1
     */
    static double pulsesPerLitre(ReferenceCurve curve, double litresPerSecond, double bend) {
        List<ReferenceCurve.Point> points = curve.points();
        int next = 1;
        while (litresPerSecond > points.get(next).flow().litresPerSecond()) {
            next++;
        }
        double chord = chord(points.get(next - 1), points.get(next), litresPerSecond);
        double most = 0;
        for (int i = 1; i < points.size() - 1; i++) {
            if (i == next - 1 || i == next) {
                // By how much this point misses the chord past it, scaled from there to here.
                ReferenceCurve.Point before = points.get(i - 1);
                ReferenceCurve.Point here = points.get(i);
                ReferenceCurve.Point after = points.get(i + 1);
                double missed =
                        here.constant().pulsesPerLitre()
                                - chord(before, after, here.flow().litresPerSecond());
                double scale =
                        room(points.get(next - 1), points.get(next), litresPerSecond)
                                / room(before, after, here.flow().litresPerSecond());
                most = Math.max(most, Math.abs(missed) * scale);
            }
        }
        return chord + bend * most;
    }

    private static double chord(ReferenceCurve.Point low, ReferenceCurve.Point high, double at) {
        double along = (at - low.flow().litresPerSecond()) / width(low, high);
        return low.constant().pulsesPerLitre() * (1 - along)
                + high.constant().pulsesPerLitre() * along;
    }

    private static double room(ReferenceCurve.Point low, ReferenceCurve.Point high, double at) {
        return (at - low.flow().litresPerSecond()) * (high.flow().litresPerSecond() - at);
    }

    private static double width(ReferenceCurve.Point low, ReferenceCurve.Point high) {
        return high.flow().litresPerSecond() - low.flow().litresPerSecond();
    }
}
