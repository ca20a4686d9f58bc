package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget.Output;
import catchbay.metrology.Budget.Row;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The law of propagation of uncertainty, JCGM 100:2008, 5.1.2, by examples worked by hand. */
final class BudgetTest {

    private static String refusal(Runnable action) {
        return assertThrows(IllegalArgumentException.class, action::run).getMessage();
    }

    /**
     * a = x + y, b = x - y, c = 2x with u(x) = 3, u(y) = 4: variances 25, 25, 36, cov(a,b) = 9 - 16
     * = -7, cov(a,c) = 18, r(a,b) = -7/25, r(a,c) = 18/30.
     */
    @Test
    void outputsThatShareInputsAreCorrelated() {
        Budget budget =
                Budget.of(
                        List.of(
                                Input.normal("x", 10, 3, Scope.RUN),
                                Input.normal("y", 20, 4, Scope.BAY)),
                        List.of("a", "b", "c", "constant"),
                        v -> new double[] {v[0] + v[1], v[0] - v[1], 2 * v[0], 7});
        assertEquals(5, budget.output("a").standard(), 1e-14);
        assertEquals(25, budget.covariance("a", "a"), 1e-13);
        assertEquals(-7, budget.covariance("a", "b"), 1e-13);
        assertEquals(18, budget.covariance("c", "a"), 1e-13);
        assertEquals(-0.28, budget.correlation("a", "b"), 1e-14);
        assertEquals(0.6, budget.correlation("a", "c"), 1e-14);
        assertEquals(1, budget.correlation("c", "c"), 1e-15);
        assertEquals(0, budget.correlation("a", "constant"));
        Row y = budget.output("b").rows().get(1);
        assertEquals(-1, y.sensitivity(), 1e-14);
        assertEquals(4, y.contribution(), 1e-14);
        assertEquals(0.64, y.share(), 1e-14);
        assertEquals(Scope.BAY, y.scope());
        Output constant = budget.output("constant");
        assertEquals(7, constant.value());
        assertEquals(0, constant.expanded());
        assertEquals(0, constant.rows().getFirst().share());
    }

    /**
     * Three errors of a catch: meter R/M - 1, control R/A - 1, application M/A - 1. Relative terms
     * r of R, m of M and a of A: variances r^2 + m^2, r^2 + a^2, m^2 + a^2; they share r, a and
     * minus m^2.
     */
    @Test
    void theThreeErrorsOfACatch() {
        double asked = 10;
        double reported = 10.5;
        double measured = 10.2;
        double r = 0.001;
        double m = 0.002;
        double a = 0.0005;
        Budget budget =
                Budget.of(
                        List.of(
                                Input.normal("asked", asked, asked * a, Scope.BAY),
                                Input.normal("reported", reported, reported * r, Scope.RUN),
                                Input.normal("measured", measured, measured * m, Scope.RUN)),
                        List.of("meter", "control", "application"),
                        x -> new double[] {x[1] / x[2] - 1, x[1] / x[0] - 1, x[2] / x[0] - 1});
        double meter = reported / measured;
        double control = reported / asked;
        double application = measured / asked;
        // Central differences of 1/x are off by u^2 relative, 4e-6 at most here.
        assertClose(meter * Math.hypot(r, m), budget.output("meter").standard());
        assertClose(control * Math.hypot(r, a), budget.output("control").standard());
        assertClose(application * Math.hypot(m, a), budget.output("application").standard());
        assertClose(meter * control * r * r, budget.covariance("meter", "control"));
        assertClose(-meter * application * m * m, budget.covariance("meter", "application"));
        assertClose(control * application * a * a, budget.covariance("control", "application"));
    }

    private static void assertClose(double expected, double was) {
        assertEquals(expected, was, Math.abs(expected) * 5e-6);
    }

    /** Random linear models: u^2 = sum (c u)^2, worked out from the coefficients. */
    @Test
    void linearModelsAreExact() {
        Seeds.forSeeds(
                500,
                random -> {
                    int count = random.nextInt(1, 12);
                    double[] c = random.doubles(count, -5, 5).toArray();
                    double[] d = random.doubles(count, -5, 5).toArray();
                    List<Input> inputs = new ArrayList<>();
                    double variance = 0;
                    double covariance = 0;
                    for (int i = 0; i < count; i++) {
                        double u = random.nextDouble(0.01, 2);
                        inputs.add(Input.normal("x" + i, random.nextDouble(-9, 9), u, Scope.RUN));
                        variance += c[i] * u * c[i] * u;
                        covariance += c[i] * u * d[i] * u;
                    }
                    Budget budget =
                            Budget.of(
                                    inputs,
                                    List.of("c", "d"),
                                    x -> new double[] {product(c, x), product(d, x)});
                    assertEquals(Math.sqrt(variance), budget.output("c").standard(), 1e-11);
                    assertEquals(covariance, budget.covariance("c", "d"), 1e-10);
                    for (int i = 0; i < count; i++) {
                        assertEquals(c[i], budget.output("c").rows().get(i).sensitivity(), 1e-10);
                    }
                });
    }

