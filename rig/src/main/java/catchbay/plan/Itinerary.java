package catchbay.plan;

import catchbay.plan.TestPlan.Order;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/** In which order the points of a plan are gone through. */
final class Itinerary {

    private Itinerary() {}

    /**
     * Indices of the points in the order of their visits.
     *
     * @param flows of the points, in any one unit
     */
    static List<Integer> of(Order order, double[] flows) {
        Comparator<Integer> byFlow = Comparator.comparingDouble(i -> flows[i]);
        List<Integer> up = IntStream.range(0, flows.length).boxed().sorted(byFlow).toList();
        return switch (order) {
            case Order.Up() -> up;
            case Order.Down() -> up.reversed();
            case Order.UpAndDown() -> {
                List<Integer> both = new ArrayList<>(up);
                both.addAll(up.reversed());
                yield List.copyOf(both);
            }
            case Order.Shuffled(long seed) ->
                    IntStream.range(0, flows.length)
                            .boxed()
                            .sorted(Comparator.comparingLong(i -> mixed(seed, i)))
                            .toList();
        };
    }

    /**
     * A number that looks like chance and is none: the i-th of SplitMix64 (Steele, Lea, Flood,
     * "Fast splittable pseudorandom number generators", OOPSLA 2014). No two of one seed are alike.
     */
    static long mixed(long seed, int index) {
        long z = seed + (index + 1) * 0x9E37_79B9_7F4A_7C15L;
        z = (z ^ (z >>> 30)) * 0xBF58_476D_1CE4_E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D0_49BB_1331_11EBL;
        return z ^ (z >>> 31);
    }
}
