package catchbay.plan;

import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The course of a plan, catch by catch: how full the tank and how empty the truck are. Truck and
 * tank are filled, drained and given back to between catches only.
 */
final class Walk {

    private static final double LITRES_SAME = 1e-9;

    private static final double HOUR_NANOS = 3600e9;

    /**
     * Specific heat of the densest de-icing brines, at least; weaker ones and water take more, so
     * that they warm less (calcium chloride, 30 %: about 2.7 kJ/(kg K), from memory).
     */
    private static final double JOULES_PER_KILOGRAM_KELVIN = 2500;

    private final TestPlan plan;
    private final double density;
    private final Optional<Volume> room;
    private final String repeated;
    private final boolean setByHand;
    private final long drainNanos;
    private final boolean byHand;
    private final List<Step> steps = new ArrayList<>();
    private final Set<String> refusals = new LinkedHashSet<>();
    private boolean ranShort;
    private boolean ranFull;
    private Optional<Volume> inTank = Optional.empty();

    /** Through which outlet liquid runs, or all; empty before anybody was asked. */
    private Optional<Optional<String>> open = Optional.empty();

    private double onTruck;
    private double storage;
    private double drawn;
    private double warmed;

    /**
     * @param repeated how often points are repeated, as the time's sentence says it; empty = as
     *     expected
     */
    Walk(TestPlan plan, RunSetup bay, Optional<Volume> room, String repeated) {
        this.plan = plan;
        this.repeated = repeated;
        this.room = room;
        this.setByHand = SweepSetup.setByHand(bay);
        this.byHand = plan.emptiedByHand(bay, room);
        this.drainNanos = byHand ? plan.times().answerNanos() : plan.drainNanos(bay);
        this.onTruck = plan.liquid().onTruck().map(Volume::litres).orElse(Double.POSITIVE_INFINITY);
        this.density = bay.liquid().density().kilogramsPerCubicMetre();
        this.storage = plan.liquid().storage().map(Volume::litres).orElse(Double.POSITIVE_INFINITY);
    }

    /** So many catches at a point, one after the other. */
    void catches(PointForecast point, int repeats) {
        for (int repeat = 1; repeat <= repeats; repeat++) {
            caught(point, repeat, false);
        }
    }

    /** The new constant, and what is caught with it. */
    void verify(List<PointForecast> points) {
        if (points.isEmpty()) {
            return;
        }
        warm(plan.times().adjustNanos());
        steps.add(new Step.ConstantEntered(plan.times().adjustNanos()));
        for (PointForecast point : points) {
            for (int repeat = 1; repeat <= plan.verification().repeats(); repeat++) {
                caught(point, repeat, true);
            }
        }
    }

    /** When everything is caught. */
    void over() {
        Optional<Double> kelvin = warmedKelvin();
        double most = plan.warming().kelvinMax();
        if (kelvin.isPresent() && kelvin.get() > most) {
            refusals.add(
                    "The liquid that is given back may warm by "
                            + Figures.number(kelvin.get())
                            + " K until the end, and liquid.warming_most allows "
                            + Figures.number(most)
                            + " K; plan fewer or shorter catches, give less back, or carry more.");
        }
        if (runningNanos() > plan.alone().nanosMost()) {
            refusals.add(
                    "From the confirmed checklist on it takes"
                            + repeated
                            + " "
                            + minutes(runningNanos())
                            + " min, and alone.time_limit allows "
                            + minutes(plan.alone().nanosMost())
                            + " min; allow more, or plan fewer or shorter catches.");
        }
    }

    private static String minutes(long nanos) {
        return Figures.number(nanos / 60e9);
    }

    /**
     * By how much the liquid warms at most: all that the pump takes stays in what the truck
     * carries, and no fresh liquid cools it.
     */
    Optional<Double> warmedKelvin() {
        if (plan.liquid().recirculated().value() == 0) {
            return Optional.empty();
        }
        return plan.warming()
                .kelvinPerHour()
                .map(rate -> rate * nanos() / HOUR_NANOS)
                .or(() ->
                        plan.warming()
                                .watts()
                                .filter(_ -> plan.liquid().onTruck().isPresent())
                                .map(watts -> watts * warmed));
    }

    /** The pump turns throughout the step, and heats what is left on the truck at its end. */
    private void warm(long nanos) {
        double kilograms = Math.max(LITRES_SAME, onTruck) / 1000 * density;
        warmed += nanos / 1e9 / (kilograms * JOULES_PER_KILOGRAM_KELVIN);
    }

