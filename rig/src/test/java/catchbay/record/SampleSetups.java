package catchbay.record;

import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice.Control;
import catchbay.metrology.DecisionRule;
import catchbay.metrology.Input;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidDensity.Mark;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.metrology.LiquidDensity.Term;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.Repeatability;
import catchbay.metrology.Tolerance;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Density;
import catchbay.quantity.FlowRate;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.LiquidPerSalt;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Pressure;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Doubts;
import catchbay.run.Guard;
import catchbay.run.Judgement;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Reported;
import catchbay.run.ScaleTests;
import catchbay.run.Session;
import catchbay.signal.TemperaturePlace;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** Setups drawn from a seed: every part present or absent, numbers with all their digits. */
final class SampleSetups {

    private static final long SECOND = 1_000_000_000L;

    private final RandomGenerator random;

    SampleSetups(RandomGenerator random) {
        this.random = random;
    }

    RunSetup draw() {
        Optional<RunSetup.Reference> reference = maybe(this::reference);
        Optional<RunSetup.Scale> scale = maybe(this::scale);
        Optional<RunSetup.Diverter> diverter =
                maybe(() ->
                        new RunSetup.Diverter(
                                one(RunSetup.Feedback.values()), nanos(1, 600 * SECOND)));
        return new RunSetup(
                word(),
                day(),
                reference,
                scale,
                diverter,
                liquid(),
                new RunSetup.Truck(
                        word(),
                        constant(),
                        one(Control.values()),
                        nanos(0, SECOND),
                        one(RunSetup.SpeedSource.values())),
                new RunSetup.Asked(
                        application(),
                        new Speed(between(0.01, 50)),
                        maybe(() -> between(1, 1e7)),
                        random.nextBoolean()),
                reported(),
                plan(),
                doubts(reference.isPresent(), scale.isPresent(), diverter.isPresent()),
                judgement(),
                session(),
                repeats(),
                maybe(this::guard),
                maybe(this::part));
    }

    private Guard guard() {
        Temperature coldest = new Temperature(between(-20, 10));
        return new Guard(
                nanos(1, 3600 * SECOND),
                nanos(1, 3600 * SECOND),
                new Ratio(between(1.01, 1000)),
                random.nextLong(2, 1_000_001),
                mass(),
                maybe(() -> new Pressure(between(0, 1000))),
                maybe(() -> coldest),
                maybe(() -> new Temperature(between(11, 60))),
                random.nextLong(1_000_000) * 1_000_000,
                nanos(1, 86_400 * SECOND));
    }

    private catchbay.run.Part part() {
        long interval = nanos(1, 86_400 * SECOND);
        return new catchbay.run.Part(
                word(),
                random.nextInt(1, 1000),
                word(),
                maybe(this::word),
                maybe(() -> new catchbay.run.Part.Presence(interval, nanos(0, interval))),
                nanos(0, 86_400 * SECOND),
                maybe(() -> new Volume(between(1, 1e4))),
                new Volume(between(0, 1e4)),
                maybe(this::mass));
    }

    private RunSetup.Reference reference() {
        return new RunSetup.Reference(
                certificate(maybe(this::word)),
                curve(),
                nanos(0, SECOND),
                between(1e-3, 1e6),
                between(1.01, 100),
                share(),
                random.nextBoolean());
    }

    private RunSetup.Scale scale() {
        return new RunSetup.Scale(
                certificate(Optional.empty()),
                one(MassUnit.values()),
                mass(),
                mass(),
                mass(),
                nanos(0, 600 * SECOND),
                nanos(1, 600 * SECOND),
                tests());
    }

    private LocalDate day() {
        return LocalDate.of(2026, 1, 1).plusDays(random.nextInt(3000));
    }

    private ScaleTests tests() {
        return new ScaleTests(
                maybe(() -> random.nextInt(1, ScaleTests.DAYS_MAX + 1)),
                maybe(() ->
                        new ScaleTests.Weights(
                                word(),
                                day(),
                                random.nextBoolean(),
                                new Mass(random.nextDouble(1, 500)))),
                maybe(() -> new ScaleTests.Shunt(word(), day(), random.nextBoolean())));
    }

