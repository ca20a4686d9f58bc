package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.StartStopError.Catch;
import catchbay.metrology.StartStopError.Round;
import catchbay.quantity.Mass;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;

/** The start-stop error by hand; the way is that of ISO 4185, annex A (from memory). */
final class StartStopErrorTest {

    private static Catch caught(double seconds, double kilograms) {
        return new Catch(seconds, new Mass(kilograms), OptionalDouble.empty());
    }

    /** What a bay with this error catches at this flow, and what its meter counts. */
    private static Catch metered(double seconds, double flow, double error) {
        return new Catch(
                seconds,
                new Mass(flow * (seconds + error)),
                OptionalDouble.of(500 * flow * seconds));
    }

    private static Round round(double error, double longFlow, double shortFlow) {
        return new Round(
                metered(60, longFlow, error),
                Collections.nCopies(10, metered(6, shortFlow, error)));
    }

    /**
     * Worked by hand: q = 2 kg/s, error 0.050 s, t = 60 s, n = 10 gives 120.10 kg, 121.00 kg in
     * all, R = 1.00749376, and the error back exactly.
     */
    @Test
    void theWorkedExample() {
        Round round = new Round(caught(60, 120.10), Collections.nCopies(10, caught(6, 12.10)));
        assertEquals(1.00749376, round.ratio(), 5e-9);
        assertEquals(0.05, round.seconds(), 1e-12);
        assertFalse(round.metered());
    }

    /** Windows are as long as the diverter makes them: T of the short ones is not quite t. */
    @Test
    void windowsNeedNotBeAsLongAsPlanned() {
        List<Catch> shorts = new ArrayList<>();
        for (int i = 0; i < 7; i++) {
            shorts.add(caught(5.8 + 0.1 * i, 2 * (5.8 + 0.1 * i - 0.031)));
        }
        assertEquals(-0.031, new Round(caught(59.7, 2 * (59.7 - 0.031)), shorts).seconds(), 1e-12);
    }

    /** One per cent more flow in the short catches would pass for 67 ms without the meter. */
    @Test
    void theMeterTakesTheFlowsChangesOut() {
        assertEquals(0.05, round(0.05, 2, 2.02).seconds(), 1e-12);
        Round blind =
                new Round(caught(60, 2 * 60.05), Collections.nCopies(10, caught(6, 2.02 * 6.05)));
        assertEquals(0.118, blind.seconds(), 1e-3);
    }

    /**
     * Three rounds of 0.04, 0.05 and 0.06 s: mean 0.05 s, s = 0.01 s, and Student's 4.303 of two
     * degrees of freedom (JCGM 100:2008, table G.2) over the root of three: 0.0248 s.
     */
    @Test
    void theScatterOfTheRoundsIsItsUncertainty() {
        StartStopError error =
                StartStopError.of(
                        List.of(round(0.04, 2, 2), round(0.05, 2, 2), round(0.06, 2, 2)),
                        new Mass(0),
                        0.2);
        assertEquals(0.05, error.seconds().value(), 1e-9);
        assertEquals(4.303 * 0.01 / Math.sqrt(3), error.seconds().expanded(), 1e-5);
        assertEquals(WeightCheck.Answer.PASSES, error.answer());
    }

    /**
     * Rounds that agree are no better than the scale's steps: a triangle for each kind of catch (of
     * half-width d), and 1 / (q (n - 1)) s a kilogram where T = t, over the root of the rounds; q
     * itself is only as good as the error is small.
     */
    @Test
    void theStepsOfTheScaleCount() {
        StartStopError error =
                StartStopError.of(Collections.nCopies(4, round(0.05, 2, 2)), new Mass(0.06), 0.2);
        double standard = 0.06 / Math.sqrt(6) * Math.sqrt(2) / (2 * 9.0) / 2;
        assertEquals(standard, error.seconds().standard(), 0.001 * standard);
    }

    @Test
    void whatIsNoErrorOfTimingIsAFault() {
        Mass step = new Mass(0.02);
        List<Round> broken = Collections.nCopies(3, round(0.6, 2, 2));
        assertEquals(WeightCheck.Answer.FAILS, StartStopError.of(broken, step, 0.2).answer());
        List<Round> wild = List.of(round(-0.3, 2, 2), round(0.3, 2, 2), round(0.1, 2, 2));
        assertEquals(WeightCheck.Answer.CANNOT_TELL, StartStopError.of(wild, step, 0.2).answer());
    }

    /** An even spread of half-width a has a standard uncertainty of a / sqrt 3. */
    @Test
    void asADoubtItIsJustAsUncertain() {
        assertEquals(0.005, StartStopError.halfWidthSeconds(0.01) / Math.sqrt(3), 1e-15);
    }

    @Test
    void refusals() {
        refused(() -> caught(0, 1), "needs a window");
        refused(() -> caught(1, -1), "a mass");
        refused(() -> new Round(caught(6, 1), List.of(caught(1, 1))), "2 or more");
        refused(() -> new Round(caught(6, 1), List.of(caught(1, 1), caught(6, 1))), "shorter");
        refused(
                () -> StartStopError.of(List.of(round(0, 2, 2)), new Mass(0), 0.2),
                "2 rounds or more");
    }

    private static void refused(Runnable making, String part) {
        String text = assertThrows(IllegalArgumentException.class, making::run).getMessage();
        assertTrue(text.contains(part), text);
    }
}
