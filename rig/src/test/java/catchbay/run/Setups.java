package catchbay.run;

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
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A setup for tests, part by part. As it stands: 15 US gal/lane-mile at 20 mph (common practice, no
 * source) = 5 US gal/min for 90 s, flying, cut by a trigger, reference of 1000 pulses/US gal from 1
 * to 30 US gal/min, scale, the truck's own pulses at 600 pulses/US gal, the bay makes the ground
 * speed.
 */
final class Setups {

    static final long SECOND = 1_000_000_000L;

    /**
     * Weighs like the weights a scale is adjusted with, so that buoyancy is nothing: for sums by
     * head.
     */
    static final Density DENSE = Buoyancy.WEIGHTS;

    /** Nothing but what the certificates say: for sums by head. */
    static final Doubts NONE =
            new Doubts(
                    new Doubts.Reference(
                            Ratio.ZERO, Ratio.ZERO, 0, Optional.empty(), Optional.empty()),
                    new Doubts.Scale(
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            new Mass(0),
                            Ratio.ZERO,
                            Ratio.ZERO,
                            new Mass(0),
                            Optional.of(true)),
                    new Doubts.Diverter(0, 0, "by the test"),
                    new Doubts.Temperatures(
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            0,
                            Optional.of(0.0),
                            Doubts.Sensors.NONE),
                    new Doubts.Line(Volume.ZERO, Volume.ZERO, 0),
                    Ratio.ZERO,
                    Ratio.ZERO,
                    new Doubts.Scatter(Ratio.ZERO, 9, Ratio.ZERO, 9));

    private static final LocalDate DAY = LocalDate.of(2026, 1, 15);
    private static final Certificate REFERENCE =
            new Certificate("R-7", LocalDate.of(2025, 11, 3), LocalDate.of(2026, 11, 2), 0.002);
    private static final Certificate SCALE =
            new Certificate("S-1", LocalDate.of(2025, 11, 3), LocalDate.of(2026, 11, 2), 0.001);

    Window window = Window.FLYING;
    FlowBy flowBy = FlowBy.GROUND_SPEED;
    MeasureBy measureBy = MeasureBy.REFERENCE;
    boolean reference = true;
    double referenceLowest = 1;
    double referenceHighest = 30;
    long referenceDebounceNanos = 0;
    boolean twoChannels;
    boolean scale = true;
    double resolutionKilograms = 0.05;
    double restBandKilograms = 0.05;
    double capacityKilograms = 500;
    Optional<Feedback> diverter = Optional.of(Feedback.TRIGGER);
    Density density = DENSE;
    double truckConstant = 600;
    Control control = Control.CLOSED_ON_METER;
    Application application = new Application.Direct(LiquidPerLane.ofUsGallonsPerLaneMile(15), 1);
    Optional<Double> pulsesPerMile = Optional.of(36_000.0);
    Reported reported = new Reported.MeterPulses();
    boolean sendsFeeder;
    RunSetup.SpeedSource speedSource = RunSetup.SpeedSource.PULSES;
    double purgeSeconds = 10;
    int settleSlots = 5;
    double settleLimitSeconds = 60;
    double catchSeconds = 90;
    double silenceSeconds = 3;
    double dripSeconds = 10;
    double restLimitSeconds = 30;
    double drainSeconds = 20;
    double crossCheckRatio = 0.01;
    double rampShareMax = 0.05;
    double answerSeconds = 300;
    Doubts doubts = NONE;
    Session session = Session.USUAL;
    LocalDate day = DAY;
    Optional<Guard> guard = Optional.empty();
    Optional<Part> part = Optional.empty();

    /** Standing, no diverter: a display typed rest to rest, the operator at the valve. */
    static Setups display() {
        Setups setups = new Setups();
        setups.window = Window.STANDING;
        setups.flowBy = FlowBy.OPERATOR;
        setups.diverter = Optional.empty();
        setups.reported =
                new Reported.Display(Volume.ofUsGallons(0.01), 2 * SECOND, new Ratio(0.2));
        setups.pulsesPerMile = Optional.empty();
        setups.purgeSeconds = 0;
        setups.settleSlots = 0;
        return setups;
    }

