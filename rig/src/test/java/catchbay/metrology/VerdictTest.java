package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.DecisionRule.FourWay;
import catchbay.metrology.DecisionRule.GuardBand;
import catchbay.metrology.DecisionRule.SimpleAcceptance;
import catchbay.metrology.Verdict.Decided;
import catchbay.metrology.Verdict.Grade;
import catchbay.metrology.Verdict.NoRoom;
import catchbay.quantity.Ratio;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Optional;

/**
 * Verdicts against ILAC-G8:09/2019, 4.2 (zones and false-accept figures) and the examples of JCGM
 * 106:2012 (from memory; their arithmetic is that of the normal distribution).
 */
final class VerdictTest {

    private static final double INFINITE = Double.POSITIVE_INFINITY;
    private static final Tolerance TWO_PER_CENT = Tolerance.within(Ratio.ofPercent(2), "this test");

    /** An error with expanded uncertainty 2 u. */
    private static Budget.Output error(double percent, double standardPercent) {
        return new Budget.Output(
                "error", percent / 100, standardPercent / 100, INFINITE, 2, List.of());
    }

    private static Decided decided(Budget.Output error, Tolerance tolerance, DecisionRule rule) {
        return assertInstanceOf(Decided.class, Verdict.of(error, tolerance, rule));
    }

    private static Grade grade(double percent, Tolerance tolerance, DecisionRule rule) {
        return decided(error(percent, 0.25), tolerance, rule).grade();
    }

    /** 4.2.1: AL = TL. */
    @Test
    void simpleAcceptance() {
        DecisionRule rule = new SimpleAcceptance();
        assertEquals(Grade.PASS, grade(1.99, TWO_PER_CENT, rule));
        assertEquals(Grade.PASS, grade(2, TWO_PER_CENT, rule));
        assertEquals(Grade.FAIL, grade(2.01, TWO_PER_CENT, rule));
        assertEquals(Grade.PASS, grade(-2, TWO_PER_CENT, rule));
        assertEquals(Grade.FAIL, grade(-2.01, TWO_PER_CENT, rule));
    }

    /** 4.2.2: AL = TL - w; here U = 0.5 %. */
    @Test
    void guardBand() {
        assertEquals(Grade.PASS, grade(1.49, TWO_PER_CENT, new GuardBand(1)));
        assertEquals(Grade.FAIL, grade(1.51, TWO_PER_CENT, new GuardBand(1)));
        assertEquals(Grade.PASS, grade(-1.74, TWO_PER_CENT, new GuardBand(0.5)));
        assertEquals(Grade.FAIL, grade(-1.76, TWO_PER_CENT, new GuardBand(0.5)));
        assertEquals(
                0.5,
                decided(error(0, 0.25), TWO_PER_CENT, new GuardBand(1)).guardBand().percent(),
                1e-14);
    }

    /** Pass to TL - w, conditional pass to TL, conditional fail to TL + w, fail beyond. */
    @Test
    void fourWay() {
        DecisionRule rule = new FourWay(1);
        for (int side : new int[] {-1, 1}) {
            assertEquals(Grade.PASS, grade(side * 1.49, TWO_PER_CENT, rule));
            assertEquals(Grade.CONDITIONAL_PASS, grade(side * 1.51, TWO_PER_CENT, rule));
            assertEquals(Grade.CONDITIONAL_PASS, grade(side * 1.99, TWO_PER_CENT, rule));
            assertEquals(Grade.CONDITIONAL_FAIL, grade(side * 2.01, TWO_PER_CENT, rule));
            assertEquals(Grade.CONDITIONAL_FAIL, grade(side * 2.49, TWO_PER_CENT, rule));
            assertEquals(Grade.FAIL, grade(side * 2.51, TWO_PER_CENT, rule));
        }
        assertEquals("conditional fail", Grade.CONDITIONAL_FAIL.words());
    }

    @Test
    void oneSidedTolerances() {
        Tolerance most = Tolerance.atMost(Ratio.ofPercent(1), "this test");
        assertEquals(Grade.PASS, grade(-50, most, new GuardBand(1)));
        assertEquals(Grade.PASS, grade(0.49, most, new GuardBand(1)));
        assertEquals(Grade.FAIL, grade(0.51, most, new GuardBand(1)));
        Tolerance least = Tolerance.atLeast(Ratio.ofPercent(-1), "this test");
        assertEquals(Grade.PASS, grade(50, least, new SimpleAcceptance()));
        assertEquals(Grade.FAIL, grade(-1.01, least, new SimpleAcceptance()));
        assertEquals(0.5, decided(error(-1, 0.25), least, new GuardBand(1)).conformity(), 1e-12);
    }

    /** Phi(-2r): r = 1 2.28 %, 0.83 4.85 %, 0.5 15.9 %, 1.5 0.135 %, none 50 %. */
    @Test
    void falseAcceptAtTheLimit() {
        Tolerance most = Tolerance.atMost(Ratio.ofPercent(2), "this test");
        assertEquals(0.0228, risk(most, new GuardBand(1)), 0.00005);
        assertEquals(0.0485, risk(most, new GuardBand(0.83)), 0.00005);
        assertEquals(0.159, risk(most, new GuardBand(0.5)), 0.0005);
        assertEquals(0.00135, risk(most, new GuardBand(1.5)), 0.000005);
        assertEquals(0.5, risk(most, new SimpleAcceptance()), 1e-12);
        assertEquals(0.5, risk(most, new FourWay(1)), 1e-12);
        assertTrue(risk(TWO_PER_CENT, new GuardBand(1)) < 0.025, "4.2.2: w = U, below 2.5 %");
    }