    private void caught(PointForecast point, int repeat, boolean verifying) {
        double volume = point.caught().litres();
        if (room.isPresent() && volume > room.get().litres() + LITRES_SAME) {
            refusals.add(
                    "A catch of "
                            + Figures.gallons(point.caught())
                            + " at "
                            + Figures.flow(point.flow())
                            + " would overflow the tank, which holds "
                            + Figures.gallons(room.get())
                            + "; shorten it or lower the flow.");
        }
        if (plan.liquid().onTruck().isPresent()) {
            refillFor(point);
        }
        makeRoom(point);
        boolean empties = mustBeEmpty(point);
        if (empties && byHand) {
            drain(point);
        }
        set(point, repeat);
        if (empties && !byHand) {
            drain(point);
        }
        double draw = point.drawn().litres();
        double kept = plan.liquid().recirculated().value() * draw;
        drawn += draw;
        Volume held = new Volume(inTank.map(Volume::litres).orElse(0.0) + volume);
        inTank = Optional.of(held);
        onTruck -= draw;
        warm(point.time().nanos());
        steps.add(
                new Step.Caught(
                        point,
                        repeat,
                        verifying,
                        held,
                        plan.liquid().onTruck().isPresent()
                                ? Optional.of(new Volume(Math.max(0, onTruck)))
                                : Optional.empty()));
        onTruck += kept;
        storage -= draw - kept;
    }

    /** As a sweep asks for it: outlets at each change, speeds at each point. */
    private void set(PointForecast point, int repeat) {
        Optional<Optional<String>> outlet = Optional.of(point.point().outlet());
        long answer = plan.times().answerNanos();
        if (plan.namesOutlets() && !open.equals(outlet)) {
            open = outlet;
            warm(answer);
            steps.add(new Step.OutletSet(outlet.get(), answer));
        }
        if (setByHand && repeat == 1) {
            warm(answer);
            steps.add(new Step.PointSet(point, answer));
        }
    }

    /** As a sweep does it: at the beginning nobody knows what is in the tank. */
    private boolean mustBeEmpty(PointForecast point) {
        return inTank.isEmpty()
                || plan.tank().drainedEach()
                || room.filter(most -> point.overfills(inTank.get().litres(), most, 1)).isPresent();
    }

    /** Empties the tank; then it drips as long as before a weighing, to be as wet each time. */
    private void drain(PointForecast point) {
        if (drainNanos > 0 || byHand) {
            Step drained = new Step.Drained(inTank, byHand, drainNanos + point.time().dripNanos());
            warm(drained.nanos());
            steps.add(drained);
        }
        inTank = Optional.of(Volume.ZERO);
    }

    private void refillFor(PointForecast point) {
        double full = plan.liquid().onTruck().orElseThrow().litres();
        double needed = point.drawn().litres() + plan.liquid().reserve().litres();
        if (needed > full + LITRES_SAME) {
            refusals.add(
                    "A catch at "
                            + Figures.flow(point.flow())
                            + " draws "
                            + Figures.gallons(point.drawn())
                            + " from purge to end, and the truck carries "
                            + Figures.gallons(plan.liquid().onTruck().get())
                            + " of which "
                            + Figures.gallons(plan.liquid().reserve())
                            + " must stay; a truck is never refilled during a catch, so shorten it"
                            + " or lower the flow.");
        } else if (onTruck + LITRES_SAME < needed && plan.liquid().refill()) {
            refill(full);
        } else if (onTruck + LITRES_SAME < needed && !ranShort) {
            ranShort = true;
            refusals.add(
                    "The truck runs short at "
                            + nextCatch()
                            + ", and liquid.refill is false; plan fewer catches, shorten"
                            + " them, or let it be refilled.");
        }
    }

    private String nextCatch() {
        long made = steps.stream().filter(Step.Caught.class::isInstance).count();
        return "catch " + (made + 1);
    }

    private void refill(double full) {
        double volume = full - onTruck;
        steps.add(new Step.Refilled(new Volume(volume), plan.liquid().refillNanos()));
        warm(plan.liquid().refillNanos());
        onTruck = full;
        storage += volume;
    }

    /** What a catch draws goes to the storage; a refill from there makes room in it. */
    private void makeRoom(PointForecast point) {
        double goes = (1 - plan.liquid().recirculated().value()) * point.drawn().litres();
        Optional<Volume> carried = plan.liquid().onTruck();
        if (goes > storage + LITRES_SAME
                && plan.liquid().refill()
                && carried.isPresent()
                && onTruck + LITRES_SAME < carried.get().litres()) {
            refill(carried.get().litres());
        }
        if (goes > storage + LITRES_SAME && !ranFull) {
            ranFull = true;
            refusals.add(
                    "The storage is full before "
                            + nextCatch()
                            + ": "
                            + Figures.gallons(new Volume(goes))
                            + " are to come, and "
                            + Figures.gallons(new Volume(Math.max(0, storage)))
                            + " have room; make room in it, give more back to the truck, or plan"
                            + " fewer catches.");
        }
    }

    List<Step> steps() {
        return steps;
    }

    List<String> refusals() {
        return List.copyOf(refusals);
    }

    Volume drawn() {
        return new Volume(drawn);
    }

    /** All of it, the checklist too. */
    long nanos() {
        return plan.times().checklistNanos() + runningNanos();
    }

    private long runningNanos() {
        return steps.stream().mapToLong(Step::nanos).sum();
    }
}
