package catchbay.record;

import catchbay.metrology.Certificate;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.TruckConstant.Form;
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
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Window;
import catchbay.run.ScaleTests;
import catchbay.signal.PulseRule;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Reads a setup from its text form. Every default here is a row of {@code src/docs/settings.md},
 * with its source.
 */
final class SetupReader {

    /** A hundredth of a lane is less than any nozzle's width. */
    private static final double LANES_MIN = 0.01;

    private static final double LANES_MAX = 20;

    /** The smallest rate in litres or kilograms: a millionth is nothing that a truck could give. */
    private static final double RATE_MIN = 1e-6;

    private static final long SECOND = 1_000_000_000L;
    private static final long DAY_SECONDS = 86_400L;

    private static final Measure<Mass> MASS_ABOVE_ZERO =
            Measure.MASS.within("above zero", mass -> mass.kilograms() > 0);

    static final Measure<Speed> SPEED_ABOVE_ZERO =
            Measure.SPEED.within("above zero", speed -> speed.metresPerSecond() > 0);

    /**
     * Pulses for one mile of road; the speed constants of trucks are told per mile or per
     * kilometre.
     */
    private static final Measure<Double> PULSES_PER_DISTANCE =
            Measure.<Double>none()
                    .or("pulses_per_mile", n -> n)
                    .or(
                            "pulses_per_km",
                            n ->
                                    n
                                            * (Speed.ofMilesPerHour(1).metresPerSecond()
                                                    / Speed.ofKilometresPerHour(1)
                                                            .metresPerSecond()))
                    .within("from 1 to 10000000", n -> n >= 1 && n <= 1e7);

    private final Fields document;

    SetupReader(Fields document) {
        this.document = document;
    }

    RunSetup read(Optional<LocalDate> dayOtherwise) {
        Fields bay = document.sectionOrDefaults("bay");
        String name = bay.text("name", "bay");
        LocalDate day =
                bay.has("day") || dayOtherwise.isEmpty() ? bay.date("day") : dayOtherwise.get();
        Optional<RunSetup.Reference> reference =
                document.optionalSection("reference").map(SetupReader::reference);
        Optional<RunSetup.Scale> scale = document.optionalSection("scale").map(SetupReader::scale);
        Optional<RunSetup.Diverter> diverter =
                document.optionalSection("diverter").map(SetupReader::diverter);
        RunSetup.Asked asked = asked(document.section("asked"));
        RunSetup.Truck truck = truck(document.section("truck"));
        RunSetup.Plan plan =
                plan(
                        document.section("catch"),
                        reference.isPresent(),
                        diverter.isPresent(),
                        asked.pulsesPerMile().isPresent()
                                && truck.speedSource() == RunSetup.SpeedSource.PULSES);
        return new RunSetup(
                name,
                day,
                reference,
                scale,
                diverter,
                LiquidText.read(
                        document.sectionOrDefaults("liquid"),
                        scale.isPresent(),
                        document.optionalSection("air")),
                truck,
                asked,
                reported(document.sectionOrDefaults("reported"), plan.window()),
                plan,
                DoubtsText.read(document, scale),
                SessionText.judgement(document.sectionOrDefaults("verdict")),
                SessionText.session(document.sectionOrDefaults("session")),
                RepeatsText.read(document.sectionOrDefaults("repeats")),
                document.optionalSection("guard")
                        .map(guard -> GuardText.guard(guard, scale.map(RunSetup.Scale::restBand))),
                document.optionalSection("part").map(GuardText::part));
    }

    private static Certificate certificate(
            Fields from,
            double uncertaintyPercentOtherwise,
            Supplier<Measure<Ratio>> measure,
            Optional<String> liquid) {
        String serial = from.text("serial");
        LocalDate date = from.date("date");
        LocalDate expiry = from.date("expiry");
        Ratio uncertainty =
                from.quantity(
                        "uncertainty", measure.get(), Ratio.ofPercent(uncertaintyPercentOtherwise));
        Certificate.Conditions conditions =
                new Certificate.Conditions(
                        from.optionalText("laboratory"),
                        liquid,
                        from.optionalQuantity("calibrated", DoubtsText.WARMTH));
        return from.made(
                () -> new Certificate(serial, date, expiry, uncertainty.value(), conditions));
    }