    private static double risk(Tolerance tolerance, DecisionRule rule) {
        return decided(error(0, 0.25), tolerance, rule).falseAcceptMost();
    }

    /** A truth at the limit, measured 100,000 times, is passed as often as stated. */
    @Test
    void falseAcceptsHappenAsOftenAsStated() {
        Tolerance narrow = Tolerance.within(Ratio.ofPercent(0.5), "this test");
        for (DecisionRule rule : List.of(new SimpleAcceptance(), new GuardBand(0.4))) {
            int sets = 100_000;
            var random = Seeds.generator(11);
            int accepted = 0;
            double stated = 0;
            for (int i = 0; i < sets; i++) {
                Decided verdict =
                        decided(error(0.5 + 0.4 * random.nextGaussian(), 0.4), narrow, rule);
                accepted += verdict.grade() == Grade.PASS ? 1 : 0;
                stated = verdict.falseAcceptMost();
            }
            double allowed = 4 * Math.sqrt(stated * (1 - stated) / sets);
            assertEquals(stated, accepted / (double) sets, allowed, rule.toString());
        }
    }

    /** Breakdown voltage -5.47 V, u 0.05 V, limit -5.40 V: Phi(1.40) = 0.919. */
    @Test
    void breakdownVoltage() {
        Budget.Output voltage = new Budget.Output("voltage", -5.47, 0.05, INFINITE, 2, List.of());
        Tolerance most = Tolerance.atMost(new Ratio(-5.40), "JCGM 106:2012");
        assertEquals(0.919, decided(voltage, most, new SimpleAcceptance()).conformity(), 0.0005);
    }

    /** 100 km/h, u 2 % of the speed, 99.9 %: v = 100 / (1 - 3.09 x 0.02) = 106.6 km/h. */
    @Test
    void speedLimit() {
        double speed = 100 / (1 - 3.09 * 0.02);
        Budget.Output measured =
                new Budget.Output("speed", speed, 0.02 * speed, INFINITE, 2, List.of());
        Tolerance most = Tolerance.atMost(new Ratio(100), "JCGM 106:2012");
        assertEquals(106.6, speed, 0.05);
        assertEquals(0.001, decided(measured, most, new SimpleAcceptance()).conformity(), 0.000005);
    }

    /** 7.2: between two limits, Phi(2) - Phi(-1) for limits two and one deviation away: 0.8186. */
    @Test
    void conformityBetweenTwoLimits() {
        Tolerance lopsided =
                new Tolerance(
                        Optional.of(Ratio.ofPercent(-0.1)),
                        Optional.of(Ratio.ofPercent(0.2)),
                        "this test");
        assertEquals(
                0.8186,
                decided(error(0, 0.1), lopsided, new SimpleAcceptance()).conformity(),
                0.00005);
    }

    /** Few degrees of freedom: half of 5 % lies beyond t95(4) = 2.776 deviations. */
    @Test
    void fewDegreesOfFreedomWidenTheTails() {
        Budget.Output error =
                new Budget.Output("error", 0, 0.01, 4, Coverage.factor(0.95, 4), List.of());
        Tolerance most = Tolerance.atMost(new Ratio(0.027764), "this test");
        assertEquals(0.975, decided(error, most, new SimpleAcceptance()).conformity(), 0.00001);
        assertEquals(0.025, decided(error, most, new GuardBand(1)).falseAcceptMost(), 1e-9);
    }

    /** U = 2.5 % in a tolerance of +-2 %: nothing could pass, and a fail would say nothing. */
    @Test
    void guardBandsThatMeetLeaveNoVerdict() {
        NoRoom none =
                assertInstanceOf(
                        NoRoom.class, Verdict.of(error(0, 1.25), TWO_PER_CENT, new GuardBand(1)));
        assertTrue(none.reason().contains("2.500 %"), none.reason());
        assertTrue(none.reason().contains("4.000 % from end to end"), none.reason());
        assertInstanceOf(Decided.class, Verdict.of(error(0, 1.25), TWO_PER_CENT, new FourWay(1)));
    }

    @Test
    void theDefaultSaysWhereItComesFrom() {
        assertEquals("common practice, no source", Tolerance.COMMON_PRACTICE.source());
    }

    @Test
    void nonsenseIsRefused() {
        assertRefused(
                "at least one limit", () -> new Tolerance(Optional.empty(), Optional.empty(), "x"));
        assertRefused("above 0 %", () -> Tolerance.within(Ratio.ZERO, "x"));
        assertRefused(
                "from a lower to a higher",
                () ->
                        new Tolerance(
                                Optional.of(Ratio.ofPercent(1)),
                                Optional.of(Ratio.ofPercent(1)),
                                "x"));
        assertRefused("needs its source", () -> Tolerance.within(Ratio.ofPercent(1), " "));
        for (double bad : new double[] {0, -1, 3.1, Double.NaN}) {
            assertRefused("guard band must be above 0", () -> new GuardBand(bad));
            assertRefused("guard band must be above 0", () -> new FourWay(bad));
        }
        assertRefused(
                "without an uncertainty",
                () -> Verdict.of(error(0, 0), TWO_PER_CENT, new SimpleAcceptance()));
    }

    private static void assertRefused(String part, Runnable action) {
        String text = assertThrows(IllegalArgumentException.class, action::run).getMessage();
        assertTrue(text.contains(part), text);
    }
}
