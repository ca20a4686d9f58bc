package catchbay.sim;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice.Control;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Density;
import catchbay.quantity.FlowRate;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.LiquidPerSalt;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Doubts;
import catchbay.run.Judgement;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.run.Session;
import catchbay.signal.TemperaturePlace;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * Draws a whole valid setup from a seed: over flying and standing windows, every combination of
 * instruments, every source of the reported amount, both controls and both applications. Spans are
 * illustrative.
 */
final class ScenarioDraw {

    private static final LocalDate DAY = LocalDate.of(2026, 1, 5);

    /** Common practice, no source: speeds, rates and lanes of ordinary winter work. */
    private static final double[] MILES_PER_HOUR = {10, 15, 20, 25, 30, 35};

    /**
     * Densities at 20 C but for salt brine, 10 C: water by Tanaka 2001 (doi
     * 10.1088/0026-1394/38/4/3), the brines by Laliberte 2009 (doi 10.1021/je8008123), as
     * recomputed.
     */
    private enum Liquid {
        WATER("water", 998.2067),
        SALT_BRINE("salt brine 23.3 %", 1179.95),
        CALCIUM_CHLORIDE("calcium chloride 30 %", 1281.92),
        MAGNESIUM_CHLORIDE("magnesium chloride 30 %", 1274.6);

        private final String words;
        private final double kilogramsPerCubicMetre;

        Liquid(String words, double kilogramsPerCubicMetre) {
            this.words = words;
            this.kilogramsPerCubicMetre = kilogramsPerCubicMetre;
        }
    }

    private final RandomGenerator random;
    private final boolean twoChannels;
    private final RandomGenerator warmth;

    private final Span span;

    /** How long catches are, and how fast their meters. */
    enum Span {
        /** As a bay would be used. */
        USUAL(5, 6, 9, 25, 800),
        /** As short as a setup allows, so that many can be played. */
        SHORT(1, 10, 20, 31, 350);

        private final int seconds;
        private final int flyingLeast;
        private final int standingLeast;
        private final int end;
        private final double pulsesPerSecondMost;

        Span(int seconds, int flyingLeast, int standingLeast, int end, double pulsesPerSecondMost) {
            this.seconds = seconds;
            this.flyingLeast = flyingLeast;
            this.standingLeast = standingLeast;
            this.end = end;
            this.pulsesPerSecondMost = pulsesPerSecondMost;
        }
    }

    private ScenarioDraw(Streams streams, Span span) {
        this.span = span;
        this.random = streams.of(Streams.Subsystem.SCENARIO);
        this.warmth = streams.of(Streams.Subsystem.WARMTH);
        this.twoChannels = streams.of(Streams.Subsystem.CHANNELS).nextDouble() < 0.4;
    }

    static RunSetup setup(long seed, Span span) {
        return new ScenarioDraw(new Streams(seed), span).setup();
    }

    private RunSetup setup() {
        Window window = chance(0.6) ? Window.FLYING : Window.STANDING;
        boolean both = chance(0.5);
        boolean reference = both || chance(0.5);
        boolean scale = both || !reference;
        boolean diverter = window == Window.FLYING || chance(0.5);
        Liquid liquid = pick(Liquid.values());
        // What a start and a stop cost must stay small beside the catch.
        int least = window == Window.FLYING ? span.flyingLeast : span.standingLeast;
        long catchNanos = Scenario.seconds(span.seconds * random.nextInt(least, span.end));
        FlowBy flowBy = pick(FlowBy.values());
        RunSetup.Asked asked = asked(window, flowBy, catchNanos);
        double flow = TruckSystem.flowAsked(asked);
        Volume wanted = new FlowRate(flow).during(catchNanos);
        Reported reported = reported(window, wanted);
        MeasureBy measureBy =
                both ? pick(MeasureBy.values()) : reference ? MeasureBy.REFERENCE : MeasureBy.SCALE;
        boolean judged = reference || reported instanceof Reported.MeterPulses;
        double kilograms = wanted.litres() * liquid.kilogramsPerCubicMetre / 1000;
        return new RunSetup(
                "Invented bay",
                DAY,
                reference ? Optional.of(reference(flow)) : Optional.empty(),
                scale ? Optional.of(scale(kilograms)) : Optional.empty(),
                diverter
                        ? Optional.of(
                                new RunSetup.Diverter(
                                        pick(RunSetup.Feedback.values()), Scenario.seconds(2)))
                        : Optional.empty(),
                new RunSetup.Liquid(
                        liquid.words,
                        new Density(liquid.kilogramsPerCubicMetre),
                        between(0.0005, 0.0015),
                        Buoyancy.AIR),
                truck(flow),
                asked,
                reported,
                plan(window, flowBy, measureBy, diverter, judged ? 4 : 0, catchNanos),
                doubts(reference),
                Judgement.USUAL,
                Session.USUAL,
                Repeats.USUAL);
    }