    private Doubts.Sensors sensors() {
        EnumSet<TemperaturePlace> places = EnumSet.of(one(TemperaturePlace.values()));
        places.add(one(TemperaturePlace.values()));
        return new Doubts.Sensors(places, between(0, 50), nanos(SECOND, 600 * SECOND));
    }

    /** What is not fitted has no doubts of its own to be written. */
    private Doubts doubts(boolean reference, boolean scale, boolean diverter) {
        boolean places = random.nextBoolean();
        return new Doubts(
                reference
                        ? new Doubts.Reference(
                                new Ratio(share()),
                                new Ratio(share()),
                                nanos(0, 60 * SECOND),
                                maybe(() -> new Temperature(between(-40, 0))),
                                maybe(() -> new Temperature(between(1, 60))))
                        : Doubts.Reference.USUAL,
                scale ? scaleDoubts() : Doubts.Scale.usual(new Mass(0)),
                diverter
                        ? new Doubts.Diverter(between(-10, 10), between(0, 10), word())
                        : Doubts.Diverter.USUAL,
                new Doubts.Temperatures(
                        places ? Optional.of(new Temperature(between(-40, 60))) : Optional.empty(),
                        places ? Optional.of(new Temperature(between(-40, 60))) : Optional.empty(),
                        maybe(() -> new Temperature(between(-40, 60))),
                        between(0, 50),
                        maybe(() -> between(-0.01, 0.01)),
                        maybe(this::sensors).orElse(Doubts.Sensors.NONE)),
                new Doubts.Line(new Volume(between(0, 50)), new Volume(between(0, 5)), 3),
                new Ratio(share()),
                new Ratio(share()),
                new Doubts.Scatter(new Ratio(share()), 7, new Ratio(share()), 3));
    }

    private Doubts.Scale scaleDoubts() {
        return new Doubts.Scale(
                mass(),
                mass(),
                mass(),
                mass(),
                mass(),
                mass(),
                mass(),
                mass(),
                new Ratio(share()),
                new Ratio(share()),
                mass(),
                maybe(random::nextBoolean));
    }

    private Judgement judgement() {
        DecisionRule rule =
                switch (random.nextInt(3)) {
                    case 0 -> new DecisionRule.SimpleAcceptance();
                    case 1 -> new DecisionRule.GuardBand(between(0.1, 3));
                    default -> new DecisionRule.FourWay(between(0.1, 3));
                };
        return new Judgement(
                one(Judgement.On.values()),
                Tolerance.within(new Ratio(between(0.001, 1)), word()),
                rule);
    }

    private Session session() {
        Optional<String> by = maybe(this::word);
        return new Session(
                by,
                one(Session.Stage.values()),
                by.isPresent() ? maybe(this::word) : Optional.empty(),
                random.nextBoolean() ? List.of() : List.of(word(), word()));
    }

    private Repeats repeats() {
        int least = 3 + random.nextInt(10);
        return new Repeats(
                new Repeatability.Plan(
                        least, least + random.nextInt(8), new Ratio(between(1e-5, 1))),
                1 + random.nextInt(Repeats.VOIDS_MAX),
                maybe(() -> new Repeats.Place(word(), 1 + random.nextInt(1000))));
    }

    private RunSetup.Liquid liquid() {
        Density air = new Density(between(0.5, 1.6));
        return random.nextBoolean()
                ? new RunSetup.Liquid(word(), new Density(between(500, 2500)), share(), air)
                : new RunSetup.Liquid(word(), basis(), air);
    }

    private LiquidDensity basis() {
        return new LiquidDensity(
                word(),
                maybe(() -> new MassFraction(between(0, 0.99))),
                new Density(between(500, 2500)),
                new Temperature(between(-10, 40)),
                maybe(() -> between(-2, 1)),
                List.of(
                        new Term(
                                one(Part.values()),
                                word(),
                                between(0.001, 10),
                                one(Input.Shape.values())),
                        new Term(
                                one(Part.values()),
                                word(),
                                between(0.001, 10),
                                one(Input.Shape.values()))),
                random.nextBoolean() ? List.of() : List.of(one(Mark.values())),
                random.nextBoolean() ? List.of() : List.of(word()),
                word());
    }