    private static RunSetup.Reference reference(Fields from) {
        Certificate certificate =
                certificate(from, 0.5, () -> Measure.UNCERTAINTY, from.optionalText("liquid"));
        List<ReferenceCurve.Point> points = new ArrayList<>();
        for (Fields point : from.sections("points")) {
            points.add(
                    new ReferenceCurve.Point(
                            point.quantity("flow", Measure.FLOW),
                            point.quantity("", Measure.PULSE_CONSTANT),
                            point.optionalQuantity("uncertainty", Measure.UNCERTAINTY)));
        }
        ReferenceCurve curve = from.made(() -> new ReferenceCurve(points));
        return new RunSetup.Reference(
                certificate,
                curve,
                duration(from, "debounce", 0, 1, 0L),
                from.number(
                        "rate_max_hertz",
                        Double.MIN_VALUE,
                        1e6,
                        curve.highestPulsesPerSecond() * 1.25),
                from.number("leap_ratio", 1.01, 100, PulseRule.LEAP_RATIO),
                from.quantity("even", Measure.SHARE, new Ratio(PulseRule.EVEN_RATIO_MAX)).value(),
                from.whole("channels", 1, 2, 1) == 2);
    }

    /** Where U = base + share x load, one of the two may be nothing. */
    private static Measure<Ratio> certifiedShare(Fields scale) {
        return scale.optionalQuantity("uncertainty_base", DoubtsText.MASS)
                        .filter(base -> base.kilograms() > 0)
                        .isPresent()
                ? Measure.SHARE
                : Measure.UNCERTAINTY;
    }

    private static RunSetup.Scale scale(Fields from) {
        Certificate certificate =
                certificate(from, 0.2, () -> certifiedShare(from), Optional.empty());
        MassUnit unit = from.named("unit", MassUnit::ofSymbol);
        Mass resolution = from.quantity("resolution", MASS_ABOVE_ZERO);
        Mass capacity = from.quantity("capacity", MASS_ABOVE_ZERO);
        return new RunSetup.Scale(
                certificate,
                unit,
                resolution,
                capacity,
                from.quantity("rest_band", MASS_ABOVE_ZERO, resolution),
                duration(from, "rest", 0, 600, 3 * SECOND),
                duration(from, "silent", 1, 600, 2 * SECOND),
                tests(from));
    }

    private static ScaleTests tests(Fields from) {
        Optional<Integer> within =
                from.has("weights_within_days")
                        ? Optional.of(
                                (int) from.whole("weights_within_days", 1, ScaleTests.DAYS_MAX))
                        : Optional.empty();
        Optional<ScaleTests.Weights> weights =
                from.optionalText("weights_test")
                        .map(test ->
                                new ScaleTests.Weights(
                                        test,
                                        from.date("weights_day"),
                                        from.flag("weights_passed"),
                                        from.quantity("weights_heaviest", MASS_ABOVE_ZERO)));
        Optional<ScaleTests.Shunt> shunt =
                from.optionalText("shunt_test")
                        .map(test ->
                                new ScaleTests.Shunt(
                                        test, from.date("shunt_day"), from.flag("shunt_passed")));
        return new ScaleTests(within, weights, shunt);
    }

    private static RunSetup.Diverter diverter(Fields from) {
        return new RunSetup.Diverter(
                from.choice("feedback", RunSetup.Feedback.class),
                duration(from, "travel_limit", 1, 600, 3 * SECOND));
    }

    private static RunSetup.Truck truck(Fields from) {
        return new RunSetup.Truck(
                from.text("asset"),
                constant(from),
                from.named(
                        "control",
                        ConstantAdvice.Control::ofKey,
                        ConstantAdvice.Control.CLOSED_ON_METER),
                duration(from, "debounce", 0, 1, 0L),
                from.choice(
                        "speed_source", RunSetup.SpeedSource.class, RunSetup.SpeedSource.PULSES));
    }

