package catchbay.sim;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice.Control;
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
import catchbay.quantity.VolumeUnit;
import catchbay.run.Doubts;
import catchbay.run.Judgement;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.run.Session;
import catchbay.signal.TemperaturePlace;

import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;

/**
 * Plain setups and options for tests of the world: nothing wanders, nothing is uneven, nothing is
 * off.
 */
public final class Setups {

    /** Pulses for one litre of the plain reference meter, at every flow. */
    static final double REFERENCE_PULSES_PER_LITRE = 100;

    private Setups() {}

    /**
     * A flying catch of 90 s of water of 1000 kg/m3 with everything fitted, the truck's meter
     * tapped.
     *
     * @param litresPerSecond what the truck is asked for at the speed set
     */
    public static RunSetup plain(double litresPerSecond, Control control, RunSetup.FlowBy flowBy) {
        Speed speed = Speed.ofMilesPerHour(20);
        double litresPerKilometre = litresPerSecond / speed.metresPerSecond() * 1000;
        return new RunSetup(
                "Test bay",
                LocalDate.of(2026, 1, 5),
                Optional.of(reference()),
                Optional.of(scale()),
                Optional.of(new RunSetup.Diverter(RunSetup.Feedback.TRIGGER, 2_000_000_000L)),
                new RunSetup.Liquid("water", new Density(1000), 0.001, Buoyancy.AIR),
                new RunSetup.Truck("T-1", constant(50), control, 0),
                new RunSetup.Asked(
                        new RunSetup.Application.Direct(new LiquidPerLane(litresPerKilometre), 1),
                        speed,
                        Optional.of(3600.0)),
                new RunSetup.Reported.MeterPulses(),
                plan(flowBy),
                Doubts.USUAL,
                Judgement.USUAL,
                Session.USUAL,
                Repeats.USUAL);
    }

    static TruckConstant constant(double pulsesPerLitre) {
        return new TruckConstant(
                TruckConstant.Form.PULSES_PER_VOLUME,
                pulsesPerLitre,
                VolumeUnit.LITRE,
                0.0001,
                0.1,
                5000,
                Optional.empty());
    }

    private static RunSetup.Reference reference() {
        PulseConstant constant = new PulseConstant(REFERENCE_PULSES_PER_LITRE);
        ReferenceCurve curve =
                new ReferenceCurve(
                        List.of(
                                new ReferenceCurve.Point(new FlowRate(0.1), constant),
                                new ReferenceCurve.Point(new FlowRate(10), constant)));
        return new RunSetup.Reference(certificate("R-1", 0.001), curve, 0, 2000, 1.7, 0.1, false);
    }

    private static RunSetup.Scale scale() {
        return new RunSetup.Scale(
                certificate("S-1", 0.0003),
                MassUnit.KILOGRAM,
                new Mass(0.01),
                new Mass(1000),
                new Mass(0.04),
                2_000_000_000L,
                2_000_000_000L);
    }

    private static Certificate certificate(String serial, double uncertainty) {
        return new Certificate(
                serial, LocalDate.of(2025, 9, 1), LocalDate.of(2026, 8, 31), uncertainty);
    }

    private static RunSetup.Plan plan(RunSetup.FlowBy flowBy) {
        return new RunSetup.Plan(
                RunSetup.Window.FLYING,
                flowBy,
                RunSetup.MeasureBy.REFERENCE,
                Scenario.seconds(5),
                Scenario.seconds(2),
                4,
                0.02,
                Scenario.seconds(60),
                Scenario.seconds(90),
                Scenario.seconds(2),
                Scenario.seconds(10),
                Scenario.seconds(60),
                0,
                Ratio.ofPercent(0.6),
                0.03,
                0.05,
                0.02,
                Scenario.seconds(60));
    }

    static RunSetup with(RunSetup setup, TruckConstant constant) {
        RunSetup.Truck truck =
                new RunSetup.Truck(
                        setup.truck().asset(),
                        constant,
                        setup.truck().control(),
                        setup.truck().debounceNanos());
        return new RunSetup(
                setup.bay(),
                setup.day(),
                setup.reference(),
                setup.scale(),
                setup.diverter(),
                setup.liquid(),
                truck,
                setup.asked(),
                setup.reported(),
                setup.plan(),
                setup.doubts(),
                setup.judgement(),
                setup.session(),
                setup.repeats());
    }