    /** Thermometers in some bays, and in some of those figures to stand in for them. */
    private Doubts doubts(boolean reference) {
        Doubts usual = Doubts.USUAL;
        // The truth behind the setup is drawn from the same stream, from its beginning on.
        double liquid = -2 + 22 * warmth.nextDouble();
        double over = -3 + 6 * warmth.nextDouble();
        double room = 5 + 20 * warmth.nextDouble();
        boolean fitted = warmth.nextDouble() < 0.4;
        boolean typed = fitted && warmth.nextBoolean();
        EnumSet<TemperaturePlace> places = EnumSet.noneOf(TemperaturePlace.class);
        if (fitted) {
            places.add(TemperaturePlace.TRUCK_METER);
            places.add(reference ? TemperaturePlace.REFERENCE : TemperaturePlace.TANK);
        }
        if (fitted && warmth.nextBoolean()) {
            places.add(TemperaturePlace.ROOM);
        }
        return new Doubts(
                usual.reference(),
                usual.scale(),
                usual.diverter(),
                new Doubts.Temperatures(
                        typed ? Optional.of(new Temperature(liquid + over)) : Optional.empty(),
                        typed ? Optional.of(new Temperature(liquid)) : Optional.empty(),
                        typed ? Optional.of(new Temperature(room)) : Optional.empty(),
                        1,
                        Optional.empty(),
                        new Doubts.Sensors(places, 0.5, Scenario.seconds(10))),
                usual.line(),
                usual.speed(),
                usual.salt(),
                usual.scatter());
    }

    /** Rates come from the amount to be caught: mostly above 5 US gal. */
    private RunSetup.Asked asked(Window window, FlowBy flowBy, long catchNanos) {
        Speed speed = Speed.ofMilesPerHour(MILES_PER_HOUR[random.nextInt(MILES_PER_HOUR.length)]);
        double usGallons = chance(0.9) ? between(5.5, 40) : between(2, 5);
        double miles = speed.during(catchNanos).miles();
        double lanes = random.nextInt(1, 4);
        double tonsPerMile = between(0.3, 1.2);
        boolean saltReported = window == Window.STANDING && chance(0.3);
        Optional<Mass> conveyor =
                chance(0.3)
                        ? Optional.of(Mass.of(between(0.1, 1), MassUnit.POUND))
                        : Optional.empty();
        Application application =
                chance(0.7)
                        ? new Application.Direct(
                                LiquidPerLane.ofUsGallonsPerLaneMile(
                                        Math.ceil(usGallons / miles / lanes)),
                                lanes)
                        : new Application.PreWet(
                                LiquidPerSalt.ofUsGallonsPerTon(
                                        Math.ceil(usGallons / miles / tonsPerMile)),
                                SaltPerDistance.ofTonsPerMile(tonsPerMile),
                                saltReported,
                                conveyor);
        double pulsesPerMile = random.nextInt(1000, 20_000);
        boolean played = flowBy == FlowBy.GROUND_SPEED || chance(0.3);
        return new RunSetup.Asked(
                application, speed, played ? Optional.of(pulsesPerMile) : Optional.empty());
    }

    private Reported reported(Window window, Volume wanted) {
        double step = Math.min(wanted.usGallons() / 50, between(0, 1) < 0.5 ? 0.1 : 0.01);
        long lagNanos = Scenario.seconds(between(0.1, 2));
        // A total typed from a display is read at rest, so it cannot belong to a window cut out of
        // running flow.
        return switch (random.nextInt(window == Window.FLYING ? 2 : 3)) {
            case 0 -> new Reported.MeterPulses();
            case 1 ->
                    new Reported.RunningLine(
                            Volume.ofUsGallons(step), lagNanos, Scenario.seconds(2));
            default ->
                    new Reported.Display(
                            Volume.ofUsGallons(step), lagNanos, new Ratio(between(0.03, 0.15)));
        };
    }

