package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Repeatability.Decision;
import catchbay.metrology.Repeatability.Plan;
import catchbay.quantity.Ratio;
import catchbay.seeded.Seeds;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleSupplier;

/**
 * Limits against {@code repeatability-limits.csv} (its header gives the formula) and the table of
 * API MPMS 4.8, appendix A, from memory; d2 against its integral; the two forms by hand.
 */
final class RepeatabilityTest {

    private static final Plan PLAN = new Plan(3, 5, Ratio.ofPercent(0.25));

    @ParameterizedTest
    @CsvFileSource(resources = "repeatability-limits.csv", useHeadersInDisplayName = true)
    void limitsFor27ThousandthsOfAPerCent(int n, double t, double d2, double limit) {
        assertEquals(limit, Repeatability.limit(Ratio.ofPercent(0.027), n).percent(), 0.5001e-4);
        assertEquals(d2, Repeatability.meanRange(n));
    }

    /**
     * 0.02 0.03 0.05 0.06 0.08 0.09 0.10 0.12 for 3 to 10 runs, from memory. Within the last digit:
     * 0.0652 for 6 runs is printed as 0.06.
     */
    @Test
    void printedTable() {
        double[] table = {0.02, 0.03, 0.05, 0.06, 0.08, 0.09, 0.10, 0.12};
        for (int n = 3; n <= 10; n++) {
            double limit = Repeatability.limit(Ratio.ofPercent(0.027), n).percent();
            assertEquals(table[n - 3], limit, 0.0055, n + " runs");
        }
    }

    /** Scaled to +-0.25 %: 0.170 % for 3 runs, 0.468 % for 5. */
    @Test
    void scalesWithTheUncertaintyWanted() {
        assertEquals(0.170, Repeatability.limit(Ratio.ofPercent(0.25), 3).percent(), 0.0005);
        assertEquals(0.468, Repeatability.limit(Ratio.ofPercent(0.25), 5).percent(), 0.0005);
    }

    /**
     * The scatter whose expected range is just the limit of the table for n runs needs n of them
     * (formula of the table in the head of {@code repeatability-limits.csv}: limit / d2).
     */
    @ParameterizedTest
    @CsvFileSource(resources = "repeatability-limits.csv", useHeadersInDisplayName = true)
    void runsForAScatterAreThoseOfTheTable(int n, double t, double d2, double limit) {
        Plan plan = new Plan(3, 20, Ratio.ofPercent(0.027));
        Ratio within = Ratio.ofPercent(limit / d2 * 0.995);
        Ratio beyond = Ratio.ofPercent(limit / d2 * 1.005);
        assertEquals(n, Repeatability.runsFor(plan, within).orElseThrow());
        assertTrue(Repeatability.runsFor(plan, beyond).filter(runs -> runs <= n).isEmpty());
    }

    /** d2(n) is the integral of 1 - F^n - (1 - F)^n over the line (Tippett). */
    @Test
    void meanRangeIsItsIntegral() {
        NormalDistribution normal = new NormalDistribution(0, 1);
        for (int n = 3; n <= 20; n++) {
            double sum = 0;
            double step = 0.001;
            for (double x = -9; x < 9; x += step) {
                double p = normal.cumulativeProbability(x);
                sum += (1 - Math.pow(p, n) - Math.pow(1 - p, n)) * step;
            }
            assertEquals(sum, Repeatability.meanRange(n), 0.00051, n + " runs");
        }
    }

    /**
     * Pulses 12501, 12504, 12499, 12503, 12502: 0.040003 % of the least, 0.039994 % of the mean.
     */
    @Test
    void twoForms() {
        double[] pulses = {12501, 12504, 12499, 12503, 12502};
        assertEquals(0.040003, Repeatability.rangeOverLeast(pulses).percent(), 0.5e-6);
        assertEquals(0.039994, Repeatability.rangeOverMean(pulses).percent(), 0.5e-6);
        assertInstanceOf(
                Decision.Enough.class,
                Repeatability.after(new Plan(5, 10, Ratio.ofPercent(0.027)), pulses));
    }

    @Test
    void decisions() {
        assertTrue(again(100).contains("1 of the 3 planned"));
        assertTrue(again(100, 100.01).contains("2 of the 3 planned"));
        Decision.Enough enough =
                assertInstanceOf(
                        Decision.Enough.class, Repeatability.after(PLAN, runs(99.95, 100, 100.05)));
        assertEquals(0.1, enough.range().percent(), 1e-10);
        assertEquals(0.170, enough.limit().percent(), 0.0005);
        String apart = again(99.85, 100, 100.15);
        assertTrue(apart.contains("3 runs lie 0.300 % apart, more than the 0.170 %"), apart);
        Decision.LimitReached reached =
                assertInstanceOf(
                        Decision.LimitReached.class,
                        Repeatability.after(PLAN, runs(99, 100, 101, 100, 100)));
        assertEquals(2, reached.range().percent(), 1e-10);
        assertTrue(reached.advice().contains("no more are planned"), reached.advice());
    }

    /** A good last three do not forgive a bad first: all runs count. */
    @Test
    void theBestConsecutiveRunsAreNotChosen() {
        assertTrue(again(98, 100, 100.01, 100.02).contains("4 runs lie 2."));
    }

