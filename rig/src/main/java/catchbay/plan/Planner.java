package catchbay.plan;

import catchbay.plan.TestPlan.Point;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** From a plan and a bay to the forecast: each point by itself, then all of it in order. */
final class Planner {

    /** Points are the same whose flows are no further apart. Common practice, no source. */
    private static final double SAME_FLOW_RATIO = 0.01;

    private final TestPlan plan;
    private final KnownEnds ends;
    private final Ways ways;
    private final RunSetup bay;
    private final Optional<Volume> room;
    private final List<String> warnings = new ArrayList<>();

    Planner(TestPlan plan, Ways given, KnownEnds ends) {
        this.plan = plan;
        this.ends = ends;
        this.ways = given.each(setup -> planned(plan, setup));
        this.bay = ways.usual();
        this.room = room();
    }

    /** A setup with what a plan puts in place of it. */
    static RunSetup planned(TestPlan plan, RunSetup given) {
        RunSetup.Asked asked =
                new RunSetup.Asked(
                        plan.application().orElse(given.asked().application()),
                        given.asked().speed(),
                        given.asked().pulsesPerMile(),
                        given.asked().sendsFeeder());
        return given.with(asked, given.plan(), plan.judgement().orElse(given.judgement()));
    }

    /** What the tank holds, or the scale under it carries, whichever is less. */
    private Optional<Volume> room() {
        Optional<Volume> carried = bay.carried();
        if (plan.tank().room().isPresent() && carried.isPresent()) {
            return plan.tank().room().get().compareTo(carried.get()) < 0
                    ? plan.tank().room()
                    : carried;
        }
        return plan.tank().room().or(() -> carried);
    }

    PlanForecast forecast() {
        List<PointForecast> points = studied(plan.points(), false);
        List<PointForecast> verification = studied(plan.verification().points(), true);
        List<Integer> visits =
                Itinerary.of(
                        plan.order(),
                        points.stream()
                                .mapToDouble(point -> point.flow().litresPerSecond())
                                .toArray());
        Walk expected = new Walk(plan, bay, room, "");
        visits.forEach(i -> expected.catches(points.get(i), points.get(i).repeats()));
        expected.verify(verification);
        expected.over();
        int most = plan.repeats().orElse(bay.repeats().plan()).runsMax();
        Walk longest = new Walk(plan, bay, room, ", with so many,");
        visits.forEach(i -> longest.catches(points.get(i), most));
        longest.verify(verification);
        longest.over();
        if (expected.refusals().isEmpty() && !longest.refusals().isEmpty()) {
            warnings.add(
                    "With as many repeats as are allowed, "
                            + most
                            + " at a point, it cannot be finished: "
                            + longest.refusals().getFirst());
        }
        verified(points, verification);
        hand();
        List<String> refusals = new ArrayList<>(expected.refusals());
        granular(refusals);
        warmed(expected);
        warnings.addAll(PlanDoubts.of(plan, bay.carried()));
        Stream.concat(points.stream(), verification.stream())
                .forEach(point -> warnings.addAll(ends.warnings(point.flow())));
        return new PlanForecast(
                plan,
                bay,
                points,
                verification,
                visits,
                expected.steps(),
                room,
                expected.nanos(),
                Math.max(expected.nanos(), longest.nanos()),
                expected.drawn(),
                expected.warmedKelvin(),
                refusals,
                warnings);
    }

    private List<PointForecast> studied(List<Point> points, boolean verifying) {
        return points.stream()
                .map(point -> new PointStudy(plan, ways, point, room, ends, verifying).forecast())
                .toList();
    }

    private void warmed(Walk walk) {
        if (plan.liquid().recirculated().value() > 0 && walk.warmedKelvin().isEmpty()) {
            warnings.add(
                    "Liquid is given back to the truck, and how much it warms is not judged; say"
                            + " what its pump takes and what the truck carries (liquid.pump_watts,"
                            + " liquid.on_truck), or how fast it was seen to warm"
                            + " (liquid.warming_per_hour).");
        }
    }

