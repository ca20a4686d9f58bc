package catchbay.app;

import catchbay.plan.Ways;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Speed;
import catchbay.quantity.VolumeUnit;
import catchbay.record.PlanText;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.DoubleStream;

/**
 * Which points of a plan its bay can measure at what is put down, as far as the ranges of its
 * reference meters tell.
 */
final class PlanReach {

    /** Points are proposed in whole steps of these, in mph and in US gal/min. */
    private static final double SPEED_STEP = 1;

    private static final double FLOW_STEP = 0.5;

    /** Half, once and twice of what the settings ask for: common practice, no source. */
    private static final double[] USUAL_TIMES = {0.5, 1, 2};

    /** As far apart where those cannot be measured. Common practice, no source. */
    private static final double[] OTHER_TIMES = {1, 1.5, 2};

    private final Ways ways;
    private final RunSetup.Application application;
    private final boolean speeds;
    private final double most;

    /**
     * @param application what is put down
     * @param speeds whether points are speeds, in mph; else flows, in US gal/min
     * @param most the largest that a point may be
     */
    PlanReach(Ways ways, RunSetup.Application application, boolean speeds, double most) {
        this.ways = ways;
        this.application = application;
        this.speeds = speeds;
        this.most = most;
    }

    /** What a section {@code application} of a plan puts down. */
    static RunSetup.Application application(String section) {
        String plan = "truck = \"-\"\nwanted_percent = 1\npoints = [ { speed_mph = 1 } ]\n";
        return PlanText.read(TomlFile.of("answers", plan + section).fields())
                .application()
                .orElseThrow();
    }

    /** What a point asks for. */
    FlowRate flow(double point) {
        return speeds
                ? SetupCheck.askedFlow(
                        new RunSetup.Asked(
                                application, Speed.ofMilesPerHour(point), Optional.empty()))
                : new FlowRate(point * VolumeUnit.US_GALLON.litres() / 60);
    }

    boolean reaches(double point) {
        return ways.reach(flow(point), ways.usual().plan().measureBy());
    }

    /**
     * Half, once and twice of what the settings' speed asks for, where the bay can measure all of
     * them; else three that it can, as near to those as may be.
     */
    List<Double> usual() {
        double mph = ways.usual().asked().speed().milesPerHour();
        double once =
                speeds
                        ? mph
                        : new PlanReach(ways, application, true, most)
                                .flow(mph)
                                .perMinute(VolumeUnit.US_GALLON);
        List<Double> usual = times(once, USUAL_TIMES);
        if (usual.stream().allMatch(this::reaches)) {
            return usual;
        }
        TreeSet<Double> able = able();
        Double nearest = able.ceiling(usual.getFirst());
        if (nearest == null) {
            nearest = able.isEmpty() ? null : able.last() / 2;
        }
        List<Double> other =
                nearest == null
                        ? List.of()
                        : times(nearest, OTHER_TIMES).stream().filter(this::reaches).toList();
        return other.isEmpty() ? usual : other;
    }

    private List<Double> times(double once, double[] times) {
        return DoubleStream.of(times)
                .map(factor -> Math.clamp(factor * once, 0.01, most))
                .distinct()
                .boxed()
                .toList();
    }

    /** Round points that the bay can measure. */
    private TreeSet<Double> able() {
        double step = speeds ? SPEED_STEP : FLOW_STEP;
        TreeSet<Double> able = new TreeSet<>();
        for (int i = 1; i * step <= most; i++) {
            if (reaches(i * step)) {
                able.add(i * step);
            }
        }
        return able;
    }

    /**
     * Why points cannot be measured, and which could; empty where all can.
     *
     * @param points in the unit of the questions
     */
    Optional<String> refusal(List<BigDecimal> points) {
        List<String> beyond =
                points.stream()
                        .filter(point -> !reaches(point.doubleValue()))
                        .map(this::named)
                        .toList();
        return beyond.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        "The bay's reference meters ("
                                + ways.ranges()
                                + ") are not certified for "
                                + String.join(", ", beyond)
                                + (speeds ? "; at this rate " + within() : ""));
    }

    private String named(BigDecimal point) {
        String flow = gallons(flow(point.doubleValue()));
        return speeds ? point.toPlainString() + " mph (" + flow + ")" : flow;
    }

    private String within() {
        TreeSet<Double> able = able();
        return able.isEmpty()
                ? "no speed up to " + number(most) + " mph can be measured"
                : "speeds from "
                        + number(able.first())
                        + " to "
                        + number(able.last())
                        + " mph can be measured";
    }

    static String gallons(FlowRate flow) {
        return number(flow.perMinute(VolumeUnit.US_GALLON)) + " US gal/min";
    }

    private static String number(double number) {
        return Numeral.of(new BigDecimal(number), 4);
    }
}