    private static double product(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    /** A model may keep or spoil its array: neither changes the result. */
    @Test
    void aModelCannotSpoilTheInputs() {
        List<Input> inputs =
                List.of(Input.normal("x", 2, 0.1, Scope.RUN), Input.normal("y", 3, 0.1, Scope.RUN));
        Model tidy = x -> new double[] {x[0] * x[1]};
        Model untidy =
                x -> {
                    double[] answer = {x[0] * x[1]};
                    Arrays.fill(x, Double.NaN);
                    return answer;
                };
        assertEquals(
                Budget.of(inputs, List.of("xy"), tidy).outputs(),
                Budget.of(inputs, List.of("xy"), untidy).outputs());
    }

    @Test
    void badInputsAreRefusedInSentences() {
        for (double bad : new double[] {Double.NaN, -0.1, 0, Double.POSITIVE_INFINITY}) {
            String text = refusal(() -> Input.normal("temperature", 20, bad, Scope.RUN));
            assertTrue(text.contains("'temperature'") && text.contains("was " + bad), text);
            assertTrue(text.contains("leave the term out by taking the input as exact"), text);
        }
        for (double bad : new double[] {Double.NaN, 0.99, 0, -3}) {
            String text = refusal(() -> new Input("K", 1, 0.1, bad, Shape.STUDENT, Scope.RUN));
            assertTrue(text.contains("degrees of freedom of 'K' must be at least 1"), text);
        }
        assertTrue(refusal(() -> Input.normal("K", Double.NaN, 1, Scope.RUN)).contains("finite"));
        assertTrue(refusal(() -> Input.normal(" ", 1, 1, Scope.RUN)).contains("needs a name"));
        assertTrue(
                refusal(() -> new Input("K", 1, 0.1, 9, Shape.EXACT, Scope.RUN))
                        .contains("give it a distribution"));
    }

    @Test
    void resultsThatAreNoneAreRefused() {
        double[][] bad = {
            {Double.NaN, 1, 9, 2},
            {0, -1, 9, 2},
            {0, Double.NaN, 9, 2},
            {0, Double.POSITIVE_INFINITY, 9, 2},
            {0, 1, 0.9, 2},
            {0, 1, 9, 0}
        };
        for (double[] r : bad) {
            String text = refusal(() -> new Output("K", r[0], r[1], r[2], r[3], List.of()));
            assertTrue(text.contains("result 'K' needs a finite value"), text);
        }
    }

    @Test
    void modelsThatDoNotFitAreRefused() {
        Input x = Input.normal("x", 1, 0.6, Scope.RUN);
        Model same = v -> v.clone();
        assertTrue(
                refusal(() -> Budget.of(List.of(x, x), List.of("a", "b"), same))
                        .contains("input 'x' is there twice"));
        assertTrue(
                refusal(() -> Budget.of(List.of(x), List.of("a", "a"), same))
                        .contains("output 'a' is there twice"));
        assertTrue(refusal(() -> Budget.of(List.of(x), List.of(), same)).contains("at least one"));
        assertTrue(
                refusal(() -> Budget.of(List.of(x), List.of("a", "b"), same))
                        .contains("1 numbers for the 2 outputs [a, b]"));
        // The square root of what may be negative within the uncertainty.
        String text =
                refusal(() ->
                        Budget.of(
                                List.of(x),
                                List.of("root"),
                                v -> new double[] {Math.sqrt(v[0] - 0.5)}));
        assertTrue(text.contains("'root' as NaN at 'x' - u"), text);
        Budget budget = Budget.of(List.of(x), List.of("a"), same);
        assertTrue(refusal(() -> budget.output("b")).contains("use one of [a]"));
    }

    /** JCGM 100:2008, 4.3.7: a half-width of 3 evenly spread is worth 3/sqrt(3). */
    @Test
    void exactAndRectangularInputs() {
        Input step = Input.rectangular("display step", 0, 3, Scope.RUN);
        assertEquals(Math.sqrt(3), step.standard(), 1e-15);
        Output sum =
                Budget.of(
                                List.of(Input.exact("tare", 5), step),
                                List.of("sum"),
                                v -> new double[] {v[0] + v[1]})
                        .output("sum");
        assertEquals(5, sum.value());
        assertEquals(step.standard(), sum.standard(), 1e-15);
        assertEquals(0, sum.rows().getFirst().contribution());
    }
}
