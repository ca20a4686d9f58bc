package catchbay.record;

import catchbay.metrology.Repeatability;
import catchbay.plan.TestPlan;
import catchbay.plan.TestPlan.Aim;
import catchbay.plan.TestPlan.Length;
import catchbay.plan.TestPlan.Order;
import catchbay.plan.TestPlan.Point;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.MeasureBy;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A plan as text. Keys, units, ranges and defaults are listed in {@code src/docs/plan.md}. */
public final class PlanText {

    private static final long SECOND = 1_000_000_000L;
    private static final long DAY_SECONDS = 86_400;
    private static final long PULSES_MAX = 1_000_000_000L;

    private static final Measure<Ratio> WANTED =
            Measure.RATIO.within(
                    "above 0 and at most 100 %", ratio -> ratio.value() > 0 && ratio.value() <= 1);
    private static final Measure<Volume> VOLUME_ABOVE_ZERO =
            Measure.VOLUME.within("above zero", volume -> volume.litres() > 0);
    private static final Measure<FlowRate> FLOW_ABOVE_ZERO =
            Measure.FLOW.within("above zero", flow -> flow.litresPerSecond() > 0);
    private static final Measure<Long> DURATION =
            Measure.DURATION.within(
                    "from 0 to " + DAY_SECONDS + " seconds",
                    nanos -> nanos >= 0 && nanos <= DAY_SECONDS * SECOND);
    private static final Measure<Long> DRIP =
            Measure.DURATION.within(
                    "from 0 to " + RunSetup.DRIP_SECONDS_MAX + " seconds",
                    nanos -> nanos >= 0 && nanos <= RunSetup.DRIP_SECONDS_MAX * SECOND);
    private static final Measure<Long> DURATION_ABOVE_ZERO =
            Measure.DURATION.within(
                    "above 0 and at most " + DAY_SECONDS + " seconds",
                    nanos -> nanos > 0 && nanos <= DAY_SECONDS * SECOND);

    private static final Measure<Double> WARMING =
            Measure.TEMPERATURE_DIFFERENCE.within(
                    "from 0 to 50 kelvin", kelvin -> kelvin >= 0 && kelvin <= 50);
    private static final Measure<Double> WARMING_ABOVE_ZERO =
            Measure.TEMPERATURE_DIFFERENCE.within(
                    "above 0 and at most 50 kelvin", kelvin -> kelvin > 0 && kelvin <= 50);

    private static final double WATTS_MAX = 1e6;

    /**
     * Where the plan does not say. Common practice, no source: it moves a brine's volume by about
     * 0.2 %.
     */
    private static final double KELVIN_OTHERWISE = 5;

    private PlanText() {}

    /**
     * Reads a plan; what is missing and has a documented default takes it.
     *
     * @throws DocumentException with a sentence, when a value is missing, unknown, unreadable or
     *     out of its range
     */
    public static TestPlan read(Fields document) {
        Optional<Repeatability.Plan> repeats =
                document.optionalSection("repeats").map(RepeatsText::plan);
        List<Point> points = points(document);
        TestPlan plan =
                document.made(() ->
                        new TestPlan(
                                document.text("truck"),
                                document.optionalSection("application")
                                        .map(SetupReader::application),
                                points,
                                bands(document),
                                order(document),
                                repeats,
                                document.quantity("wanted", WANTED),
                                length(document.sectionOrDefaults("catch")),
                                flush(document.sectionOrDefaults("catch")),
                                tank(document.sectionOrDefaults("tank")),
                                liquid(document.sectionOrDefaults("liquid")),
                                warming(document.sectionOrDefaults("liquid")),
                                document.optionalSection("granular").map(PlanText::granular),
                                times(document.sectionOrDefaults("times")),
                                verification(document.sectionOrDefaults("verification")),
                                document.optionalSection("verdict").map(SessionText::judgement),
                                alone(document.sectionOrDefaults("alone"))));
        document.finish();
        return plan;
    }

    private static List<Point> points(Fields from) {
        List<Point> points = new ArrayList<>();
        for (Fields item : from.sections("points")) {
            Optional<Speed> speed = item.optionalQuantity("speed", SetupReader.SPEED_ABOVE_ZERO);
            Optional<FlowRate> flow = item.optionalQuantity("flow", FLOW_ABOVE_ZERO);
            if (speed.isPresent() == flow.isPresent()) {
                throw item.refused(
                        speed.isPresent()
                                ? "a point has a speed or a flow, not both; keep one of them"
                                : "a point needs its speed or its flow; add speed_mph or"
                                        + " flow_us_gal_per_min");
            }
            points.add(
                    new Point(
                            speed.<Aim>map(Aim.AtSpeed::new)
                                    .orElseGet(() -> new Aim.AtFlow(flow.orElseThrow())),
                            item.optionalText("outlet"),
                            measure(item)));
        }
        return points;
    }

