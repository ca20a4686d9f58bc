package catchbay.seeded;

import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;

/** Runs a property over the seeds 0, 1, 2 …; a failure names its seed. */
public final class Seeds {

    /** A property of one drawn example. */
    public interface Property {
        /** Fails when the property does not hold. */
        void holds(RandomGenerator random) throws Exception;
    }

    private Seeds() {}

    /** Holds the property against so many examples. */
    public static void forSeeds(int count, Property property) {
        for (long seed = 0; seed < count; seed++) {
            try {
                property.holds(generator(seed));
            } catch (Exception | AssertionError failure) {
                throw new AssertionError("seed " + seed + ": " + failure, failure);
            }
        }
    }

    /** The generator of one seed, to repeat a failure by hand. */
    public static RandomGenerator generator(long seed) {
        return RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
    }
}
