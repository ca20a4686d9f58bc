package catchbay.plan;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What a plan will achieve, before anything moves.
 *
 * @param plan the plan
 * @param setup of the bay and its truck, with what the plan puts in place of it
 * @param points in the plan's order
 * @param verification likewise
 * @param visits indices of the points in the order of their visits
 * @param steps all that happens, in order, with as many repeats as are expected
 * @param tankRoom what the tank holds, or the scale under it carries, where either is told
 * @param nanos how long all of it takes, ns, with as many repeats as are expected
 * @param nanosMost how long it takes with as many as allowed, ns; without waiting for a flow that
 *     will not settle
 * @param drawn from the truck, in all
 * @param warmedKelvin by how much liquid that is given back warms at most, K, until its end; empty
 *     where none is given back or nothing tells
 * @param refusals why it cannot be done so, each a sentence; empty when it can
 * @param warnings what a reader must know, each a sentence
 */
public record PlanForecast(
        TestPlan plan,
        RunSetup setup,
        List<PointForecast> points,
        List<PointForecast> verification,
        List<Integer> visits,
        List<Step> steps,
        Optional<Volume> tankRoom,
        long nanos,
        long nanosMost,
        Volume drawn,
        Optional<Double> warmedKelvin,
        List<String> refusals,
        List<String> warnings) {

    public PlanForecast {
        points = List.copyOf(points);
        verification = List.copyOf(verification);
        visits = List.copyOf(visits);
        steps = List.copyOf(steps);
        refusals = List.copyOf(refusals);
        warnings = List.copyOf(warnings);
    }

    /**
     * Judges a plan.
     *
     * @param bay setups of the plan's truck on the bay
     */
    public static PlanForecast of(TestPlan plan, Ways bay) {
        return of(plan, bay, KnownEnds.NONE);
    }

    /**
     * As {@link #of(TestPlan, Ways)}.
     *
     * @param ends what hunts have found of the truck's range
     */
    public static PlanForecast of(TestPlan plan, Ways bay, KnownEnds ends) {
        return new Planner(plan, bay, ends).forecast();
    }

    /** Whether a person empties the catch tank, since no valve does. */
    public boolean emptiedByHand() {
        return plan.emptiedByHand(setup, tankRoom);
    }

    /** Every refusal, those of the points too. */
    public List<String> allRefusals() {
        return Stream.concat(
                        refusals.stream(),
                        Stream.concat(points.stream(), verification.stream())
                                .flatMap(point -> point.refusals().stream()))
                .distinct()
                .toList();
    }

    /** Every warning, those of the points too; what is so at several of them once. */
    public List<String> allWarnings() {
        Map<String, List<FlowRate>> flows = new LinkedHashMap<>();
        Stream.concat(points.stream(), verification.stream())
                .forEach(point ->
                        point.warnings()
                                .forEach(warning ->
                                        flows.computeIfAbsent(warning, _ -> new ArrayList<>())
                                                .add(point.flow())));
        return Stream.concat(
                        warnings.stream(),
                        flows.entrySet().stream()
                                .map(one ->
                                        "At "
                                                + Figures.flows(one.getValue())
                                                + ": "
                                                + one.getKey()))
                .distinct()
                .toList();
    }

    /** How many catches are expected, those of the verification too. */
    public long catches() {
        return steps.stream().filter(Step.Caught.class::isInstance).count();
    }

    /** How much the truck is refilled with, in all. */
    public Volume refilled() {
        double litres = 0;
        for (Step step : steps) {
            litres += step instanceof Step.Refilled refill ? refill.volume().litres() : 0;
        }
        return new Volume(litres);
    }

    /** The largest uncertainty that a point's mean will have; empty where one must fail. */
    public Optional<Ratio> worst() {
        return points.stream().anyMatch(point -> point.mean().isEmpty())
                ? Optional.empty()
                : points.stream()
                        .map(point -> point.mean().orElseThrow())
                        .max((a, b) -> Double.compare(a.value(), b.value()));
    }
}
