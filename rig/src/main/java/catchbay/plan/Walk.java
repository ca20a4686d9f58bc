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

    private final TestPlan plan;
    private final Optional<Volume> room;
    private final long drainNanos;
    private final List<Step> steps = new ArrayList<>();
    private final Set<String> refusals = new LinkedHashSet<>();
    private boolean ranShort;
    private boolean ranFull;
    private double inTank;
    private double onTruck;
    private double storage;
    private double drawn;

    Walk(TestPlan plan, RunSetup bay, Optional<Volume> room) {
        this.plan = plan;
        this.room = room;
        this.drainNanos = plan.tank().drainNanos().orElse(bay.plan().drainNanos());
        this.onTruck = plan.liquid().onTruck().map(Volume::litres).orElse(Double.POSITIVE_INFINITY);
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
        steps.add(new Step.ConstantEntered(plan.times().adjustNanos()));
        for (PointForecast point : points) {
            for (int repeat = 1; repeat <= plan.verification().repeats(); repeat++) {
                caught(point, repeat, true);
            }
        }
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
        } else if (room.isPresent() && inTank + volume > room.get().litres() + LITRES_SAME) {
            drain(point);
        }
        if (plan.liquid().onTruck().isPresent()) {
            refillFor(point);
        }
        makeRoom(point);
        double draw = point.drawn().litres();
        double kept = plan.liquid().recirculated().value() * draw;
        drawn += draw;
        inTank += volume;
        onTruck -= draw;
        steps.add(
                new Step.Caught(
                        point,
                        repeat,
                        verifying,
                        new Volume(inTank),
                        plan.liquid().onTruck().isPresent()
                                ? Optional.of(new Volume(Math.max(0, onTruck)))
                                : Optional.empty()));
        onTruck += kept;
        storage -= draw - kept;
        if (plan.tank().drained() == TestPlan.Drained.EACH) {
            drain(point);
        }
    }

    /** Empties the tank; then it drips as long as before a weighing, to be as wet each time. */
    private void drain(PointForecast point) {
        steps.add(new Step.Drained(new Volume(inTank), drainNanos + point.time().dripNanos()));
        inTank = 0;
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
                    "The truck runs short at the "
                            + ordinal()
                            + " catch, and liquid.refill is false; plan fewer catches, shorten"
                            + " them, or let it be refilled.");
        }
    }

    private String ordinal() {
        long made = steps.stream().filter(Step.Caught.class::isInstance).count();
        return (made + 1) + ".";
    }

    private void refill(double full) {
        double volume = full - onTruck;
        steps.add(new Step.Refilled(new Volume(volume), plan.liquid().refillNanos()));
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
                    "The storage is full before the "
                            + ordinal()
                            + " catch: "
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
        return plan.times().checklistNanos() + steps.stream().mapToLong(Step::nanos).sum();
    }
}
