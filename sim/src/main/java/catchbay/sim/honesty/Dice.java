package catchbay.sim.honesty;

import java.util.random.RandomGenerator;
import java.util.random.RandomGenerator.SplittableGenerator;
import java.util.random.RandomGeneratorFactory;

/** Where the chance of one drawn thing comes from; everything follows from the seed. */
final class Dice {

    private final SplittableGenerator random;

    private Dice(SplittableGenerator random) {
        this.random = random;
    }

    static Dice of(long seed) {
        return new Dice(
                (SplittableGenerator) RandomGeneratorFactory.of("L64X128MixRandom").create(seed));
    }

    /** Independent dice, so that a new draw here moves nothing there. */
    Dice split() {
        return new Dice(random.split());
    }

    RandomGenerator generator() {
        return random;
    }

    /** Even from low to high. */
    double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    /** Even within +- the half-width. */
    double even(double halfWidth) {
        return between(-halfWidth, halfWidth);
    }

    /** Bell-shaped about zero. */
    double normal(double standard) {
        return standard * random.nextGaussian();
    }

    /** One of these, each as likely. */
    @SafeVarargs
    final <T> T oneOf(T... all) {
        return all[random.nextInt(all.length)];
    }

    /** What so many readings that scatter by the true deviation show of it. */
    double deviationSeen(double truth, int readings) {
        double squares = 0;
        for (int i = 1; i < readings; i++) {
            double bell = random.nextGaussian();
            squares += bell * bell;
        }
        return truth * Math.sqrt(squares / (readings - 1));
    }
}