    /**
     * Standing, scale only, no diverter: the bay makes the speed, the controller sends its total.
     */
    static Setups scaleOnly() {
        Setups setups = new Setups();
        setups.window = Window.STANDING;
        setups.reference = false;
        setups.measureBy = MeasureBy.SCALE;
        setups.diverter = Optional.empty();
        setups.reported = line();
        setups.purgeSeconds = 0;
        setups.settleSlots = 0;
        return setups;
    }

    static Reported line() {
        return new Reported.RunningLine(Volume.ofUsGallons(0.01), SECOND / 2, 2 * SECOND);
    }

    /** 10 US gal/ton on one ton a mile (common practice, no source): 5 US gal in half a mile. */
    static Application preWet(boolean saltReported, Optional<Mass> saltPerFeederPulse) {
        return new Application.PreWet(
                LiquidPerSalt.ofUsGallonsPerTon(10),
                SaltPerDistance.ofTonsPerMile(1),
                saltReported,
                saltPerFeederPulse);
    }

    RunSetup build() {
        PulseConstant thousand = PulseConstant.per(1000, VolumeUnit.US_GALLON);
        return new RunSetup(
                "test bay",
                day,
                reference ? Optional.of(reference(thousand)) : Optional.empty(),
                scale ? Optional.of(scale()) : Optional.empty(),
                diverter.map(feedback -> new RunSetup.Diverter(feedback, 2 * SECOND)),
                new RunSetup.Liquid("test liquid", density, 0.001, Buoyancy.AIR),
                new RunSetup.Truck("T-12", constant(), control, 0, speedSource),
                new RunSetup.Asked(
                        application, Speed.ofMilesPerHour(20), pulsesPerMile, sendsFeeder),
                reported,
                plan(),
                doubts,
                Judgement.USUAL,
                session,
                Repeats.USUAL,
                guard,
                part);
    }

    private RunSetup.Reference reference(PulseConstant constant) {
        return new RunSetup.Reference(
                REFERENCE,
                new ReferenceCurve(
                        List.of(
                                point(referenceLowest, constant),
                                point(referenceHighest, constant))),
                referenceDebounceNanos,
                1000,
                1.7,
                0.1,
                twoChannels);
    }

    private static ReferenceCurve.Point point(double usGallonsPerMinute, PulseConstant constant) {
        return new ReferenceCurve.Point(
                FlowRate.perMinute(usGallonsPerMinute, VolumeUnit.US_GALLON), constant);
    }

    private RunSetup.Scale scale() {
        return new RunSetup.Scale(
                SCALE,
                MassUnit.KILOGRAM,
                new Mass(resolutionKilograms),
                new Mass(capacityKilograms),
                new Mass(restBandKilograms),
                2 * SECOND,
                SECOND);
    }

    private TruckConstant constant() {
        return new TruckConstant(
                TruckConstant.Form.PULSES_PER_VOLUME,
                truckConstant,
                VolumeUnit.US_GALLON,
                0.1,
                1,
                9999,
                Optional.empty());
    }

    private RunSetup.Plan plan() {
        return new RunSetup.Plan(
                window,
                flowBy,
                measureBy,
                nanos(purgeSeconds),
                SECOND,
                settleSlots,
                0.02,
                nanos(settleLimitSeconds),
                nanos(catchSeconds),
                nanos(silenceSeconds),
                nanos(dripSeconds),
                nanos(restLimitSeconds),
                nanos(drainSeconds),
                new Ratio(crossCheckRatio),
                0.05,
                0.1,
                rampShareMax,
                nanos(answerSeconds));
    }

    static long nanos(double seconds) {
        return Math.round(seconds * 1e9);
    }
}