    /** The same bay with thermometers everywhere. */
    static RunSetup thermometers(RunSetup setup) {
        Doubts usual = setup.doubts();
        Doubts.Temperatures sensed =
                new Doubts.Temperatures(
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        1,
                        Optional.empty(),
                        new Doubts.Sensors(
                                EnumSet.allOf(TemperaturePlace.class), 0.5, 10_000_000_000L));
        return new RunSetup(
                setup.bay(),
                setup.day(),
                setup.reference(),
                setup.scale(),
                setup.diverter(),
                setup.liquid(),
                setup.truck(),
                setup.asked(),
                setup.reported(),
                setup.plan(),
                new Doubts(
                        usual.reference(),
                        usual.scale(),
                        usual.diverter(),
                        sensed,
                        usual.line(),
                        usual.speed(),
                        usual.salt(),
                        usual.scatter()),
                setup.judgement(),
                setup.session(),
                setup.repeats());
    }

    /** The same bay with a reference meter of two channels. */
    static RunSetup twoChannels(RunSetup setup) {
        RunSetup.Reference one = setup.reference().orElseThrow();
        RunSetup.Reference two =
                new RunSetup.Reference(
                        one.certificate(),
                        one.curve(),
                        one.debounceNanos(),
                        one.pulsesPerSecondMax(),
                        one.leapRatio(),
                        one.evenRatioMax(),
                        true);
        return new RunSetup(
                setup.bay(),
                setup.day(),
                Optional.of(two),
                setup.scale(),
                setup.diverter(),
                setup.liquid(),
                setup.truck(),
                setup.asked(),
                setup.reported(),
                setup.plan(),
                setup.doubts(),
                setup.judgement(),
                setup.session(),
                setup.repeats());
    }

    static RunSetup with(RunSetup setup, RunSetup.Reported reported) {
        return new RunSetup(
                setup.bay(),
                setup.day(),
                setup.reference(),
                setup.scale(),
                setup.diverter(),
                setup.liquid(),
                setup.truck(),
                setup.asked(),
                reported,
                setup.plan(),
                setup.doubts(),
                setup.judgement(),
                setup.session(),
                setup.repeats());
    }

    /**
     * Options under which the world's instruments are perfect.
     *
     * @param overReading of the truck's meter
     * @param asymmetrySeconds of the diverter
     */
    public static SimOptions plainOptions(
            RunSetup setup, long seed, double overReading, double asymmetrySeconds) {
        double asked = TruckSystem.flowAsked(setup.asked());
        return new SimOptions(
                seed,
                new SimOptions.Truck(
                        overReading,
                        0,
                        0.001,
                        0,
                        2 * asked,
                        0,
                        0,
                        0.2,
                        0.3,
                        0.3,
                        0.7,
                        0,
                        0,
                        0.5,
                        asked),
                new SimOptions.Bay(
                        0, 0, 0.05, 0.001, 0, 0, 0.05, 0.25, asymmetrySeconds, 0.5, 2, 900),
                new SimOptions.Scale(0, 0, 0, 10, 0.3, 0.1, 0),
                new SimOptions.Person("tester", 2, 4),
                new SimOptions.Warmth(10, 0, 15, 0),
                List.of());
    }

    /** The same options with a reference whose output lags by so much. */
    static SimOptions damped(SimOptions options, double lagSeconds) {
        SimOptions.Bay b = options.bay();
        return new SimOptions(
                options.seed(),
                options.truck(),
                new SimOptions.Bay(
                        b.referenceErrorRatio(),
                        b.referenceShiftRatio(),
                        b.referenceLowFlowLossRatio(),
                        b.referenceCutOffLitresPerSecond(),
                        lagSeconds,
                        b.densityErrorRatio(),
                        b.diverterDelaySeconds(),
                        b.diverterTravelSeconds(),
                        b.diverterAsymmetrySeconds(),
                        b.chuteSeconds(),
                        b.drainLitresPerSecond(),
                        b.floatLitres()),
                options.scale(),
                options.person(),
                options.warmth(),
                options.faults());
    }

