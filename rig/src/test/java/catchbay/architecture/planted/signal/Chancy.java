package catchbay.architecture.planted.signal;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;

/** Planted: chance, with a seed and without. */
final class Chancy {

    double withoutSeed() {
        return Math.random()
                + new Random().nextDouble()
                + new SplittableRandom().nextDouble()
                + ThreadLocalRandom.current().nextDouble()
                + RandomGenerator.getDefault().nextDouble()
                + RandomGeneratorFactory.getDefault().create().nextDouble();
    }

    double withSeed(long seed) {
        return new Random(seed).nextGaussian()
                + RandomGeneratorFactory.of("L64X128MixRandom").create(seed).nextDouble();
    }

    String identity(List<String> parts) {
        List<String> copy = new ArrayList<>(parts);
        Collections.shuffle(copy);
        return UUID.randomUUID() + copy.getFirst();
    }
}
