package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassUnit;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

/** Steady flow and a scale at rest. */
final class SteadinessTest {

    private static final long SECOND = Trains.SECOND;
    private static final long MILLI = Trains.MILLI;

    private static FlowSteadiness flow(long... stamps) {
        return FlowSteadiness.starting(SECOND, 5).take(EdgeBatch.of(0, stamps));
    }

    private static ScaleFrame.Weight weight(double kilograms) {
        return new ScaleFrame.Weight(kilograms, MassUnit.KILOGRAM, false, false);
    }

    // Flow

    @Test
    void aSteadyTrainSpreadsByItsStampsOnly() {
        FlowSteadiness steady = flow(Trains.steady(125.05, 0, 10e9));
        assertTrue(steady.judgeable());
        assertEquals(0, steady.spread(), 1e-8);
        assertEquals(125.05, steady.pulsesPerSecond(), 1e-6);
    }

    @Test
    void fewerSlotsThanAskedCannotBeJudged() {
        assertFalse(flow(Trains.steady(100, 0, 4.9e9)).judgeable());
        assertTrue(flow(Trains.steady(100, 0, 5.1e9)).judgeable());
        assertFalse(FlowSteadiness.starting(SECOND, 5).judgeable());
        assertEquals(0, FlowSteadiness.starting(SECOND, 5).spread());
    }

    /** 100 Hz, then 104 Hz: with two slots at the new rate, (104 - 100) / mean of the five. */
    @Test
    void aStepShows() {
        long[] slow = Trains.steady(100, 0, 5e9 + 1);
        long[] fast = Trains.steady(104, 5e9 + 1e9 / 104, 7.02e9);
        FlowSteadiness steadiness =
                FlowSteadiness.starting(SECOND, 5)
                        .take(EdgeBatch.of(0, slow))
                        .take(EdgeBatch.of(slow.length, fast));
        double mean = (3 * 100 + 2 * 104) / 5.0;
        assertEquals(4 / mean, steadiness.spread(), 1e-6);
    }

    /**
     * Slots run from edge to edge, so that slow pulses are not rounded to a whole number a slot.
     */
    @Test
    void slowPulsesAreNotRounded() {
        FlowSteadiness slow = flow(Trains.steady(0.3, 0, 60e9));
        assertTrue(slow.judgeable());
        assertEquals(0.3, slow.pulsesPerSecond(), 1e-9);
        assertEquals(0, slow.spread(), 1e-9);
    }

    @Test
    void onlyTheWatchedStretchCounts() {
        long[] stamps = Trains.steady(100, 0, 30e9);
        FlowSteadiness watched =
                FlowSteadiness.starting(SECOND, 5)
                        .watchFrom(10 * SECOND)
                        .take(EdgeBatch.of(0, stamps));
        assertEquals(0, watched.watchedSpread(), 1e-8);
        assertEquals(100, watched.highest(), 1e-6);
        FlowSteadiness never = flow(stamps);
        assertEquals(0, never.highest(), "nothing was watched");
        // 5 % faster from 20 s on, watched from 10 s to 19 s, or to the end.
        long[] slow = Trains.steady(100, 0, 20e9);
        long[] fast = Trains.steady(105, 20e9, 30e9);
        FlowSteadiness first =
                FlowSteadiness.starting(SECOND, 5)
                        .watchFrom(10 * SECOND)
                        .take(EdgeBatch.of(0, slow));
        EdgeBatch rest = EdgeBatch.of(slow.length, fast);
        assertEquals(0, first.watchUntil(19 * SECOND).take(rest).watchedSpread(), 1e-8);
        assertEquals(5 / 102.5, first.watchUntil(Long.MAX_VALUE).take(rest).watchedSpread(), 1e-3);
        assertEquals(0, first.watchFrom(25 * SECOND).take(rest).watchedSpread(), 1e-8);
    }

    @Test
    void splittingATrainNeverChangesTheSteadiness() {
        Seeds.forSeeds(
                500,
                random -> {
                    long[] stamps =
                            Trains.jittered(random, random.nextDouble(1, 200), 0.3, 2e9, 20e9);
                    EdgeBatch train = EdgeBatch.of(3, stamps);
                    FlowSteadiness start =
                            FlowSteadiness.starting(SECOND / 2, 4).watchFrom(4 * SECOND);
                    FlowSteadiness pieces = start;
                    for (EdgeBatch piece : Trains.split(random, train)) {
                        pieces = pieces.take(piece);
                    }
                    assertEquals(start.take(train), pieces);
                });
    }