    /**
     * A whole ordinary case: 15 gal/lane-mile at 20 mph for 90 s, which asks for 7.5 gal (common
     * practice, no source); caught flying, over a reference meter and on a scale, the controller in
     * automatic and its meter tapped.
     */
    static Scenario ordinary(long seed) {
        RunSetup setup =
                new RunSetup(
                        "Test bay",
                        LocalDate.of(2026, 1, 5),
                        Optional.of(ordinaryReference()),
                        Optional.of(ordinaryScale()),
                        Optional.of(
                                new RunSetup.Diverter(RunSetup.Feedback.TRIGGER, 2_000_000_000L)),
                        // 23.3 % sodium chloride at 10 C: 1179.95 kg/m3 (Laliberte 2009, doi
                        // 10.1021/je8008123).
                        new RunSetup.Liquid(
                                "salt brine 23.3 %", new Density(1179.95), 0.001, Buoyancy.AIR),
                        new RunSetup.Truck(
                                "TEST-17",
                                new TruckConstant(
                                        TruckConstant.Form.PULSES_PER_VOLUME,
                                        200,
                                        VolumeUnit.US_GALLON,
                                        0.1,
                                        1,
                                        5000,
                                        Optional.empty()),
                                Control.CLOSED_ON_METER,
                                0),
                        new RunSetup.Asked(
                                new RunSetup.Application.Direct(
                                        LiquidPerLane.ofUsGallonsPerLaneMile(15), 1),
                                Speed.ofMilesPerHour(20),
                                Optional.of(4000.0)),
                        new RunSetup.Reported.MeterPulses(),
                        ordinaryPlan(),
                        Doubts.USUAL,
                        Judgement.USUAL,
                        Session.USUAL,
                        Repeats.USUAL);
        SimOptions drawn = SimOptions.drawn(seed, setup);
        return new Scenario("ordinary", setup, overReading(drawn, 0.04));
    }

    private static RunSetup.Reference ordinaryReference() {
        List<ReferenceCurve.Point> points =
                List.of(point(2, 799.2), point(5, 800.4), point(10, 800.0), point(20, 798.8));
        Certificate certificate =
                new Certificate(
                        "TEST-REF-1", LocalDate.of(2025, 9, 1), LocalDate.of(2026, 8, 31), 0.0015);
        return new RunSetup.Reference(
                certificate, new ReferenceCurve(points), 100_000, 400, 1.7, 0.1, false);
    }

    private static ReferenceCurve.Point point(double usGallonsPerMinute, double pulsesPerUsGallon) {
        return new ReferenceCurve.Point(
                FlowRate.perMinute(usGallonsPerMinute, VolumeUnit.US_GALLON),
                PulseConstant.per(pulsesPerUsGallon, VolumeUnit.US_GALLON));
    }

    private static RunSetup.Scale ordinaryScale() {
        Certificate certificate =
                new Certificate(
                        "TEST-SCALE-1", LocalDate.of(2025, 9, 2), LocalDate.of(2026, 9, 1), 0.0003);
        return new RunSetup.Scale(
                certificate,
                MassUnit.POUND,
                Mass.of(0.02, MassUnit.POUND),
                Mass.of(500, MassUnit.POUND),
                Mass.of(0.08, MassUnit.POUND),
                2_000_000_000L,
                2_000_000_000L);
    }

    private static RunSetup.Plan ordinaryPlan() {
        return new RunSetup.Plan(
                RunSetup.Window.FLYING,
                RunSetup.FlowBy.GROUND_SPEED,
                RunSetup.MeasureBy.REFERENCE,
                Scenario.seconds(10),
                Scenario.seconds(2),
                4,
                0.02,
                Scenario.seconds(60),
                Scenario.seconds(90),
                Scenario.seconds(2),
                Scenario.seconds(10),
                Scenario.seconds(60),
                Scenario.seconds(30),
                Ratio.ofPercent(0.6),
                0.03,
                0.05,
                0.02,
                Scenario.seconds(60));
    }

    /** The same options with a truck that over-reads by so much at the flow asked for. */
    static SimOptions overReading(SimOptions options, double ratio) {
        SimOptions.Truck t = options.truck();
        SimOptions.Truck other =
                new SimOptions.Truck(
                        ratio,
                        t.lowFlowLossRatio(),
                        t.cutOffLitresPerSecond(),
                        t.shiftRatio(),
                        t.pumpLitresPerSecond(),
                        t.openLoopErrorRatio(),
                        t.flowNoiseRatio(),
                        t.deadSeconds(),
                        t.lagSeconds(),
                        t.speedLagSeconds(),
                        t.gainPerSecond(),
                        t.totalLagSeconds(),
                        t.totalAtStartLitres(),
                        t.lineSeconds(),
                        t.nominalLitresPerSecond());
        return new SimOptions(
                options.seed(),
                other,
                options.bay(),
                options.scale(),
                options.person(),
                options.warmth(),
                options.faults());
    }
}
