package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.metrology.Budget.Output;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * JCGM 100:2008, G.4.1, Welch-Satterthwaite. The example's figures are from memory; its arithmetic
 * is checked by hand here, and the formula by {@link GumH1Test} too.
 */
final class GumG4Test {

    private static Input factor(String name, double percent, double degreesOfFreedom) {
        return new Input(name, 1, percent / 100, degreesOfFreedom, Shape.STUDENT, Scope.RUN);
    }

    /**
     * y = b x1 x2 x3: relative 0.25 % (9), 0.57 % (4), 0.82 % (14) make 1.03 %, v 19.0, U 2.2 %.
     */
    @Test
    void productOfThree() {
        Output y =
                Budget.of(
                                List.of(
                                        factor("x1", 0.25, 9),
                                        factor("x2", 0.57, 4),
                                        factor("x3", 0.82, 14)),
                                List.of("y"),
                                x -> new double[] {x[0] * x[1] * x[2]})
                        .output("y");
        assertEquals(0.0103, y.standard(), 0.00005);
        // By hand: 1.0598^2 / (0.25^4/9 + 0.57^4/4 + 0.82^4/14) = 1.12318 / 0.0591184.
        assertEquals(18.9987, y.degreesOfFreedom(), 0.0005);
        assertEquals(19.0, y.degreesOfFreedom(), 0.05);
        assertEquals(2.09, Coverage.factor(0.95, 19), 0.005);
        assertEquals(0.022, y.expanded(), 0.0005);
    }

    /** Truncated, not rounded: 18.9987 counts as 18. */
    @Test
    void degreesOfFreedomAreCut() {
        assertEquals(18, Coverage.truncated(18.9987));
        assertEquals(16, Coverage.truncated(16.75));
        assertEquals(Double.POSITIVE_INFINITY, Coverage.truncated(Double.POSITIVE_INFINITY));
    }

    /** One term alone keeps its degrees of freedom through the formula's rounding. */
    @Test
    void oneTermKeepsItsOwn() {
        for (int v = 1; v <= 300; v++) {
            for (double u : new double[] {1e-9, 0.1, 0.3, 7, 1e12}) {
                Input input = new Input("x", 0, u, v, Shape.STUDENT, Scope.RUN);
                Output y =
                        Budget.of(List.of(input), List.of("y"), x -> new double[] {0.7 * x[0]})
                                .output("y");
                assertEquals(v, Coverage.truncated(y.degreesOfFreedom()), "u " + u);
            }
        }
    }

    /** n equal terms of v degrees of freedom make n v. */
    @Test
    void equalTermsAdd() {
        double effective =
                Coverage.effectiveDegreesOfFreedom(
                        new double[] {1e-200, 1e-200, 1e-200}, new double[] {4, 4, 4});
        assertEquals(12, effective, 1e-12);
    }
}
