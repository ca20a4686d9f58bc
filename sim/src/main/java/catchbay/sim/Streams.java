package catchbay.sim;

import java.util.random.RandomGenerator;
import java.util.random.RandomGenerator.SplittableGenerator;
import java.util.random.RandomGeneratorFactory;

/**
 * One stream of chance for each subsystem, split from one seed, so that a new draw in one never
 * moves another.
 */
final class Streams {

    /**
     * The subsystems that draw. A new one goes to the end, so that the streams before it stay as
     * they are.
     */
    enum Subsystem {
        SCENARIO,
        OPTIONS,
        FAULTS,
        FLOW,
        REFERENCE_METER,
        TRUCK_METER,
        AIR,
        SCALE,
        PERSON,
        CONVEYOR,
        CHANNELS,
        WARMTH,
        THERMOMETERS,
        LINE_NOISE
    }

    private final RandomGenerator[] streams = new RandomGenerator[Subsystem.values().length];

    Streams(long seed) {
        SplittableGenerator root =
                (SplittableGenerator) RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        for (int i = 0; i < streams.length; i++) {
            streams[i] = root.split();
        }
    }

    RandomGenerator of(Subsystem subsystem) {
        return streams[subsystem.ordinal()];
    }

    /**
     * Bell-shaped noise of standard deviation one that never leaves +-3.47: the sum of four even
     * draws. Bounded, so that a world's truth can be told with a bound, and free of functions that
     * differ between machines.
     */
    static double bell(RandomGenerator random) {
        double sum =
                random.nextDouble()
                        + random.nextDouble()
                        + random.nextDouble()
                        + random.nextDouble();
        return (sum - 2) * BELL_SCALE;
    }

    /** Four even draws from 0 to 1 have a variance of 4/12. */
    private static final double BELL_SCALE = Math.sqrt(3);
}
