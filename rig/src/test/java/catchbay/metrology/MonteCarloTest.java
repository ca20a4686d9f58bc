package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.metrology.MonteCarlo.Result;
import catchbay.seeded.Seeds;

import org.hipparchus.distribution.RealDistribution;
import org.hipparchus.distribution.continuous.ExponentialDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.distribution.continuous.TriangularDistribution;
import org.hipparchus.distribution.continuous.UniformRealDistribution;
import org.junit.jupiter.api.Test;

import java.util.Arrays;
import java.util.List;
import java.util.random.RandomGenerator;

/** Drawn shapes against Hipparchus's distributions, and what Monte Carlo refuses. */
final class MonteCarloTest {

    private static final int DRAWS = 100_000;
    private static final Model SAME = x -> x.clone();

    private static Input input(Shape shape, double degreesOfFreedom) {
        return new Input("x", 3, 2, degreesOfFreedom, shape, Scope.RUN);
    }

    /**
     * Kolmogorov's distance of the draws from the distribution, times sqrt(M): above 1.95 once in
     * 1000 for a right one (asymptotic tail 2 exp(-2 d^2)).
     */
    private static void assertDrawnFrom(RealDistribution expected, Input input, long seed) {
        Chance chance = new Chance(Seeds.generator(seed));
        double[] draws = new double[DRAWS];
        Arrays.setAll(draws, _ -> chance.draw(input));
        Arrays.sort(draws);
        double distance = 0;
        for (int i = 0; i < DRAWS; i++) {
            double probability = expected.cumulativeProbability(draws[i]);
            distance = Math.max(distance, Math.abs(probability - (i + 0.5) / DRAWS));
        }
        double scaled = distance * Math.sqrt(DRAWS);
        assertTrue(scaled < 1.95, input + " is off by " + scaled);
    }

    @Test
    void shapesAreThoseOfHipparchus() {
        double infinite = Double.POSITIVE_INFINITY;
        double even = 2 * Math.sqrt(3);
        double triangle = 2 * Math.sqrt(6);
        assertDrawnFrom(new NormalDistribution(3, 2), input(Shape.NORMAL, infinite), 1);
        assertDrawnFrom(
                new UniformRealDistribution(3 - even, 3 + even),
                input(Shape.RECTANGULAR, infinite),
                2);
        assertDrawnFrom(
                new TriangularDistribution(3 - triangle, 3, 3 + triangle),
                input(Shape.TRIANGULAR, infinite),
                3);
        assertDrawnFrom(new NormalDistribution(3, 2), input(Shape.STUDENT, infinite), 4);
        Input exact = Input.exact("x", 3);
        assertEquals(3, new Chance(Seeds.generator(5)).draw(exact));
    }

    @Test
    void studentDrawsHaveTheirDegreesOfFreedom() {
        double[] degrees = {1, 2, 2.7, 4, 9, 30};
        for (double v : degrees) {
            Chance chance = new Chance(Seeds.generator((long) (10 * v)));
            double[] draws = new double[DRAWS];
            Arrays.setAll(draws, _ -> (chance.draw(input(Shape.STUDENT, v)) - 3) / 2);
            Arrays.sort(draws);
            TDistribution t = new TDistribution(v);
            double distance = 0;
            for (int i = 0; i < DRAWS; i++) {
                double probability = t.cumulativeProbability(draws[i]);
                distance = Math.max(distance, Math.abs(probability - (i + 0.5) / DRAWS));
            }
            assertTrue(distance * Math.sqrt(DRAWS) < 1.95, v + ": " + distance);
        }
    }

    /**
     * The mean of 3 readings of unknown scatter, 2 degrees of freedom: no standard deviation, but
     * the interval is +-4.303 standard uncertainties (JCGM 100:2008, table G.2).
     */
    @Test
    void intervalOfFewReadings() {
        Result drawn =
                MonteCarlo.of(
                                List.of(input(Shape.STUDENT, 2)),
                                List.of("x"),
                                SAME,
                                DRAWS,
                                Seeds.generator(7))
                        .result("x");
        assertEquals(3 - 2 * 4.3027, drawn.symmetric().low(), 4 * drawn.lowDeviation());
        assertEquals(3 + 2 * 4.3027, drawn.symmetric().high(), 4 * drawn.highDeviation());
    }

