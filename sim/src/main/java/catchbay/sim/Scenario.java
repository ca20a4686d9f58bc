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
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A whole invented case: what the program knows, and the truth behind it.
 *
 * @param name what it is, in words
 * @param setup what the program knows
 * @param options the truth behind it
 */
public record Scenario(String name, RunSetup setup, SimOptions options) {

    /** How much the truck of the demonstration over-reads. */
    private static final double DEMO_OVER_READING = 0.04;

    /**
     * The demonstration: an invented shop and truck. A direct application of 15 gal/lane-mile at 20 mph for 90 s, which
     * asks for 7.5 gal (common practice, no source); caught flying by a diverter, over a reference meter and on a scale;
     * the truck's controller is in automatic, its meter tapped, its ground speed played by the bay.
     *
     * @param seed from which all chance follows
     */
    public static Scenario demo(long seed) {
        RunSetup setup = new RunSetup(
                "Demo bay",
                LocalDate.of(2026, 1, 5),
                Optional.of(demoReference()),
                Optional.of(demoScale()),
                Optional.of(new RunSetup.Diverter(RunSetup.Feedback.TRIGGER, 2_000_000_000L)),
                // 23.3 % sodium chloride at 10 C: 1179.95 kg/m3 (Laliberte 2009, doi 10.1021/je8008123).
                new RunSetup.Liquid("salt brine 23.3 %", new Density(1179.95), 0.001, Buoyancy.AIR),
                new RunSetup.Truck(
                        "DEMO-17",
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
                        new RunSetup.Application.Direct(LiquidPerLane.ofUsGallonsPerLaneMile(15), 1),
                        Speed.ofMilesPerHour(20),
                        Optional.of(4000.0)),
                new RunSetup.Reported.MeterPulses(),
                demoPlan());
        SimOptions drawn = SimOptions.drawn(seed, setup);
        return new Scenario("demonstration, all of it invented", setup, drawn.overReading(DEMO_OVER_READING));
    }

    private static RunSetup.Reference demoReference() {
        List<ReferenceCurve.Point> points = List.of(
                point(2, 799.2), point(5, 800.4), point(10, 800.0), point(20, 798.8));
        Certificate certificate =
                new Certificate("DEMO-REF-1", LocalDate.of(2025, 9, 1), LocalDate.of(2026, 8, 31), 0.0015);
        return new RunSetup.Reference(certificate, new ReferenceCurve(points), 100_000, 400, 1.7, 0.1);
    }

    private static ReferenceCurve.Point point(double usGallonsPerMinute, double pulsesPerUsGallon) {
        return new ReferenceCurve.Point(
                FlowRate.perMinute(usGallonsPerMinute, VolumeUnit.US_GALLON),
                PulseConstant.per(pulsesPerUsGallon, VolumeUnit.US_GALLON));
    }

    private static RunSetup.Scale demoScale() {
        Certificate certificate =
                new Certificate("DEMO-SCALE-1", LocalDate.of(2025, 9, 2), LocalDate.of(2026, 9, 1), 0.0003);
        return new RunSetup.Scale(
                certificate,
                MassUnit.POUND,
                Mass.of(0.02, MassUnit.POUND),
                Mass.of(500, MassUnit.POUND),
                Mass.of(0.08, MassUnit.POUND),
                2_000_000_000L,
                2_000_000_000L);
    }

    private static RunSetup.Plan demoPlan() {
        return new RunSetup.Plan(
                RunSetup.Window.FLYING,
                RunSetup.FlowBy.GROUND_SPEED,
                RunSetup.MeasureBy.REFERENCE,
                seconds(10),
                seconds(2),
                4,
                0.02,
                seconds(60),
                seconds(90),
                seconds(2),
                seconds(10),
                seconds(60),
                seconds(30),
                Ratio.ofPercent(0.6),
                0.03,
                0.05,
                0.02,
                seconds(60));
    }

    /** A case drawn whole from a seed, without a fault. */
    public static Scenario drawn(long seed) {
        RunSetup setup = ScenarioDraw.setup(seed);
        return new Scenario("seed " + seed, setup, SimOptions.drawn(seed, setup));
    }

    /** This case with the faults that its seed draws. */
    public Scenario withFaults() {
        return new Scenario(name, setup, options.with(FaultDraw.of(this)));
    }

    static long seconds(double seconds) {
        return (long) (seconds * 1e9);
    }

    /** The amount that the setup asks for over its planned catch, at the speed that is set. */
    public Volume planned() {
        double litresPerSecond = TruckSystem.flowAsked(setup.asked());
        return new FlowRate(litresPerSecond).during(setup.plan().catchNanos());
    }
}
