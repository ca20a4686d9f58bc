package catchbay.sim.campaign;

import catchbay.metrology.Diagnosis;
import catchbay.metrology.FlowMix;
import catchbay.metrology.Repeatability;
import catchbay.plan.PlanForecast;
import catchbay.plan.PointForecast;
import catchbay.plan.Sweep;
import catchbay.plan.SweepSetup;
import catchbay.plan.TestPlan;
import catchbay.plan.Ways;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.sim.Fault;
import catchbay.sim.Scenario;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;

/**
 * A sweep drawn from a seed: a bay, a truck, a plan, and what goes wrong in one of its catches.
 * Spans are illustrative.
 *
 * @param usual the bay and the truck
 * @param forecast of the plan
 * @param catches how many there are where none is void and a new constant is verified
 * @param struck in which catch something goes wrong, from 0; there may be fewer of them
 * @param faults what goes wrong in it
 */
record DrawnSweep(
        Scenario usual, PlanForecast forecast, int catches, int struck, List<Fault> faults) {

    /** How long the drain stays open before a catch: longer than a full tank takes to go. */
    static final long EMPTY_NANOS = 10_000_000_000L;

    /** The drain takes so many times what the tank may hold in that. */
    private static final double DRAINS = 1.5;

    /**
     * A tank without a float holds so many catches, and one with it is planned to so much of it.
     */
    private static final double ROOM_CATCHES = 2.5;

    private static final double ROOM_OF_FLOAT = 0.85;

    /** So far apart the points lie, as shares of the usual speed: within every drawn range. */
    private static final double SPEED_LEAST = 0.6;

    private static final double SPEED_MOST = 1.2;

    /** How often an attendant shows to be there. */
    private static final long PRESENCE_NANOS = 60_000_000_000L;

    /** How well the repeats are to agree: so well that most points need no more than the fewest. */
    private static final Ratio AGREEMENT = Ratio.ofPercent(1);

    /** How large a sweep is. */
    enum Size {
        /** Two or three points, catches of 10 to 30 s. */
        SHORT,
        /** Ten points, catches as long as a bay's. */
        WHOLE
    }

    private static final int WHOLE_POINTS = 10;

    /** The sweep of a seed; every other one has one fault only. */
    static DrawnSweep of(long seed, Size size) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        Scenario drawn = size == Size.SHORT ? Scenario.drawnShort(seed) : Scenario.drawn(seed);
        Volume room =
                new Volume(
                        Math.min(
                                drawn.options().bay().floatLitres() * ROOM_OF_FLOAT,
                                drawn.planned().litres() * SPEED_MOST * ROOM_CATCHES));
        Scenario usual =
                drawn.with(drawn.setup().with(drawn.setup().watched()))
                        .drainedBy(new FlowRate(room.litres() * DRAINS * 1e9 / EMPTY_NANOS));
        int points = size == Size.SHORT ? random.nextInt(2, 4) : WHOLE_POINTS;
        TestPlan plan = plan(usual.setup(), points, room, random);
        PlanForecast forecast = PlanForecast.of(plan, Ways.of(usual.setup()));
        Sweep sweep = planned(forecast);
        List<PointForecast> catches = new ArrayList<>();
        sweep.legs()
                .forEach(leg -> {
                    int times = leg.verifying() ? 1 : Repeatability.RUNS_MIN;
                    for (int i = 0; i < times; i++) {
                        catches.add(leg.point());
                    }
                });
        int struck = random.nextInt(catches.size());
        RunSetup setup =
                SweepSetup.at(catches.get(struck), plan, usual.setup())
                        .as(someCatch(plan, usual.setup()));
        List<Fault> faults = usual.with(setup).withFaults(seed % 2 == 0 ? 1 : 3).options().faults();
        return new DrawnSweep(usual, forecast, catches.size(), struck, faults);
    }

    /**
     * What a catch of the plan finds that is neither the first nor after a void one: faults of the
     * drain and the attendant need it.
     */
    private static Part someCatch(TestPlan plan, RunSetup today) {
        boolean attended = SweepSetup.handless(today);
        long presence = plan.alone().presenceNanos();
        return new Part(
                "campaign",
                1,
                PlayedSweep.PERSON,
                Optional.of(PlayedSweep.PERSON),
                attended ? Optional.of(Part.Presence.whole(presence)) : Optional.empty(),
                plan.tank().drained() == TestPlan.Drained.EACH ? EMPTY_NANOS : 0,
                plan.tank().room(),
                Volume.ZERO,
                Optional.empty());
    }

    /** The same sweep with other things that go wrong in the same catch. */
    DrawnSweep with(List<Fault> others) {
        return new DrawnSweep(usual, forecast, catches, struck, others);
    }

    /** The sweep before its first catch, where a shop has set nothing of its own. */
    Sweep planned() {
        return planned(forecast);
    }

    private static Sweep planned(PlanForecast forecast) {
        return Sweep.planned(forecast, FlowMix.EVEN, Diagnosis.Limits.USUAL.follow());
    }

    private static TestPlan plan(RunSetup setup, int points, Volume room, RandomGenerator random) {
        List<TestPlan.Point> all = new ArrayList<>();
        for (int i = 0; i < points; i++) {
            all.add(at(setup, SPEED_LEAST + (SPEED_MOST - SPEED_LEAST) * i / (points - 1)));
        }
        double between = SPEED_LEAST + (SPEED_MOST - SPEED_LEAST) * 0.5 / (points - 1);
        List<TestPlan.Point> verification = List.of(all.getFirst(), at(setup, between));
        List<TestPlan.Order> orders =
                List.of(
                        new TestPlan.Order.Up(),
                        new TestPlan.Order.Down(),
                        new TestPlan.Order.Shuffled(1));
        Volume nothing = Volume.ZERO;
        return new TestPlan(
                setup.truck().asset(),
                Optional.empty(),
                all,
                List.of(),
                orders.get(random.nextInt(orders.size())),
                Optional.of(
                        new Repeatability.Plan(
                                Repeatability.RUNS_MIN, Repeatability.RUNS_MIN + 2, AGREEMENT)),
                AGREEMENT,
                new TestPlan.Length.Fixed(setup.plan().catchNanos()),
                new TestPlan.Flush(Optional.empty(), Optional.empty()),
                new TestPlan.Tank(
                        Optional.of(room),
                        random.nextBoolean() ? TestPlan.Drained.EACH : TestPlan.Drained.WHEN_FULL,
                        Optional.of(EMPTY_NANOS),
                        Optional.of(setup.plan().dripNanos())),
                new TestPlan.Liquid(
                        Optional.empty(), nothing, new Ratio(0), Optional.empty(), false, 0),
                new TestPlan.Warming(Optional.empty(), Optional.empty(), 10),
                setup.asked().application() instanceof RunSetup.Application.PreWet
                        ? Optional.of(
                                new TestPlan.Granular(
                                        true, Optional.of("closed"), Optional.of("empty")))
                        : Optional.empty(),
                new TestPlan.Times(0, 0, 0),
                new TestPlan.Verification(verification, 1),
                Optional.empty(),
                new TestPlan.Alone(PRESENCE_NANOS, RunSetup.DURATION_NANOS_MAX, points));
    }

    private static TestPlan.Point at(RunSetup setup, double share) {
        Speed speed = new Speed(setup.asked().speed().metresPerSecond() * share);
        return new TestPlan.Point(
                new TestPlan.Aim.AtSpeed(speed), Optional.empty(), Optional.empty());
    }

    /** Whether one thing alone goes wrong. */
    boolean single() {
        return faults.size() == 1;
    }
}
