package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.hipparchus.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;

/**
 * A line against the certified values of NIST StRD Norris ({@code nist-norris.csv} names the
 * source), and against Hipparchus over random points.
 */
final class NistNorrisTest {

    private static final Columns DATA = Columns.of("nist-norris.csv");

    @Test
    void certifiedValues() {
        Regression line = Regression.of(DATA.column("x"), DATA.column("y"));
        assertEquals(-0.262323073774029, line.at(0), 1e-11);
        assertEquals(0.232818234301152, line.standardAt(0), 1e-12);
        assertEquals(1.00211681802045, line.slope(), 1e-13);
        assertEquals(0.429796848199937E-03, line.slopeStandard(), 1e-15);
        assertEquals(0.782864662630069, Math.pow(line.residualDeviation(), 2), 1e-11);
        assertEquals(34, line.degreesOfFreedom());
    }

    @Test
    void agreesWithHipparchus() {
        Seeds.forSeeds(
                1_000,
                random -> {
                    int count = random.nextInt(3, 30);
                    double[] x = new double[count];
                    double[] y = new double[count];
                    SimpleRegression expected = new SimpleRegression();
                    double slope = random.nextDouble(-3, 3);
                    for (int i = 0; i < count; i++) {
                        x[i] = random.nextDouble(10, 20);
                        y[i] = 5 + slope * x[i] + random.nextGaussian();
                        expected.addData(x[i], y[i]);
                    }
                    Regression line = Regression.of(x, y);
                    double scale = 1e-8 * (1 + expected.getInterceptStdErr());
                    assertEquals(expected.getIntercept(), line.at(0), scale);
                    assertEquals(expected.getInterceptStdErr(), line.standardAt(0), scale);
                    assertEquals(expected.getSlope(), line.slope(), scale);
                    assertEquals(expected.getSlopeStdErr(), line.slopeStandard(), scale);
                    assertEquals(
                            expected.getMeanSquareError(),
                            Math.pow(line.residualDeviation(), 2),
                            scale);
                    assertEquals(expected.predict(15), line.at(15), scale);
                });
    }

    private static void assertRefused(String part, double[] x, double[] y) {
        String text =
                assertThrows(IllegalArgumentException.class, () -> Regression.of(x, y))
                        .getMessage();
        assertTrue(text.contains(part), text);
    }

    @Test
    void badPointsAreRefused() {
        assertRefused("at least 3 points", new double[] {1, 2}, new double[] {1, 2});
        assertRefused("3 abscissas and 2", new double[] {1, 2, 3}, new double[] {1, 2});
        assertRefused("all 3 are at 4.0", new double[] {4, 4, 4}, new double[] {1, 2, 3});
        assertRefused(
                "reading 2 must be finite",
                new double[] {1, Double.NaN, 3},
                new double[] {1, 2, 3});
        assertRefused(
                "reading 3 must be finite",
                new double[] {1, 2, 3},
                new double[] {1, 2, Double.POSITIVE_INFINITY});
    }
}
