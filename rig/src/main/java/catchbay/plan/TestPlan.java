package catchbay.plan;

import catchbay.metrology.Repeatability;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.Judgement;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.MeasureBy;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A plan: at which points one truck is caught, how often and how long, in which order, and what
 * tank and truck hold. Durations are nanoseconds. What it leaves empty is that of the bay's
 * settings, or found by the forecast.
 *
 * @param truck its number in the fleet
 * @param application what is put down, in place of that of the settings
 * @param points where it is caught, at least one
 * @param bands by what flows are measured whose points do not say it; none overlaps another
 * @param order in which order
 * @param repeats how often at each point; in place of that of the settings
 * @param wanted expanded uncertainty, 95 %, that the meter error of each point's mean may have
 * @param length how long a catch lasts
 * @param flush what runs to the bypass before each catch
 * @param tank what the catch tank holds, and when it is drained
 * @param liquid what the truck carries, and where it goes
 * @param warming what warms liquid that is given back
 * @param granular the truck's granular side, as it is written down
 * @param times what people take
 * @param verification what is caught once the new constant is entered
 * @param judgement by what the truck passes, in place of that of the settings
 * @param alone what holds while it runs without a hand
 */
public record TestPlan(
        String truck,
        Optional<Application> application,
        List<Point> points,
        List<Band> bands,
        Order order,
        Optional<Repeatability.Plan> repeats,
        Ratio wanted,
        Length length,
        Flush flush,
        Tank tank,
        Liquid liquid,
        Warming warming,
        Optional<Granular> granular,
        Times times,
        Verification verification,
        Optional<Judgement> judgement,
        Alone alone) {

    /** The most points of a plan. */
    public static final int POINTS_MAX = 100;

    public TestPlan {
        points = List.copyOf(points);
        bands = List.copyOf(bands);
        for (int i = 0; i < bands.size(); i++) {
            for (Band earlier : bands.subList(0, i)) {
                if (earlier.overlaps(bands.get(i))) {
                    throw new IllegalArgumentException(
                            "bands "
                                    + (bands.indexOf(earlier) + 1)
                                    + " and "
                                    + (i + 1)
                                    + " overlap, so it is not said what measures there; let each"
                                    + " begin where the one below it ends");
                }
            }
        }
        if (points.isEmpty() || points.size() > POINTS_MAX) {
            throw new IllegalArgumentException(
                    "a plan has 1 to " + POINTS_MAX + " points, this one " + points.size());
        }
    }

    /**
     * Whether a person empties the catch tank, since no valve does.
     *
     * @param room what the tank holds; empty = nobody says
     */
    boolean emptiedByHand(RunSetup bay, Optional<Volume> room) {
        boolean hasTank = room.isPresent() || bay.diverter().isPresent();
        return hasTank && drainNanos(bay) == 0;
    }

    /** How long the drain is open to empty the tank, ns; 0 = there is none. */
    long drainNanos(RunSetup bay) {
        return tank.drainNanos().orElse(bay.plan().drainNanos());
    }

    /** Whether any point is caught through an outlet that is named. */
    public boolean namesOutlets() {
        return Stream.concat(points.stream(), verification.points().stream())
                .anyMatch(point -> point.outlet().isPresent());
    }

    /**
     * One point.
     *
     * @param aim where in the flow range
     * @param outlet through which outlet or boom section, in words; empty for all of them
     * @param measure by what it is measured; empty = as its band says
     */
    public record Point(Aim aim, Optional<String> outlet, Optional<Measure> measure) {}

    /**
     * By what is measured.
     *
     * @param by meter or scale; empty = as the bay's settings say
     * @param reference which of several meters; empty = the best that is certified at the flow
     */
    public record Measure(Optional<MeasureBy> by, Optional<String> reference) {

        /** Nothing is said. */
        public static final Measure USUAL = new Measure(Optional.empty(), Optional.empty());
    }

    /**
     * A band of flows that are measured alike.
     *
     * @param from its lowest flow, within it
     * @param to where the next one may begin; empty = no end
     */
    public record Band(FlowRate from, Optional<FlowRate> to, Measure measure) {
        public Band {
            if (to.isPresent() && to.get().compareTo(from) <= 0) {
                throw new IllegalArgumentException(
                        "a band must end above where it begins, at " + Figures.flow(from));
            }
        }

        /** Whether a flow lies in it. */
        public boolean holds(FlowRate flow) {
            return flow.compareTo(from) >= 0
                    && to.filter(end -> flow.compareTo(end) >= 0).isEmpty();
        }

        private boolean overlaps(Band other) {
            return holds(other.from) || other.holds(from);
        }
    }

    /** How a point is told. */
    public sealed interface Aim {
        /** By the speed at the set rate; above zero. */
        record AtSpeed(Speed speed) implements Aim {}

        /** By the flow, to which the speed is found; above zero. */
        record AtFlow(FlowRate flow) implements Aim {}
    }

    /** In which order the points are gone through. */
    public sealed interface Order {
        /** From the smallest flow to the largest. */
        record Up() implements Order {}

        /** From the largest flow to the smallest. */
        record Down() implements Order {}

        /** Up and then down again, so that hysteresis shows: every point twice. */
        record UpAndDown() implements Order {}

        /** Shuffled by this seed, the same on every machine. */
        record Shuffled(long seed) implements Order {}
    }

    /** How long a catch lasts. */
    public sealed interface Length {
        /** So long. */
        record Fixed(long nanos) implements Length {}

        /**
         * As long as it takes for so much.
         *
         * @param pulses of the reference
         * @param volume caught
         */
        record AtLeast(Optional<Long> pulses, Optional<Volume> volume) implements Length {}

        /** As long as the uncertainty wanted takes, up to so long. */
        record Derived(long nanosMax) implements Length {}
    }

    /**
     * What runs to the bypass before each catch; empty = as long as the settings say.
     *
     * @param purge to fill and warm the line
     * @param settle until the flow is steady
     */
    public record Flush(Optional<Volume> purge, Optional<Volume> settle) {}

    /**
     * The catch tank.
     *
     * @param room what it holds below its float; empty = not said: no more than the scale carries
     * @param drained when
     * @param drainNanos how long it takes to empty; empty = that of the settings
     * @param dripNanos how long it drips; empty = the published time for its size
     */
    public record Tank(
            Optional<Volume> room,
            Drained drained,
            Optional<Long> drainNanos,
            Optional<Long> dripNanos) {

        /**
         * Whether it is drained before each catch. When it is full nobody knows of a tank whose
         * room is not said: what the scale carries says nothing of its rim.
         */
        public boolean drainedEach() {
            return drained == Drained.EACH || room.isEmpty();
        }
    }

    /** When the tank is drained. */
    public enum Drained {
        /** Before each catch. */
        EACH,
        /** Before a catch that would overflow it, where its room is said. */
        WHEN_FULL
    }

    /**
     * The liquid.
     *
     * @param onTruck what the truck carries when full, as it is at the beginning
     * @param reserve what must stay in it, so that its pump draws no air
     * @param recirculated share of what is drawn that it gets back after each catch, 0 to 1
     * @param storage how much more the storage takes at the beginning
     * @param refill whether it may be refilled, between catches only
     * @param refillNanos how long that takes
     */
    public record Liquid(
            Optional<Volume> onTruck,
            Volume reserve,
            Ratio recirculated,
            Optional<Volume> storage,
            boolean refill,
            long refillNanos) {}

    /**
     * How much liquid that is given back may warm, and by what. It is judged by one of the two.
     *
     * @param watts all that pumps may put into the liquid, W, above 0
     * @param kelvinPerHour how fast it was seen to warm, at least 0
     * @param kelvinMax by how much it may warm, above 0
     */
    public record Warming(
            Optional<Double> watts, Optional<Double> kelvinPerHour, double kelvinMax) {
        public Warming {
            if (watts.isPresent() && kelvinPerHour.isPresent()) {
                throw new IllegalArgumentException(
                        "the warming is told by the pump's watts or by kelvin an hour; keep one of"
                                + " them");
            }
        }
    }

    /**
     * The granular side of a truck that pre-wets, as a person has set it.
     *
     * @param on whether its channel is on; its liquid follows it
     * @param gate how the gate stands, in words
     * @param hopper what is in the hopper, in words
     */
    public record Granular(boolean on, Optional<String> gate, Optional<String> hopper) {

        private static final Set<String> SHUT = Set.of("closed", "shut");
        private static final String EMPTY = "empty";

        /**
         * Whether by what is written nothing granular comes down: the gate is {@code closed} or
         * {@code shut}, or the hopper is {@code empty}. Any other words may mean anything.
         */
        public boolean holdsBack() {
            return gate.filter(words -> SHUT.stream().anyMatch(words.strip()::equalsIgnoreCase))
                            .isPresent()
                    || hopper.map(String::strip).filter(EMPTY::equalsIgnoreCase).isPresent();
        }
    }

    /**
     * What people take.
     *
     * @param checklistNanos to couple the truck and to confirm the checklist
     * @param answerNanos for one answer
     * @param adjustNanos to enter the new constant
     */
    public record Times(long checklistNanos, long answerNanos, long adjustNanos) {}

    /**
     * What holds while a plan runs without a hand: no hand is needed, but somebody is there.
     *
     * @param presenceNanos how often an attendant shows to be there, > 0
     * @param nanosMost how long all of it may take, > 0
     * @param skippedMost after how many points that could not be caught it ends, 1 or more
     */
    public record Alone(long presenceNanos, long nanosMost, int skippedMost) {
        public Alone {
            if (presenceNanos < 1
                    || presenceNanos > RunSetup.DURATION_NANOS_MAX
                    || nanosMost < 1
                    || nanosMost > RunSetup.DURATION_NANOS_MAX
                    || skippedMost < 1) {
                throw new IllegalArgumentException(
                        "a plan without a hand needs a presence and a limit of 1 to "
                                + RunSetup.DURATION_NANOS_MAX
                                + " ns and 1 skipped point or more, was "
                                + presenceNanos
                                + ", "
                                + nanosMost
                                + " and "
                                + skippedMost);
            }
        }
    }

    /**
     * What is caught once the new constant is entered.
     *
     * @param points none = no verification
     * @param repeats at each, 1 or more
     */
    public record Verification(List<Point> points, int repeats) {
        public Verification {
            points = List.copyOf(points);
            if (points.size() > POINTS_MAX || repeats < 1 || repeats > Repeatability.RUNS_MAX) {
                throw new IllegalArgumentException(
                        "a verification has up to "
                                + POINTS_MAX
                                + " points with 1 to "
                                + Repeatability.RUNS_MAX
                                + " repeats, this one "
                                + points.size()
                                + " with "
                                + repeats);
            }
        }
    }
}