    private static TruckConstant constant(Fields from) {
        NumberOfConstant number = from.quantity("constant", NumberOfConstant.MEASURE);
        Optional<PulseConstant> base = from.optionalQuantity("base", Measure.PULSE_CONSTANT);
        VolumeUnit unit = number.unit;
        if (number.form == Form.PERCENT_OF_READING) {
            unit = from.named("base_unit", VolumeUnit::ofSuffix, VolumeUnit.US_GALLON);
        } else if (base.isPresent()) {
            throw from.refused("base", "a base goes with constant_percent only; leave it out");
        }
        Limits usual = Limits.usual(number.form);
        double step = from.number("step", Double.MIN_VALUE, 1e9, usual.step);
        double least = from.number("least", Double.MIN_VALUE, 1e9, usual.least);
        double most = from.number("most", Double.MIN_VALUE, 1e9, usual.most);
        VolumeUnit about = unit;
        return from.made(
                () -> new TruckConstant(number.form, number.value, about, step, least, most, base));
    }

    private static RunSetup.Asked asked(Fields from) {
        return new RunSetup.Asked(
                application(from),
                from.quantity("speed", SPEED_ABOVE_ZERO),
                from.optionalQuantity("", PULSES_PER_DISTANCE),
                from.flag("send_feeder", false));
    }

    static RunSetup.Application application(Fields from) {
        Optional<LiquidPerLane> direct =
                from.optionalQuantity(
                        "rate",
                        Measure.LIQUID_PER_LANE.within(
                                "0, or at least 0.000001 litres on a lane-kilometre",
                                rate -> told(rate.litresPerLaneKilometre())));
        Optional<LiquidPerSalt> preWet =
                from.optionalQuantity(
                        "rate",
                        Measure.LIQUID_PER_SALT.within(
                                "0, or at least 0.000001 litres to a tonne",
                                rate -> told(rate.litresPerTonne())));
        if (direct.isPresent() == preWet.isPresent()) {
            throw from.refused(
                    "rate",
                    direct.isPresent()
                            ? "it is given per lane and per salt; keep the one that the truck is "
                                    + "set to"
                            : "it is missing; add it as rate_us_gal_per_lane_mile or "
                                    + "rate_litres_per_lane_km (direct "
                                    + "application), or rate_us_gal_per_ton or "
                                    + "rate_litres_per_tonne (pre-wet)");
        }
        if (direct.isPresent()) {
            return new RunSetup.Application.Direct(
                    direct.get(), from.number("lanes", LANES_MIN, LANES_MAX));
        }
        double lanes = from.number("lanes", LANES_MIN, LANES_MAX, Double.NaN);
        Measure<SaltPerDistance> salt =
                Measure.SALT_PER_DISTANCE
                        .or(
                                "lb_per_lane_mile",
                                n -> SaltPerDistance.ofPoundsPerLaneMile(n, given(lanes)))
                        .or("kg_per_lane_km", n -> new SaltPerDistance(n * given(lanes)));
        return new RunSetup.Application.PreWet(
                preWet.get(),
                from.quantity(
                        "salt",
                        salt.within(
                                "0, or at least 0.000001 kg on a kilometre",
                                rate -> told(rate.kilogramsPerKilometre()))),
                from.flag("salt_reported", false),
                from.optionalQuantity("feeder", Measure.MASS_PER_PULSE));
    }

    /** Whether something is asked for that a speed can be found for, or nothing at all. */
    private static boolean told(double rate) {
        return rate == 0 || rate >= RATE_MIN;
    }

    private static double given(double lanes) {
        if (Double.isNaN(lanes)) {
            throw new IllegalArgumentException(
                    "salt per lane needs the number of lanes; add lanes");
        }
        return lanes;
    }

    private static RunSetup.Reported reported(Fields from, Window window) {
        Source source =
                from.choice(
                        "source",
                        Source.class,
                        window == Window.FLYING ? Source.PULSES : Source.DISPLAY);
        return switch (source) {
            case DISPLAY ->
                    new RunSetup.Reported.Display(
                            from.quantity("step", Measure.VOLUME, Volume.ofUsGallons(0.1)),
                            duration(from, "lag", 0, 600, 2 * SECOND),
                            from.quantity("band", Measure.SHARE, Ratio.ofPercent(20)));
            case LINE ->
                    new RunSetup.Reported.RunningLine(
                            from.quantity("step", Measure.VOLUME, Volume.ofUsGallons(0.1)),
                            duration(from, "lag", 0, 600, SECOND),
                            duration(from, "fresh", 1, 600, 2 * SECOND));
            case PULSES -> new RunSetup.Reported.MeterPulses();
            case NOTHING -> new RunSetup.Reported.Nothing();
        };
    }

