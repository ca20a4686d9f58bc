package catchbay.sim.campaign;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.Guard;
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
 * A sweep drawn from a seed: a bay, a truck, its points, and what goes wrong in one of its catches.
 * Spans are illustrative.
 *
 * @param usual the bay and the truck
 * @param legs the catches' setups in their order; the last one repeats the struck one's point, to
 *     show that nothing is left of what went wrong
 * @param struck in which leg something goes wrong, from 0
 * @param faults what goes wrong in it
 */
record DrawnSweep(Scenario usual, List<RunSetup> legs, int struck, List<Fault> faults) {

    /** How long the drain stays open before a catch: longer than any of its catches takes to go. */
    static final long EMPTY_NANOS = 10_000_000_000L;

    /** The drain takes the planned catch so many times in that. */
    private static final double DRAINS = 3;

    /** So far apart the points lie, as shares of the usual speed: within every drawn range. */
    private static final double SPEED_LEAST = 0.6;

    private static final double SPEED_MOST = 1.2;

    /** How large a sweep is. */
    enum Size {
        /** Two to four points, one or two repeats, catches of 10 to 30 s. */
        SHORT,
        /** Ten points, three repeats, catches as long as a bay's. */
        WHOLE
    }

    private static final int WHOLE_POINTS = 10;
    private static final int WHOLE_REPEATS = 3;

    /** The sweep of a seed; every other one has one fault only. */
    static DrawnSweep of(long seed, Size size) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        Scenario drawn = size == Size.SHORT ? Scenario.drawnShort(seed) : Scenario.drawn(seed);
        FlowRate drain = new FlowRate(drawn.planned().litres() * DRAINS * 1e9 / EMPTY_NANOS);
        Scenario usual = drawn.drainedBy(drain);
        int points = size == Size.SHORT ? random.nextInt(2, 5) : WHOLE_POINTS;
        int repeats = size == Size.SHORT ? random.nextInt(1, 3) : WHOLE_REPEATS;
        List<RunSetup> legs = new ArrayList<>();
        for (int point = 0; point < points; point++) {
            double share = SPEED_LEAST + (SPEED_MOST - SPEED_LEAST) * point / (points - 1);
            for (int repeat = 0; repeat < repeats; repeat++) {
                legs.add(at(usual.setup(), share));
            }
        }
        int struck = random.nextInt(legs.size());
        legs.add(legs.get(struck));
        Optional<Part.Presence> presence =
                random.nextBoolean()
                        ? Optional.of(new Part.Presence(PRESENCE_NANOS, PRESENCE_NANOS))
                        : Optional.empty();
        for (int leg = 0; leg < legs.size(); leg++) {
            legs.set(leg, legs.get(leg).as(part(leg + 1, presence)));
        }
        Scenario one = usual.with(legs.get(struck));
        List<Fault> faults = one.withFaults(seed % 2 == 0 ? 1 : 3).options().faults();
        return new DrawnSweep(usual, List.copyOf(legs), struck, faults);
    }

    private static Part part(int leg, Optional<Part.Presence> presence) {
        return new Part(
                "campaign",
                leg,
                "stand-in operator",
                Optional.of("stand-in operator"),
                presence,
                EMPTY_NANOS,
                Optional.empty(),
                Volume.ZERO,
                Optional.empty());
    }

    /** How often an attendant shows to be there, where one must (illustrative). */
    private static final long PRESENCE_NANOS = 60_000_000_000L;

    private static RunSetup at(RunSetup usual, double share) {
        RunSetup.Asked asked = usual.asked();
        Speed speed = new Speed(asked.speed().metresPerSecond() * share);
        return usual.with(
                        new RunSetup.Asked(asked.application(), speed, asked.pulsesPerMile()),
                        usual.plan(),
                        usual.judgement())
                .with(Guard.usual(usual.scale().map(RunSetup.Scale::restBand)));
    }

    /** One of its catches as a case of its own, with what goes wrong in it. */
    Scenario leg(int leg) {
        Scenario plain = usual.with(legs.get(leg));
        return leg == struck ? plain.with(faults) : plain;
    }

    /** Whether one thing alone goes wrong. */
    boolean single() {
        return faults.size() == 1;
    }
}