    private RunSetup.Reference reference(double flow) {
        double pulsesPerLitre = between(60, span.pulsesPerSecondMost) / flow;
        int count = random.nextInt(2, 6);
        double lowest = flow * between(0.15, 0.35);
        double highest = flow * between(2.2, 4);
        List<ReferenceCurve.Point> points = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            double at = lowest + (highest - lowest) * i / (count - 1);
            double constant = pulsesPerLitre * (1 + between(-CURVE_SPAN, CURVE_SPAN));
            points.add(new ReferenceCurve.Point(new FlowRate(at), new PulseConstant(constant)));
        }
        ReferenceCurve curve = new ReferenceCurve(points);
        double fastest = curve.highestPulsesPerSecond() * 1.2;
        long debounce =
                chance(0.5) ? 0 : Math.min(500_000, (long) (1e9 / fastest / 4 * between(0.2, 1)));
        return new RunSetup.Reference(
                certificate("INV-REF", between(0.0005, 0.0015)),
                curve,
                debounce,
                fastest,
                1.7,
                0.1,
                twoChannels);
    }

    /** How far a certified point lies from the curve's middle at most. */
    private static final double CURVE_SPAN = 0.0005;

    private RunSetup.Scale scale(double kilograms) {
        MassUnit unit = chance(0.5) ? MassUnit.KILOGRAM : MassUnit.POUND;
        double step = 0.5;
        double finest = Mass.of(1, MassUnit.KILOGRAM).in(unit) * kilograms / STEPS_LEAST;
        for (double candidate : new double[] {0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001}) {
            step = step > finest ? candidate : step;
        }
        Mass resolution = Mass.of(step, unit);
        return new RunSetup.Scale(
                certificate("INV-SCALE", between(0.0002, 0.0005)),
                unit,
                resolution,
                new Mass(kilograms * between(3, 6)),
                new Mass(resolution.kilograms() * 5),
                Scenario.seconds(2),
                Scenario.seconds(2));
    }

    /** A catch is at least so many of the scale's steps. */
    private static final double STEPS_LEAST = 2000;

    private static Certificate certificate(String serial, double expanded) {
        return new Certificate(serial, DAY.minusDays(100), DAY.plusDays(200), expanded);
    }

    private RunSetup.Truck truck(double flow) {
        double pulsesPerLitre = between(20, 250) / flow;
        Control control = pick(Control.values());
        TruckConstant constant =
                switch (pick(TruckConstant.Form.values())) {
                    case PULSES_PER_VOLUME ->
                            new TruckConstant(
                                    TruckConstant.Form.PULSES_PER_VOLUME,
                                    new PulseConstant(pulsesPerLitre).per(VolumeUnit.US_GALLON),
                                    VolumeUnit.US_GALLON,
                                    0.01,
                                    0.01,
                                    1e6,
                                    Optional.empty());
                    case VOLUME_PER_PULSE ->
                            new TruckConstant(
                                    TruckConstant.Form.VOLUME_PER_PULSE,
                                    1 / pulsesPerLitre,
                                    VolumeUnit.LITRE,
                                    1e-6,
                                    1e-6,
                                    100,
                                    Optional.empty());
                    case PERCENT_OF_READING ->
                            new TruckConstant(
                                    TruckConstant.Form.PERCENT_OF_READING,
                                    100,
                                    VolumeUnit.LITRE,
                                    0.1,
                                    50,
                                    200,
                                    Optional.of(new PulseConstant(pulsesPerLitre)));
                };
        return new RunSetup.Truck("INV-" + random.nextInt(100, 1000), constant, control, 0);
    }

    private RunSetup.Plan plan(
            Window window,
            FlowBy flowBy,
            MeasureBy measureBy,
            boolean diverter,
            int slots,
            long catchNanos) {
        // Without a diverter a purge would go into the tank that is about to be weighed.
        double purge =
                window == Window.FLYING
                        ? between(8, 15)
                        : diverter && chance(0.5) ? between(5, 10) : 0;
        return new RunSetup.Plan(
                window,
                flowBy,
                measureBy,
                Scenario.seconds(purge),
                Scenario.seconds(2),
                slots,
                0.02,
                Scenario.seconds(60),
                catchNanos,
                Scenario.seconds(2),
                Scenario.seconds(between(8, 15)),
                Scenario.seconds(60),
                chance(0.5) ? 0 : Scenario.seconds(20),
                new Ratio(between(0.005, 0.009)),
                0.03,
                0.1,
                0.05,
                Scenario.seconds(60));
    }

    private boolean chance(double probability) {
        return random.nextDouble() < probability;
    }

    private double between(double least, double most) {
        return least + (most - least) * random.nextDouble();
    }

    private <T> T pick(T[] values) {
        return values[random.nextInt(values.length)];
    }
}
