package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.util.OptionalDouble;

/** Every figure by hand: rate x time, added up. */
final class SentPulsesTest {

    private static final long SECOND = 1_000_000_000L;

    private static SentPulses sending(double hertz) {
        return SentPulses.UNTOLD.take(SECOND, hertz, false);
    }

    @Test
    void aWindowHoldsEachRateForItsTime() {
        SentPulses sent =
                sending(0)
                        .open(10 * SECOND)
                        .take(12 * SECOND, 50, true)
                        .take(13 * SECOND, 100, false)
                        .take(20 * SECOND, 0, false)
                        .close(30 * SECOND);
        assertEquals(OptionalDouble.of(50 + 700), sent.inWindow());
    }

    @Test
    void onlyWhatLiesInTheWindowCounts() {
        SentPulses sent = sending(100).open(10 * SECOND).close(12 * SECOND);
        assertEquals(OptionalDouble.of(200), sent.inWindow());
        assertEquals(OptionalDouble.of(200), sent.take(40 * SECOND, 7, false).inWindow());
    }

    /** A flying window is opened and closed by stamps that already lie back. */
    @Test
    void stampsThatLieBackAreTaken() {
        SentPulses sent = sending(100).open(10 * SECOND + 1);
        assertEquals(OptionalDouble.empty(), sent.inWindow(), "not closed yet");
        assertEquals(100, sent.close(11 * SECOND + 1).inWindow().getAsDouble(), 1e-9);
    }

    @Test
    void aRateThatChangedAfterTheStampIsNotKnownAtIt() {
        SentPulses changed = sending(100).take(20 * SECOND, 50, false);
        assertEquals(
                OptionalDouble.empty(),
                changed.open(19 * SECOND).close(30 * SECOND).inWindow(),
                "at the opening");
        SentPulses late = sending(100).open(10 * SECOND).take(20 * SECOND, 50, false);
        assertEquals(OptionalDouble.empty(), late.close(19 * SECOND).inWindow(), "at the closing");
    }

    @Test
    void whatIsNotToldIsNotComputed() {
        SentPulses untold = SentPulses.UNTOLD.open(SECOND).close(2 * SECOND);
        assertFalse(untold.told());
        assertEquals(OptionalDouble.empty(), untold.inWindow());
        SentPulses late = SentPulses.UNTOLD.open(SECOND).take(2 * SECOND, 5, false);
        assertTrue(late.told());
        assertEquals(OptionalDouble.empty(), late.close(3 * SECOND).inWindow());
    }

    @Test
    void aStampOutOfOrderAddsNothingBackwards() {
        SentPulses sent =
                sending(100)
                        .open(10 * SECOND)
                        .take(12 * SECOND, 10, false)
                        .take(11 * SECOND, 0, false)
                        .close(20 * SECOND);
        assertEquals(OptionalDouble.of(200), sent.inWindow());
    }
}