    @Test
    void impossibleSlotsAreRefused() {
        assertThrows(IllegalArgumentException.class, () -> FlowSteadiness.starting(0, 5));
        assertThrows(IllegalArgumentException.class, () -> FlowSteadiness.starting(SECOND, 1));
    }

    // Scale

    /**
     * Rest is a length of time: two readings far apart prove it, a thousand close together do not.
     */
    @Test
    void restIsTimeNotReadings() {
        MassSteadiness two =
                MassSteadiness.starting(0.1).take(0, weight(10)).take(3 * SECOND, weight(10));
        assertEquals(3 * SECOND, two.restNanos());
        MassSteadiness many = MassSteadiness.starting(0.1);
        for (int i = 0; i < 1_000; i++) {
            many = many.take(i * MILLI, weight(10));
        }
        assertEquals(999 * MILLI, many.restNanos());
    }

    @Test
    void aReadingOutsideTheBandBeginsAnew() {
        MassSteadiness rest = MassSteadiness.starting(0.2);
        rest = rest.take(0, weight(10)).take(SECOND, weight(10.2)).take(2 * SECOND, weight(10.1));
        assertEquals(2 * SECOND, rest.restNanos());
        assertEquals(10.1, rest.mean().kilograms(), 1e-12);
        MassSteadiness moved = rest.take(3 * SECOND, weight(10.25));
        assertEquals(0, moved.restNanos());
        assertEquals(10.25, moved.mean().kilograms());
    }

    /** A creep of a tenth of the band a second is not rest for ever: the whole stretch counts. */
    @Test
    void creepIsNotRest() {
        MassSteadiness rest = MassSteadiness.starting(0.1);
        long longest = 0;
        for (int i = 0; i < 100; i++) {
            rest = rest.take(i * SECOND, weight(10 + i * 0.01));
            longest = Math.max(longest, rest.restNanos());
        }
        assertEquals(10 * SECOND, longest);
    }

    /** A flicker of exactly the band is rest, in any unit and however heavy the tank. */
    @Test
    void flickerOfTheBandIsRest() {
        Seeds.forSeeds(
                1_000,
                random -> {
                    double step = new double[] {0.1, 0.2, 0.5, 1}[random.nextInt(4)];
                    MassUnit unit = random.nextBoolean() ? MassUnit.POUND : MassUnit.KILOGRAM;
                    long steps = random.nextLong(20_000);
                    MassSteadiness rest = MassSteadiness.starting(step * unit.kilograms());
                    for (int i = 0; i < 10; i++) {
                        double shown = (steps + random.nextInt(2)) * step;
                        rest =
                                rest.take(
                                        i * SECOND,
                                        new ScaleFrame.Weight(shown, unit, false, false));
                    }
                    assertEquals(9 * SECOND, rest.restNanos());
                });
    }

    @Test
    void motionEndsTheRest() {
        MassSteadiness rest =
                MassSteadiness.starting(0.1).take(0, weight(10)).take(SECOND, weight(10));
        MassSteadiness moving =
                rest.take(2 * SECOND, new ScaleFrame.Weight(10, MassUnit.KILOGRAM, false, true));
        assertEquals(0, moving.restNanos());
        assertEquals(0, moving.readings());
        assertThrows(IllegalStateException.class, moving::mean);
    }

    @Test
    void impossibleBandsAndWeightsAreRefused() {
        for (double bad : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> MassSteadiness.starting(bad));
        }
        for (double bad :
                new double[] {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> weight(bad));
        }
    }

    @Test
    void impossibleRulesAreRefused() {
        for (double bad : new double[] {1, 0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> new PulseRule(0, bad, 0.1, Long.MAX_VALUE, 0));
        }
        for (double bad : new double[] {-0.1, 1.1, Double.NaN}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> new PulseRule(0, 1.7, bad, Long.MAX_VALUE, 0));
        }
        assertThrows(IllegalArgumentException.class, () -> new PulseRule(-1, 1.7, 0.1, 9, 0));
        assertThrows(IllegalArgumentException.class, () -> new PulseRule(0, 1.7, 0.1, 5, 5));
        assertThrows(IllegalArgumentException.class, () -> new PulseRule(0, 1.7, 0.1, 5, -1));
    }
}