    /** A lopsided output: an exponential's 2.5 % and 97.5 % points, and its shortest, from 0. */
    @Test
    void lopsidedOutput() {
        ExponentialDistribution exponential = new ExponentialDistribution(1);
        Result drawn =
                MonteCarlo.of(
                                List.of(Input.rectangular("p", 0.5, 0.5, Scope.RUN)),
                                List.of("life"),
                                x -> new double[] {-Math.log(Math.max(1e-12, x[0]))},
                                DRAWS,
                                Seeds.generator(8))
                        .result("life");
        assertEquals(
                exponential.inverseCumulativeProbability(0.025),
                drawn.symmetric().low(),
                4 * drawn.lowDeviation());
        assertEquals(
                exponential.inverseCumulativeProbability(0.975),
                drawn.symmetric().high(),
                4 * drawn.highDeviation());
        assertEquals(0, drawn.shortest().low(), 0.005);
        // Its deviation is as for any quantile q of density f: sqrt(q (1-q) / M) / f.
        assertEquals(exponential.inverseCumulativeProbability(0.95), drawn.shortest().high(), 0.06);
        assertEquals(
                Math.sqrt(0.025 * 0.975 / DRAWS) / 0.025,
                drawn.highDeviation(),
                0.15 * drawn.highDeviation());
        // Kurtosis 9: the deviation of s is s sqrt((9 - 1) / 4M).
        assertEquals(Math.sqrt(2.0 / DRAWS), drawn.standardDeviation(), 0.0005);
    }

    /**
     * 40 repetitions: what the result says of its own error must be the error it has, within what
     * 40 samples show (relative 1/sqrt(80), times 4).
     */
    @Test
    void statedErrorsAreTheErrorsMade() {
        int repetitions = 40;
        double mean = 0;
        double standard = 0;
        double low = 0;
        Result last = null;
        for (int i = 0; i < repetitions; i++) {
            last =
                    MonteCarlo.of(
                                    List.of(input(Shape.NORMAL, Double.POSITIVE_INFINITY)),
                                    List.of("x"),
                                    SAME,
                                    10_000,
                                    Seeds.generator(100 + i))
                            .result("x");
            mean += Math.pow(last.mean() - 3, 2) / repetitions;
            standard += Math.pow(last.standard() - 2, 2) / repetitions;
            low += Math.pow(last.symmetric().low() - (3 - 2 * 1.959964), 2) / repetitions;
        }
        double allowed = 4 / Math.sqrt(2.0 * repetitions);
        assertEquals(1, Math.sqrt(mean) / last.meanDeviation(), allowed);
        assertEquals(1, Math.sqrt(standard) / last.standardDeviation(), allowed);
        assertEquals(1, Math.sqrt(low) / last.lowDeviation(), allowed);
    }

    /** The model that two propagations share gives them the same correlation. */
    @Test
    void correlationOfOutputsIsThatOfTheBudget() {
        List<Input> inputs =
                List.of(
                        Input.normal("x", 10, 3, Scope.RUN),
                        Input.rectangular("y", 20, 7, Scope.BAY));
        List<String> outputs = List.of("sum", "difference", "constant");
        Model model = x -> new double[] {x[0] + x[1], x[0] - x[1], 1};
        double expected = Budget.of(inputs, outputs, model).correlation("sum", "difference");
        MonteCarlo drawn = MonteCarlo.of(inputs, outputs, model, DRAWS, Seeds.generator(9));
        // The deviation of a sampled correlation is at most about 1/sqrt(M).
        assertEquals(
                expected, drawn.correlation("difference", "sum"), 4 / Math.sqrt((double) DRAWS));
        assertEquals(0, drawn.correlation("sum", "constant"));
        Result constant = drawn.result("constant");
        assertEquals(0, constant.standard());
        assertEquals(0, constant.standardDeviation());
        assertEquals(1, constant.symmetric().high());
        assertTrue(constant.symmetric().contains(1));
    }

    @Test
    void theSameSeedGivesTheSameResult() {
        List<Input> inputs = List.of(input(Shape.STUDENT, 5));
        List<Result> first =
                MonteCarlo.of(inputs, List.of("x"), SAME, 2_000, Seeds.generator(3)).results();
        assertEquals(
                first,
                MonteCarlo.of(inputs, List.of("x"), SAME, 2_000, Seeds.generator(3)).results());
    }

    @Test
    void tooFewAndTooManyDrawsAreRefused() {
        RandomGenerator random = Seeds.generator(0);
        List<Input> inputs = List.of(Input.normal("x", 0, 1, Scope.RUN));
        for (int draws : new int[] {-1, 0, 999, 10_000_001}) {
            String text =
                    assertThrows(
                                    IllegalArgumentException.class,
                                    () -> MonteCarlo.of(inputs, List.of("x"), SAME, draws, random))
                            .getMessage();
            assertTrue(text.contains("1000 to 10000000 draws") && text.contains("" + draws), text);
        }
        MonteCarlo drawn = MonteCarlo.of(inputs, List.of("x"), SAME, 1_000, random);
        assertTrue(
                assertThrows(IllegalArgumentException.class, () -> drawn.result("y"))
                        .getMessage()
                        .contains("use one of [x]"));
    }
}
