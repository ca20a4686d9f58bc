package catchbay.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import catchbay.plan.TestPlan.Order;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.stream.IntStream;

/** Orders of the points. */
final class ItineraryTest {

    private static final double[] FLOWS = {5, 1, 20, 3};

    @Test
    void upDownAndBoth() {
        assertEquals(List.of(1, 3, 0, 2), Itinerary.of(new Order.Up(), FLOWS));
        assertEquals(List.of(2, 0, 3, 1), Itinerary.of(new Order.Down(), FLOWS));
        assertEquals(List.of(1, 3, 0, 2, 2, 0, 3, 1), Itinerary.of(new Order.UpAndDown(), FLOWS));
    }

    /**
     * The first three of seed 1234567 (published beside the generator's reference code: the
     * SplitMix64 task of the collection Rosetta Code), from memory.
     */
    @Test
    void mixedAsPublished() {
        assertEquals("6457827717110365317", Long.toUnsignedString(Itinerary.mixed(1234567, 0)));
        assertEquals("3203168211198807973", Long.toUnsignedString(Itinerary.mixed(1234567, 1)));
        assertEquals("9817491932198370423", Long.toUnsignedString(Itinerary.mixed(1234567, 2)));
    }

    @Test
    void aSeedIsOneOrderAndEveryPointOnce() {
        double[] many = IntStream.range(0, 50).mapToDouble(i -> i).toArray();
        List<Integer> one = Itinerary.of(new Order.Shuffled(7), many);
        assertEquals(one, Itinerary.of(new Order.Shuffled(7), many));
        assertNotEquals(one, Itinerary.of(new Order.Shuffled(8), many));
        assertEquals(IntStream.range(0, 50).boxed().toList(), one.stream().sorted().toList());
    }
}