    private RunSetup.Plan plan() {
        return new RunSetup.Plan(
                one(RunSetup.Window.values()),
                one(RunSetup.FlowBy.values()),
                one(RunSetup.MeasureBy.values()),
                nanos(0, 3600 * SECOND),
                nanos(1, 60 * SECOND),
                random.nextInt(1001),
                share(),
                nanos(1, 3600 * SECOND),
                nanos(1, 86_400 * SECOND),
                nanos(1, 600 * SECOND),
                nanos(0, 3600 * SECOND),
                nanos(1, 3600 * SECOND),
                nanos(0, 86_400 * SECOND),
                new Ratio(share()),
                share(),
                share(),
                share(),
                nanos(1, 86_400 * SECOND));
    }

    private Application application() {
        return random.nextBoolean()
                ? new Application.Direct(new LiquidPerLane(between(0, 500)), between(0.1, 20))
                : new Application.PreWet(
                        new LiquidPerSalt(between(0, 500)),
                        new SaltPerDistance(between(0, 2000)),
                        random.nextBoolean(),
                        maybe(this::mass));
    }

    private Reported reported() {
        return switch (random.nextInt(4)) {
            case 0 ->
                    new Reported.Display(
                            new Volume(between(0, 10)), nanos(0, 600 * SECOND), new Ratio(share()));
            case 1 ->
                    new Reported.RunningLine(
                            new Volume(between(0, 10)),
                            nanos(0, 600 * SECOND),
                            nanos(1, 600 * SECOND));
            case 2 -> new Reported.MeterPulses();
            default -> new Reported.Nothing();
        };
    }

    private TruckConstant constant() {
        TruckConstant.Form form = one(TruckConstant.Form.values());
        double value = between(0.001, 9999);
        Optional<PulseConstant> base =
                form == TruckConstant.Form.PERCENT_OF_READING
                        ? maybe(() -> new PulseConstant(between(0.1, 9999)))
                        : Optional.empty();
        return new TruckConstant(
                form,
                value,
                one(VolumeUnit.values()),
                between(1e-6, 1),
                value * between(0.1, 1),
                value * between(1, 10),
                base);
    }

    private Certificate certificate(Optional<String> liquid) {
        LocalDate date = LocalDate.of(2025, 1, 1).plusDays(random.nextInt(1000));
        return new Certificate(
                word(),
                date,
                date.plusDays(random.nextInt(1000)),
                share(),
                new Certificate.Conditions(
                        maybe(this::word), liquid, maybe(() -> new Temperature(between(-40, 60)))));
    }

    private ReferenceCurve curve() {
        List<ReferenceCurve.Point> points = new ArrayList<>();
        double flow = between(0.001, 0.1);
        boolean each = random.nextBoolean();
        for (int i = 0; i < 2 + random.nextInt(5); i++) {
            points.add(
                    new ReferenceCurve.Point(
                            new FlowRate(flow),
                            new PulseConstant(between(100, 110)),
                            each ? Optional.of(new Ratio(share())) : Optional.empty()));
            flow *= between(1.5, 3);
        }
        return new ReferenceCurve(points);
    }

    private Mass mass() {
        return new Mass(between(1e-4, 5000));
    }

    private double share() {
        return random.nextDouble();
    }

    private double between(double least, double most) {
        return random.nextDouble(least, most);
    }

    private long nanos(long least, long most) {
        // Also the round numbers that a person writes, and both bounds.
        return switch (random.nextInt(4)) {
            case 0 -> least;
            case 1 -> most;
            case 2 -> Math.max(least, random.nextLong(most) / 1_000_000 * 1_000_000);
            default -> random.nextLong(least, most);
        };
    }

    private String word() {
        String letters = "abcXYZ019 -/\"\\éλ漢😀";
        StringBuilder word = new StringBuilder("n");
        for (int i = random.nextInt(12); i > 0; i--) {
            int at = random.nextInt(letters.codePointCount(0, letters.length()));
            word.appendCodePoint(letters.codePointAt(letters.offsetByCodePoints(0, at)));
        }
        return word.toString();
    }

    private <T> T one(T[] of) {
        return of[random.nextInt(of.length)];
    }

    private <T> Optional<T> maybe(java.util.function.Supplier<T> maker) {
        return random.nextBoolean() ? Optional.of(maker.get()) : Optional.empty();
    }
}
