package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.seeded.Seeds;

import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/** Sums of flat terms against closed forms, published examples, quadrature and chance. */
final class ResultDistributionTest {

    private static final double INFINITE = Double.POSITIVE_INFINITY;

    private static ResultDistribution of(double[] effects, Shape... shapes) {
        return ResultDistribution.of(effects, shapes, INFINITE);
    }

    /** JCGM 101:2008, 9.2.2 and table 2: four normal inputs of u = 1, +-3.92 (from memory). */
    @Test
    void normalTermsStayStudents() {
        ResultDistribution four =
                of(
                        new double[] {1, 1, 1, 1},
                        Shape.NORMAL,
                        Shape.NORMAL,
                        Shape.NORMAL,
                        Shape.NORMAL);
        assertFalse(four.propagated());
        assertEquals(3.92, 2 * four.factor(0.95), 0.005);
    }

    /**
     * JCGM 101:2008, 9.2.3.4: four rectangular inputs of u = 1 give exactly +-2 sqrt 3 (2 -
     * (3/5)^(1/4)) = 3.88, where the guide's formula gives 3.92 (from memory; the closed form
     * follows from the volume of a corner of a cube of four dimensions).
     */
    @Test
    void fourRectangles() {
        ResultDistribution four =
                of(
                        new double[] {1, 1, 1, 1},
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR);
        assertTrue(four.propagated());
        double exact = 2 * Math.sqrt(3) * (2 - Math.pow(0.6, 0.25));
        assertEquals(exact, 2 * four.factor(0.95), 1e-6);
    }

    /**
     * JCGM 101:2008, 9.2.4 and table 4: three rectangular inputs of u = 1 and one of u = 10, +-17.0
     * where the guide's formula gives 19.9 (from memory).
     */
    @Test
    void oneRectangleThatDominates() {
        double[] effects = {1, 1, 1, 10};
        ResultDistribution led =
                of(
                        effects,
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR,
                        Shape.RECTANGULAR);
        assertEquals(17.0, Math.sqrt(103) * led.factor(0.95), 0.05);
    }

    /** Closed forms: a lone rectangle, a lone triangle, and a triangle made of two rectangles. */
    @Test
    void loneShapes() {
        ResultDistribution even = of(new double[] {0.3}, Shape.RECTANGULAR);
        ResultDistribution triangle = of(new double[] {7}, Shape.TRIANGULAR);
        ResultDistribution two = of(new double[] {2, -2}, Shape.RECTANGULAR, Shape.RECTANGULAR);
        for (double p : new double[] {0.5, 0.6827, 0.9, 0.95, 0.99}) {
            assertEquals(p * Math.sqrt(3), even.factor(p), 2e-5, "rectangle, " + p);
            double ofTriangle = Math.sqrt(6) * (1 - Math.sqrt(1 - p));
            assertEquals(ofTriangle, triangle.factor(p), 2e-5, "triangle, " + p);
            assertEquals(ofTriangle, two.factor(p), 2e-5, "two rectangles, " + p);
        }
        assertEquals(1, even.probabilityUpTo(1.8), 0);
        assertEquals(0, even.probabilityUpTo(-1.8), 0);
        assertEquals(0.5, even.probabilityUpTo(0), 1e-12);
    }

    /** A rectangle under a normal blur, against the integral of the normal distribution over it. */
    @Test
    void rectangleAndNormal() {
        NormalDistribution unit = new NormalDistribution(0, 1);
        for (double share : new double[] {0.3, 0.5, 0.8, 0.95, 0.99}) {
            double half = Math.sqrt(3 * share);
            double blur = Math.sqrt(1 - share);
            ResultDistribution sum =
                    of(new double[] {Math.sqrt(share), blur}, Shape.RECTANGULAR, Shape.NORMAL);
            double k = sum.factor(0.95);
            var gauss = new GaussIntegratorFactory().legendre(200, -half, half);
            double held =
                    gauss.integrate(at ->
                            (unit.cumulativeProbability((k - at) / blur)
                                            - unit.cumulativeProbability((-k - at) / blur))
                                    / (2 * half));
            assertEquals(0.95, held, sum.propagated() ? 1e-6 : 0.002, "share " + share);
        }
    }

    /** Whatever the terms, the interval is the one that chance draws, within its own scatter. */
    @Test
    void agreesWithMonteCarlo() {
        Shape[] shapes = {Shape.NORMAL, Shape.RECTANGULAR, Shape.TRIANGULAR};
        Seeds.forSeeds(
                60,
                random -> {
                    List<Input> inputs = new ArrayList<>();
                    int count = 1 + random.nextInt(6);
                    for (int i = 0; i < count; i++) {
                        inputs.add(
                                new Input(
                                        "x" + i,
                                        0,
                                        StrictMath.exp(4 * random.nextDouble() - 2),
                                        INFINITE,
                                        shapes[random.nextInt(shapes.length)],
                                        Scope.RUN));
                    }
                    Model sum =
                            values -> {
                                double total = 0;
                                for (double value : values) {
                                    total += value;
                                }
                                return new double[] {total};
                            };
                    Budget.Output output = Budget.of(inputs, List.of("y"), sum).output("y");
                    MonteCarlo.Result drawn =
                            MonteCarlo.of(
                                            inputs,
                                            List.of("y"),
                                            sum,
                                            40_000,
                                            new SplittableRandom(random.nextLong()))
                                    .result("y");
                    double scatter = Math.hypot(drawn.lowDeviation(), drawn.highDeviation());
                    // Where t is kept it may be off by as much as the limit of the kurtosis lets
                    // it.
                    double kept = output.propagated() ? 0 : 0.004 * output.expanded();
                    assertEquals(
                            drawn.symmetric().width(),
                            2 * output.expanded(),
                            4 * scatter + 2 * kept,
                            inputs::toString);
                });
    }

    /** Few degrees of freedom widen a flat result as they widen a normal one. */
    @Test
    void fewDegreesOfFreedom() {
        Shape[] one = {Shape.RECTANGULAR};
        double known = ResultDistribution.of(new double[] {1}, one, INFINITE).factor(0.95);
        double hardly = ResultDistribution.of(new double[] {1}, one, 4).factor(0.95);
        // t of 4 degrees of freedom: shared table of JCGM 100:2008, G.2.
        assertEquals(2.776 / 1.960, hardly / known, 0.001);
    }

    /** A verdict knows the shape too: beyond the edges of a lone rectangle there is nothing. */
    @Test
    void verdictKnowsTheShape() {
        Budget.Output error =
                Budget.of(
                                List.of(Input.rectangular("e", 0.01, 0.009, Scope.BAY)),
                                List.of("error"),
                                values -> values)
                        .output("error");
        Verdict verdict =
                Verdict.of(error, Tolerance.COMMON_PRACTICE, new DecisionRule.SimpleAcceptance());
        assertEquals(1.0, ((Verdict.Decided) verdict).conformity(), 1e-9);
    }
}
