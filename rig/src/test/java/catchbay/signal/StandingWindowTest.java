package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Flow that starts and stops inside the window. */
final class StandingWindowTest {

    private static final long SECOND = Trains.SECOND;
    private static final long MILLI = Trains.MILLI;
    private static final long OPEN = 10 * SECOND;
    private static final long CLOSE = 40 * SECOND;
    private static final long SILENCE = 2 * SECOND;

    /** Certified from 20 to 200 pulses/s. */
    private static final PulseRule RULE =
            new PulseRule(0, PulseRule.LEAP_RATIO, PulseRule.EVEN_RATIO_MAX, 50 * MILLI, 5 * MILLI);

    /** 100 Hz from 12 s to 35 s. */
    private static final long[] FLOW = Trains.steady(100, 12e9, 35e9);

    private static PulseCount count(long... stamps) {
        return Trains.standing(RULE, stamps, OPEN, CLOSE).standingCount(SILENCE);
    }

    private static void assertUnusable(String part, PulseCount count) {
        String reason = assertInstanceOf(PulseCount.Unusable.class, count).reason();
        assertTrue(reason.contains(part), reason);
    }

    @Test
    void wholePulsesBetweenRestAndRest() {
        PulseCount.Whole whole = assertInstanceOf(PulseCount.Whole.class, count(FLOW));
        assertEquals(2300, whole.counted());
        assertEquals(30 * SECOND, whole.gateNanos());
        assertEquals(2299 * 10 * MILLI, whole.flowNanos());
        assertEquals(0, whole.slowPulses() + whole.fastPulses());
        assertTrue(whole.why().contains("started and stopped"), whole.why());
    }

    /** The wait for the first pulse is no spacing of slow flow, however long. */
    @Test
    void theWaitForTheFlowIsNoSpacing() {
        long[] purged = Trains.with(FLOW, 0, OPEN - SILENCE);
        PulseCount.Whole whole = assertInstanceOf(PulseCount.Whole.class, count(purged));
        assertEquals(2300, whole.counted());
        assertEquals(0, whole.slowPulses());
    }

    /** Silence is exact at both ends: one nanosecond less is not enough. */
    @Test
    void silenceIsProvenAtBothEnds() {
        assertInstanceOf(PulseCount.Whole.class, count(Trains.with(FLOW, 0, OPEN - SILENCE)));
        assertUnusable("1999 ms before it", count(Trains.with(FLOW, 0, OPEN - SILENCE + 1)));
        int end = FLOW.length;
        assertInstanceOf(PulseCount.Whole.class, count(Trains.with(FLOW, end, CLOSE - SILENCE)));
        assertUnusable(
                "when the window closed (last edge 1999 ms before it)",
                count(Trains.with(FLOW, end, CLOSE - SILENCE + 1)));
        assertUnusable(
                "when the window closed (an edge came 700 ms after it)",
                count(Trains.with(FLOW, end, CLOSE + 700 * MILLI)));
    }

    @Test
    void edgesOnTheStamps() {
        assertUnusable("0 ms before it", count(Trains.with(FLOW, 0, OPEN)));
        assertUnusable("0 ms before it", count(Trains.with(FLOW, FLOW.length, CLOSE)));
    }

    @Test
    void nothingFlowed() {
        assertUnusable("check that liquid flowed", count());
        assertUnusable("check that liquid flowed", count(OPEN - SILENCE));
    }

    /** Ramps: four spacings of 100 ms and four of 4 ms lie outside 5 to 50 ms. */
    @Test
    void rampsAreCountedApart() {
        long[] stamps = FLOW;
        for (int i = 0; i < 4; i++) {
            stamps = Trains.with(stamps, 0, stamps[0] - 100 * MILLI);
            stamps = Trains.with(stamps, stamps.length, stamps[stamps.length - 1] + 4 * MILLI);
        }
        PulseCount.Whole whole = assertInstanceOf(PulseCount.Whole.class, count(stamps));
        assertEquals(2308, whole.counted());
        assertEquals(4, whole.slowPulses());
        assertEquals(400 * MILLI, whole.slowNanos());
        assertEquals(4, whole.fastPulses());
        assertEquals(16 * MILLI, whole.fastNanos());
    }

    @Test
    void lostNumbersEndItHereToo() {
        PulseGate gate = PulseGate.idle(RULE).open(OPEN, true).close(CLOSE);
        gate = gate.take(EdgeBatch.of(0, 12 * SECOND)).take(EdgeBatch.of(2, 13 * SECOND));
        assertInstanceOf(PulseCount.EdgesLost.class, gate.standingCount(SILENCE));
    }
}
