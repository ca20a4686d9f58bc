package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

/**
 * Double timing, N' = N T_gate / T_pulses: ISO 7278-3:1998 clause 4.2, API MPMS chapter 4.6. The
 * figures are worked from that formula.
 */
final class DoubleTimingTest {

    private static final long SECOND = Trains.SECOND;

    private static PulseCount.DoubleTimed timed(PulseGate gate) {
        return assertInstanceOf(PulseCount.DoubleTimed.class, gate.flyingCount());
    }

    /** N 1250, T_gate 10.0000 s, T_pulses 9.9960 s: N' = 1250.5002. */
    @Test
    void workedExample() {
        long open = 5 * SECOND;
        double period = 9.9960e9 / 1250;
        long[] stamps = Trains.steady(1e9 / period, open - 3.3 * period, open + 11 * SECOND);
        PulseCount.DoubleTimed count = timed(Trains.flying(stamps, open, open + 10 * SECOND));
        assertEquals(1250, count.counted());
        assertEquals(10 * SECOND, count.gateNanos());
        assertEquals(9_996_000_000L, count.pulseNanos(), 1);
        assertEquals(1250.5002, count.pulses(), 5e-5);
    }

    /**
     * Steady 125.05 Hz, gate 10 s, any phase: N' = 1250.5 within the stamps' resolution (two stamps
     * to half a nanosecond in a train of 10 s: 1250.5 x 1 ns / 10 s = 1.3e-7 pulses); whole pulses
     * 1250 or 1251.
     */
    @Test
    void steadyTrainAtAnyPhase() {
        double period = 1e9 / 125.05;
        boolean[] seen = new boolean[2];
        Seeds.forSeeds(
                2_000,
                random -> {
                    long open = SECOND + random.nextLong(SECOND);
                    long[] stamps =
                            Trains.steady(
                                    125.05,
                                    open - period * (2 + random.nextDouble()),
                                    open + 11 * SECOND);
                    PulseCount.DoubleTimed count =
                            timed(Trains.flying(stamps, open, open + 10 * SECOND));
                    assertEquals(1250.5, count.pulses(), 1.3e-7);
                    assertEquals(1250.5, count.bracketed(), 4e-7);
                    assertTrue(count.counted() == 1250 || count.counted() == 1251);
                    assertTrue(count.scatter() < 1e-5, "the train is even");
                    seen[(int) (count.counted() - 1250)] = true;
                });
        assertTrue(seen[0] && seen[1], "both whole counts occur");
    }

    /**
     * The window is open at its start and closed at its end, so that windows side by side add up.
     */
    @Test
    void edgesOnTheStampsBelongToOneWindowOnly() {
        long[] stamps = Trains.steady(100, 0, 3 * SECOND);
        PulseCount.DoubleTimed first = timed(Trains.flying(stamps, SECOND / 2, SECOND));
        PulseCount.DoubleTimed second = timed(Trains.flying(stamps, SECOND, 2 * SECOND));
        assertEquals(50, first.counted());
        assertEquals(100, second.counted());
        assertEquals(50, first.pulses(), 1e-9);
        assertEquals(100, second.pulses(), 1e-9);
        assertEquals(100, second.bracketed(), 1e-9);
        PulseCount.DoubleTimed both = timed(Trains.flying(stamps, SECOND / 2, 2 * SECOND));
        assertEquals(150, both.counted());
    }

    /** One edge in seven seconds: a window of 100 s holds 14.29 of them. */
    @Test
    void verySlowFlow() {
        double hertz = 1.0 / 7;
        long[] stamps = Trains.steady(hertz, 3e9, 200e9);
        PulseCount.DoubleTimed count = timed(Trains.flying(stamps, 50 * SECOND, 150 * SECOND));
        assertEquals(100 * hertz, count.pulses(), 1e-8);
        assertEquals(100 * hertz, count.bracketed(), 1e-8);
    }

    /**
     * Stamps and numbers near the end of 64 bits: years of running, and clocks that start anywhere.
     */
    @Test
    void sixtyFourBits() {
        long[] near = Trains.steady(125.05, 0, 12 * SECOND);
        long shift = Long.MAX_VALUE - 13 * SECOND;
        long[] far = near.clone();
        for (int i = 0; i < far.length; i++) {
            far[i] += shift;
        }
        long open = 123_456_789L;
        PulseCount.DoubleTimed expected = timed(Trains.flying(near, open, open + 10 * SECOND));
        PulseGate gate =
                Trains.flying(
                        PulseRule.plain(),
                        EdgeBatch.of(Long.MAX_VALUE - far.length, far),
                        shift + open,
                        shift + open + 10 * SECOND);
        assertEquals(expected, timed(gate));
    }

    /**
     * Ten thousand pulses a second for an hour stay exact: sums of squares do not lose the scatter.
     */
    @Test
    void longFastTrain() {
        Tally tally = Tally.EMPTY;
        long period = 100_000;
        long[] stamps = new long[10_000];
        for (int second = 0; second < 3_600; second++) {
            for (int i = 0; i < stamps.length; i++) {
                stamps[i] = second * SECOND + i * period;
            }
            tally = tally.fold(EdgeBatch.of(second * 10_000L, stamps), PulseRule.plain());
        }
        assertEquals(36_000_000, tally.pulses());
        assertEquals(0, tally.leaps());
        assertEquals(0, tally.scatter(), 1e-4);
    }
}