    /** By what is measured, where that is said. */
    private static Optional<TestPlan.Measure> measure(Fields from) {
        Optional<MeasureBy> by =
                from.has("measure_by")
                        ? Optional.of(from.choice("measure_by", MeasureBy.class))
                        : Optional.empty();
        Optional<String> reference = from.optionalText("reference");
        if (reference.isPresent() && by.equals(Optional.of(MeasureBy.SCALE))) {
            throw from.refused(
                    "reference", "the scale measures here, so take this or measure_by out");
        }
        return by.isEmpty() && reference.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new TestPlan.Measure(
                                reference.isPresent() ? Optional.of(MeasureBy.REFERENCE) : by,
                                reference));
    }

    private static List<TestPlan.Band> bands(Fields from) {
        List<TestPlan.Band> bands = new ArrayList<>();
        for (Fields item : from.has("bands") ? from.sections("bands") : List.<Fields>of()) {
            FlowRate least = item.quantity("from", Measure.FLOW, new FlowRate(0));
            Optional<FlowRate> most = item.optionalQuantity("to", FLOW_ABOVE_ZERO);
            TestPlan.Measure measure =
                    measure(item)
                            .orElseThrow(() ->
                                    item.refused(
                                            "a band says by what it is measured; add measure_by"
                                                    + " or reference"));
            bands.add(item.made(() -> new TestPlan.Band(least, most, measure)));
        }
        return bands;
    }

    /** How an order is called. */
    private enum Way {
        UP,
        DOWN,
        UP_AND_DOWN,
        RANDOM
    }

    private static Order order(Fields from) {
        Way way = from.choice("order", Way.class, Way.UP);
        if (way != Way.RANDOM && from.has("seed")) {
            throw from.refused("seed", "a seed goes with order = \"random\" only; take it out");
        }
        return switch (way) {
            case UP -> new Order.Up();
            case DOWN -> new Order.Down();
            case UP_AND_DOWN -> new Order.UpAndDown();
            // Written down, so that the same plan is the same order wherever it is read.
            case RANDOM -> new Order.Shuffled(from.whole("seed", 0, Long.MAX_VALUE));
        };
    }

    private static Length length(Fields from) {
        Optional<Long> seconds = from.optionalQuantity("", DURATION_ABOVE_ZERO);
        Optional<Volume> volume = from.optionalQuantity("least", VOLUME_ABOVE_ZERO);
        Optional<Long> pulses =
                from.has("least_pulses")
                        ? Optional.of(from.whole("least_pulses", 1, PULSES_MAX))
                        : Optional.empty();
        Optional<Long> longest = from.optionalQuantity("longest", DURATION_ABOVE_ZERO);
        boolean atLeast = volume.isPresent() || pulses.isPresent();
        if (seconds.isPresent() && atLeast) {
            throw from.refused(
                    "a catch lasts so many seconds, or as long as so many pulses or so much volume"
                            + " takes; keep one of them");
        }
        if (longest.isPresent() && (seconds.isPresent() || atLeast)) {
            throw from.refused(
                    "a longest catch goes with one that is found from the uncertainty wanted; take"
                            + " it or the other length out");
        }
        if (seconds.isPresent()) {
            return new Length.Fixed(seconds.get());
        }
        return atLeast
                ? new Length.AtLeast(pulses, volume)
                : new Length.Derived(longest.orElse(600 * SECOND));
    }

    private static TestPlan.Flush flush(Fields from) {
        return new TestPlan.Flush(
                from.optionalQuantity("purge", Measure.VOLUME),
                from.optionalQuantity("settle", Measure.VOLUME));
    }

    private static TestPlan.Tank tank(Fields from) {
        return new TestPlan.Tank(
                from.optionalQuantity("room", VOLUME_ABOVE_ZERO),
                from.choice("drained", TestPlan.Drained.class, TestPlan.Drained.EACH),
                from.optionalQuantity("drain", DURATION),
                from.optionalQuantity("drip", DRIP));
    }

    private static TestPlan.Liquid liquid(Fields from) {
        return new TestPlan.Liquid(
                from.optionalQuantity("on_truck", VOLUME_ABOVE_ZERO),
                from.quantity("reserve", Measure.VOLUME, Volume.ZERO),
                from.quantity("recirculated", Measure.SHARE, Ratio.ZERO),
                from.optionalQuantity("storage_room", Measure.VOLUME),
                from.flag("refill", true),
                from.quantity("refill", DURATION, 600 * SECOND));
    }

    private static TestPlan.Warming warming(Fields from) {
        Optional<Double> watts =
                from.has("pump_watts")
                        ? Optional.of(from.number("pump_watts", Double.MIN_VALUE, WATTS_MAX))
                        : Optional.empty();
        Optional<Double> perHour = from.optionalQuantity("warming_per_hour", WARMING);
        double most = from.quantity("warming_most", WARMING_ABOVE_ZERO, KELVIN_OTHERWISE);
        return from.made(() -> new TestPlan.Warming(watts, perHour, most));
    }

    private static TestPlan.Granular granular(Fields from) {
        return new TestPlan.Granular(
                from.flag("on"), from.optionalText("gate"), from.optionalText("hopper"));
    }

    private static TestPlan.Times times(Fields from) {
        return new TestPlan.Times(
                from.quantity("checklist", DURATION, 300 * SECOND),
                from.quantity("answer", DURATION, 15 * SECOND),
                from.quantity("adjust", DURATION, 300 * SECOND));
    }

    private static TestPlan.Alone alone(Fields from) {
        return new TestPlan.Alone(
                from.quantity("presence", DURATION_ABOVE_ZERO, 900 * SECOND),
                from.quantity("time_limit", DURATION_ABOVE_ZERO, 8 * 3600 * SECOND),
                (int) from.whole("skipped_most", 1, TestPlan.POINTS_MAX, 3));
    }

    private static TestPlan.Verification verification(Fields from) {
        List<Point> points = from.has("points") ? points(from) : List.of();
        int repeats = (int) from.whole("repeats", 1, Repeatability.RUNS_MAX, 1);
        return new TestPlan.Verification(points, repeats);
    }
}