    /** Pre-wetting follows the granular channel, and its state is part of what was tested. */
    private void granular(List<String> refusals) {
        boolean preWet = bay.asked().application() instanceof RunSetup.Application.PreWet;
        Optional<TestPlan.Granular> granular = plan.granular();
        if (!preWet && granular.isPresent()) {
            refusals.add(
                    "The plan has a section granular, but what is put down is liquid straight onto"
                            + " the road; take the section out, or set a pre-wet rate.");
        }
        if (preWet && granular.filter(side -> !side.on()).isPresent()) {
            refusals.add(
                    "Pre-wetting follows the granular channel, and granular.on is false, so no"
                            + " liquid would come; turn the channel on.");
        }
        if (preWet) {
            unwritten(granular).ifPresent(warnings::add);
        }
    }

    /** What is not written down of the granular side, and what to add. */
    private static Optional<String> unwritten(Optional<TestPlan.Granular> granular) {
        boolean gate = granular.flatMap(TestPlan.Granular::gate).isEmpty();
        boolean hopper = granular.flatMap(TestPlan.Granular::hopper).isEmpty();
        List<String> keys = new ArrayList<>();
        if (granular.isEmpty()) {
            keys.add("granular.on = true");
        }
        if (gate) {
            keys.add("granular.gate, such as \"closed\"");
        }
        if (hopper) {
            keys.add("granular.hopper, such as \"empty\"");
        }
        String missing =
                gate && hopper
                        ? "how the granular side stands"
                        : gate ? "how the gate stands" : "what is in the hopper";
        return keys.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        "It is not written down "
                                + missing
                                + "; add "
                                + String.join(", and ", keys)
                                + ".");
    }

    private void hand() {
        if (bay.plan().flowBy() == RunSetup.FlowBy.OPERATOR) {
            warnings.add(
                    "A hand is needed at every catch: the operator starts and stops the flow"
                            + " (catch.flow_by).");
        }
        if (bay.plan().flowBy() == RunSetup.FlowBy.SUPPLY) {
            warnings.add(
                    "A hand is needed at every point: the controller is set to its speed, since the"
                            + " bay's supply feeds the truck and no speed is sent"
                            + " (catch.flow_by).");
        }
        if (bay.reported() instanceof RunSetup.Reported.Display) {
            warnings.add(
                    "A hand is needed at every catch: the truck's totals are read from its display"
                            + " and typed (reported.source).");
        }
        if (plan.emptiedByHand(bay, room)) {
            warnings.add(
                    "A hand is needed where the tank is emptied: the bay has no drain valve"
                            + " (catch.drain, tank.drain).");
        }
        if (plan.liquid().onTruck().isEmpty()) {
            warnings.add(
                    "It is not said what the truck carries (liquid.on_truck), so whether it runs"
                            + " dry is not judged.");
        }
        if (room.isEmpty()) {
            warnings.add(
                    "It is not said what the tank holds (tank.room), so whether it overflows is not"
                            + " judged.");
        }
    }

    /** One original point proves that the constant was entered, another that it holds elsewhere. */
    private void verified(List<PointForecast> points, List<PointForecast> verification) {
        long original = verification.stream().filter(point -> among(points, point)).count();
        if (verification.isEmpty()) {
            warnings.add(
                    "No verification is planned, so nothing will prove that the new constant was"
                            + " entered; add one of the points and another flow under"
                            + " verification.points.");
        } else if (original == 0) {
            warnings.add(
                    "No point of the verification is one of the plan's, so it cannot be told from"
                            + " the truck's curve whether the constant was entered; add one.");
        } else if (original == verification.size()) {
            warnings.add(
                    "Every point of the verification is one of the plan's; another flow would prove"
                            + " that the constant holds between them.");
        }
    }

    private static boolean among(List<PointForecast> points, PointForecast one) {
        return points.stream().anyMatch(point -> same(point, one));
    }

    /** Whether two points are one and the same: through the same outlet, too. */
    static boolean same(PointForecast one, PointForecast other) {
        return one.point().outlet().equals(other.point().outlet()) && sameFlow(one, other);
    }

    /** Whether two points ask for the same flow. */
    static boolean sameFlow(PointForecast one, PointForecast other) {
        double flow = other.flow().litresPerSecond();
        return Math.abs(one.flow().litresPerSecond() - flow) <= SAME_FLOW_RATIO * flow;
    }
}