    /** How the truck's own figure is learned, as settings call it. */
    enum Source {
        DISPLAY,
        LINE,
        PULSES,
        /** In the traces of the bay's own tests only. */
        NOTHING
    }

    private static RunSetup.Plan plan(
            Fields from, boolean metered, boolean diverted, boolean speedPlayed) {
        Window window =
                from.choice("window", Window.class, diverted ? Window.FLYING : Window.STANDING);
        boolean settles = window == Window.FLYING && metered;
        return new RunSetup.Plan(
                window,
                from.choice(
                        "flow_by",
                        FlowBy.class,
                        speedPlayed ? FlowBy.GROUND_SPEED : FlowBy.OPERATOR),
                from.choice(
                        "measure_by",
                        MeasureBy.class,
                        metered ? MeasureBy.REFERENCE : MeasureBy.SCALE),
                duration(from, "purge", 0, RunSetup.PURGE_SECONDS_MAX, diverted ? 10 * SECOND : 0L),
                duration(from, "settle_slot", 1, 60, SECOND),
                (int) from.whole("settle_slots", 0, 1000, settles ? 5 : 0),
                from.quantity("settle", Measure.SHARE, Ratio.ofPercent(2)).value(),
                duration(from, "settle_limit", 1, 3600, 60 * SECOND),
                from.quantity("", durations(1, DAY_SECONDS)),
                duration(from, "silence", 1, 600, 2 * SECOND),
                duration(from, "drip", 0, RunSetup.DRIP_SECONDS_MAX, 10 * SECOND),
                duration(from, "rest_limit", 1, 3600, 60 * SECOND),
                duration(from, "drain", 0, DAY_SECONDS, 30 * SECOND),
                from.quantity("cross_check", Measure.SHARE, Ratio.ofPercent(1)),
                from.quantity("unsteady", Measure.SHARE, Ratio.ofPercent(5)).value(),
                from.quantity("ramp_error", Measure.SHARE, Ratio.ofPercent(10)).value(),
                from.quantity("ramp_share", Measure.SHARE, Ratio.ofPercent(5)).value(),
                duration(from, "answer_limit", 1, DAY_SECONDS, 600 * SECOND));
    }

    /** A duration from {@code least} (0 or 1 ns) to so many seconds. */
    private static long duration(
            Fields from, String stem, long least, long mostSeconds, long otherwiseNanos) {
        return from.quantity(stem, durations(least, mostSeconds), otherwiseNanos);
    }

    private static Measure<Long> durations(long leastNanos, long mostSeconds) {
        return Measure.DURATION.within(
                (leastNanos == 0 ? "from 0 to " : "above 0 and at most ")
                        + mostSeconds
                        + " seconds",
                nanos -> nanos >= leastNanos && nanos <= mostSeconds * SECOND);
    }

    /** The number of a truck's constant; the ending of its key says what the number means. */
    private record NumberOfConstant(Form form, double value, VolumeUnit unit) {

        static final Measure<NumberOfConstant> MEASURE = measure();

        private static Measure<NumberOfConstant> measure() {
            Measure<NumberOfConstant> measure = Measure.none();
            for (VolumeUnit unit : VolumeUnit.values()) {
                measure =
                        measure.or(
                                SetupWriter.pulsesPer(unit),
                                n -> new NumberOfConstant(Form.PULSES_PER_VOLUME, n, unit));
            }
            for (VolumeUnit unit : VolumeUnit.values()) {
                measure =
                        measure.or(
                                SetupWriter.perPulse(unit),
                                n -> new NumberOfConstant(Form.VOLUME_PER_PULSE, n, unit));
            }
            return measure.or(
                    "percent",
                    n -> new NumberOfConstant(Form.PERCENT_OF_READING, n, VolumeUnit.US_GALLON));
        }
    }

    /** What can be entered as a constant where nothing else is said. Common practice, no source. */
    private record Limits(double step, double least, double most) {
        static Limits usual(Form form) {
            return switch (form) {
                case PULSES_PER_VOLUME -> new Limits(0.1, 0.1, 99_999.9);
                case VOLUME_PER_PULSE -> new Limits(0.000_01, 0.000_01, 9.999_99);
                case PERCENT_OF_READING -> new Limits(0.1, 50, 200);
            };
        }
    }
}