    private static double[] runs(double... runs) {
        return runs;
    }

    private static String again(double... runs) {
        return assertInstanceOf(Decision.RunAgain.class, Repeatability.after(PLAN, runs)).reason();
    }

    @Test
    void identicalRunsAreRefused() {
        String reason =
                assertInstanceOf(
                                Decision.Refused.class,
                                Repeatability.after(PLAN, runs(100, 100, 100)))
                        .reason();
        assertTrue(reason.contains("All 3 runs gave exactly the same"), reason);
    }

    private static void assertRefused(String part, Runnable action) {
        String text = assertThrows(IllegalArgumentException.class, action::run).getMessage();
        assertTrue(text.contains(part), text);
    }

    @Test
    void nonsenseIsRefused() {
        Ratio wanted = Ratio.ofPercent(0.25);
        assertRefused("plan at least 3", () -> new Plan(2, 5, wanted));
        assertRefused("at least 5 runs are planned, and at most 4", () -> new Plan(5, 4, wanted));
        assertRefused("3 to 20 runs", () -> new Plan(3, 21, wanted));
        assertRefused("above 0 %", () -> new Plan(3, 5, Ratio.ZERO));
        assertRefused("there are 2", () -> Repeatability.rangeOverMean(runs(1, 2)));
        assertRefused("one was -1.0", () -> Repeatability.rangeOverMean(runs(1, 2, -1)));
        assertRefused("one was NaN", () -> Repeatability.rangeOverLeast(runs(1, 2, Double.NaN)));
        assertRefused("asked for 2", () -> Repeatability.limit(wanted, 2));
        assertRefused("6 runs were made", () -> Repeatability.after(PLAN, runs(1, 2, 3, 4, 5, 6)));
    }

    /**
     * Stein, Annals of Mathematical Statistics 16 (1945) 243: with the rule that stops when the
     * range looks good, the interval from the planned runs' deviation holds the truth in 95 % of
     * the sets; the one from all runs, taken when they looked good, in fewer. The scatter is such
     * that a third to a half of the sets go on beyond the plan.
     */
    @Test
    void plannedScatterKeepsItsPromiseUnderTheStoppingRule() {
        int sets = 40_000;
        Plan plan = new Plan(3, 10, Ratio.ofPercent(0.25));
        double[] held = new double[3];
        Seeds.forSeeds(
                sets,
                random -> {
                    double[] runs = set(plan, 0.2, random::nextGaussian);
                    double off = Math.abs(Sample.mean(runs) - 100);
                    double root = Math.sqrt(runs.length);
                    Scatter planned = Scatter.ofPlanned(runs, plan.runs());
                    double naive = Sample.deviation(runs);
                    held[0] += off <= expanded(planned, root) ? 1 : 0;
                    held[1] += off <= expanded(new Scatter(naive, runs.length - 1), root) ? 1 : 0;
                    held[2] += runs.length > plan.runs() ? 1 : 0;
                });
        double deviation = Math.sqrt(0.95 * 0.05 / sets);
        assertEquals(0.95, held[0] / sets, 4 * deviation);
        assertTrue(held[1] / sets < 0.95 - 10 * deviation, "naive " + held[1] / sets);
        assertTrue(held[2] / sets > 0.3, "went on " + held[2] / sets);
    }

    /**
     * Pooled with six earlier sets of three, of the same scatter, the interval is a good deal
     * narrower and still holds: to within 0.5 %, since a set that looks unsteady stands alone.
     */
    @Test
    void pooledScatterKeepsItsPromiseToo() {
        int sets = 20_000;
        Plan plan = new Plan(3, 10, Ratio.ofPercent(0.25));
        double[] sums = new double[3];
        Seeds.forSeeds(
                sets,
                random -> {
                    List<Scatter> earlier = new ArrayList<>();
                    for (int i = 0; i < 6; i++) {
                        earlier.add(Scatter.ofPlanned(set(plan, 0.2, random::nextGaussian), 3));
                    }
                    double[] runs = set(plan, 0.2, random::nextGaussian);
                    double root = Math.sqrt(runs.length);
                    Scatter alone = Scatter.ofPlanned(runs, 3);
                    double pooled = expanded(alone.pooledWith(Scatter.pooled(earlier)), root);
                    sums[0] += Math.abs(Sample.mean(runs) - 100) <= pooled ? 1 : 0;
                    sums[1] += pooled;
                    sums[2] += expanded(alone, root);
                });
        assertEquals(0.95, sums[0] / sets, 0.005 + 4 * Math.sqrt(0.95 * 0.05 / sets));
        assertTrue(sums[1] < 0.7 * sums[2], sums[1] / sums[2] + " of the width");
    }

    private static double expanded(Scatter scatter, double root) {
        return Coverage.factor(0.95, scatter.degreesOfFreedom()) * scatter.standard() / root;
    }

    private static double[] set(Plan plan, double deviation, DoubleSupplier gaussian) {
        double[] runs = new double[0];
        do {
            runs = Arrays.copyOf(runs, runs.length + 1);
            runs[runs.length - 1] = 100 + deviation * gaussian.getAsDouble();
        } while (Repeatability.after(plan, runs) instanceof Decision.RunAgain);
        return runs;
    }
}
