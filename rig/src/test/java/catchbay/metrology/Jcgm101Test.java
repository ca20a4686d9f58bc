package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget.Output;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.metrology.MonteCarlo.Result;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.stream.IntStream;

/**
 * Examples of JCGM 101:2008, 9.2.2, 9.2.3 and 9.3. Their published figures are from memory; beside
 * each stands what follows without the guide. What is drawn is held to 4 standard deviations of the
 * estimate from so many draws, which a right program misses once in 15,000 comparisons.
 */
final class Jcgm101Test {

    private static final int DRAWS = 500_000;
    private static final double INFINITE = Double.POSITIVE_INFINITY;
    private static final Model SUM = x -> new double[] {x[0] + x[1] + x[2] + x[3]};

    private static List<Input> four(Shape shape) {
        return IntStream.range(0, 4)
                .mapToObj(i -> new Input("x" + i, 0, 1, INFINITE, shape, Scope.RUN))
                .toList();
    }

    private static Result drawn(List<Input> inputs, Model model, long seed) {
        return MonteCarlo.of(inputs, List.of("y"), model, DRAWS, Seeds.generator(seed)).result("y");
    }

    private static Output budgeted(List<Input> inputs, Model model) {
        return Budget.of(inputs, List.of("y"), model).output("y");
    }

    private static void assertInterval(double low, double high, Result drawn) {
        assertEquals(low, drawn.symmetric().low(), 4 * drawn.lowDeviation());
        assertEquals(high, drawn.symmetric().high(), 4 * drawn.highDeviation());
        assertTrue(drawn.shortest().width() <= drawn.symmetric().width());
    }

    /** 9.2.2, from memory: four standard normal inputs, u = 2.0, 95 % interval +-3.92. */
    @Test
    void fourNormalInputs() {
        Output budgeted = budgeted(four(Shape.NORMAL), SUM);
        assertEquals(2, budgeted.standard(), 1e-14);
        assertEquals(3.92, budgeted.expanded(), 0.005);
        Result drawn = drawn(four(Shape.NORMAL), SUM, 922);
        assertEquals(0, drawn.mean(), 4 * drawn.meanDeviation());
        assertEquals(2, drawn.standard(), 4 * drawn.standardDeviation());
        assertInterval(-2 * 1.959964, 2 * 1.959964, drawn);
        // Of M normal draws s scatters by sigma/sqrt(2M), and the mean by sigma/sqrt(M).
        assertEquals(2 / Math.sqrt(2.0 * DRAWS), drawn.standardDeviation(), 0.00005);
        assertEquals(2 / Math.sqrt((double) DRAWS), drawn.meanDeviation(), 0.00005);
    }

    /**
     * 9.2.3, from memory: four rectangular inputs of unit deviation, +-3.88 where Student's t says
     * +-3.92; the budget knows their shapes. The exact end, sqrt(12) (q - 2): the upper tail of the
     * sum of four even numbers is (4 - q)^4 / 24, which is 0.025 at q = 4 - 0.6^(1/4).
     */
    @Test
    void fourRectangularInputs() {
        double exact = Math.sqrt(12) * (2 - Math.pow(0.6, 0.25));
        assertEquals(3.88, exact, 0.005);
        Result drawn = drawn(four(Shape.RECTANGULAR), SUM, 923);
        assertEquals(2, drawn.standard(), 4 * drawn.standardDeviation());
        assertInterval(-exact, exact, drawn);
        assertEquals(exact, budgeted(four(Shape.RECTANGULAR), SUM).expanded(), 1e-6);
    }

    /**
     * 9.3, mass calibration, mg, from memory: 1.234 mg; budget 0.0539 and [1.1285, 1.3395], Monte
     * Carlo 0.0754 and [1.0834, 1.3825]. Without the guide: the variance by hand, since rho_a - 1.2
     * is independent of 1/rho_W - 1/rho_R and has no mean.
     */
    @Test
    void massCalibration() {
        List<Input> inputs =
                List.of(
                        Input.normal("reference", 100_000, 0.050, Scope.RUN),
                        Input.normal("difference", 1.234, 0.020, Scope.RUN),
                        Input.rectangular("air density", 1.2, 0.1, Scope.RUN),
                        Input.rectangular("density of W", 8000, 1000, Scope.RUN),
                        Input.rectangular("density of R", 8000, 50, Scope.RUN));
        Model model =
                x -> {
                    double buoyancy = (x[2] - 1.2) * (1 / x[3] - 1 / x[4]);
                    return new double[] {(x[0] + x[1]) * (1 + buoyancy) - 100_000};
                };
        Output budgeted = budgeted(inputs, model);
        assertEquals(1.234, budgeted.value(), 1e-9);
        assertEquals(0.0539, budgeted.standard(), 0.00005);
        assertEquals(1.1285, budgeted.value() - budgeted.expanded(), 0.0002);
        assertEquals(1.3395, budgeted.value() + budgeted.expanded(), 0.0002);
        Result drawn = drawn(inputs, model, 93);
        assertEquals(massDeviation(), drawn.standard(), 4 * drawn.standardDeviation());
        assertEquals(0.0754, drawn.standard(), 0.0002);
        assertEquals(1.234, drawn.mean(), 4 * drawn.meanDeviation());
        assertEquals(1.0834, drawn.symmetric().low(), 0.002);
        assertEquals(1.3825, drawn.symmetric().high(), 0.002);
    }

    private static double massDeviation() {
        // E(1/x) = ln(b/a)/(b-a) and E(1/x^2) = 1/(ab) over an even (a, b).
        double meanW = Math.log(9000 / 7000.0) / 2000;
        double meanR = Math.log(8050 / 7950.0) / 100;
        double squareW = 1 / (7000.0 * 9000);
        double squareR = 1 / (7950.0 * 8050);
        double square = squareW + squareR - 2 * meanW * meanR;
        double ofAir = 0.1 * 0.1 / 3;
        return Math.sqrt(0.05 * 0.05 + 0.02 * 0.02 + 1e10 * ofAir * square);
    }
}
