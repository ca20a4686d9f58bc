package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/**
 * JCGM 100:2008, H.3, calibration of a thermometer: data, source and published results are in the
 * header of {@code gum-h3.csv}; digits beyond the guide's are recomputed there.
 */
final class GumH3Test {

    private static final double REFERENCE = 20;

    private static final Columns DATA = Columns.of("gum-h3.csv");
    private static final double[] READINGS = DATA.column("t_k");
    private static final Regression LINE = Regression.of(READINGS, DATA.column("b_k"));

    @Test
    void parameters() {
        assertEquals(-0.1712, LINE.at(REFERENCE), 0.00005);
        assertEquals(0.0029, LINE.standardAt(REFERENCE), 0.00005);
        assertEquals(0.00218, LINE.slope(), 0.000005);
        assertEquals(0.00067, LINE.slopeStandard(), 0.000005);
        assertEquals(0.0035, LINE.residualDeviation(), 0.00005);
        assertEquals(9, LINE.degreesOfFreedom());
        assertEquals(-0.171204, LINE.at(REFERENCE), 5e-7);
        assertEquals(0.002878, LINE.standardAt(REFERENCE), 5e-7);
        assertEquals(0.0021827, LINE.slope(), 5e-8);
        assertEquals(0.0006679, LINE.slopeStandard(), 5e-8);
        assertEquals(
                0.000110096583109, 9 * LINE.residualDeviation() * LINE.residualDeviation(), 1e-15);
    }

    /** r(y1, y2) = -0.930; and H.3.6: none about the mean temperature, 24.008. */
    @Test
    void correlationOfLevelAndSlope() {
        double correlation =
                LINE.covarianceWithSlopeAt(REFERENCE)
                        / (LINE.standardAt(REFERENCE) * LINE.slopeStandard());
        assertEquals(-0.930, correlation, 0.0005);
        assertEquals(24.008, LINE.meanAbscissa(), 0.0005);
        assertEquals(0, LINE.covarianceWithSlopeAt(LINE.meanAbscissa()));
        assertEquals(-0.162455, LINE.at(LINE.meanAbscissa()), 5e-7);
        assertEquals(0.001055, LINE.standardAt(LINE.meanAbscissa()), 5e-7);
    }

    /** b(30) = -0.1494, u 0.0041; of a single new reading there, u 0.005419 (recomputed). */
    @Test
    void prediction() {
        assertEquals(-0.1494, LINE.at(30), 0.00005);
        assertEquals(0.0041, LINE.standardAt(30), 0.00005);
        assertEquals(0.004139, LINE.standardAt(30), 5e-7);
        assertEquals(0.005419, LINE.predictionStandardAt(30), 5e-7);
        assertEquals(2.262, Coverage.factor(0.95, LINE.degreesOfFreedom()), 0.0005);
    }

    /** Table H.6, calculated corrections. */
    @Test
    void fittedValues() {
        double[] fitted = {
            -0.1679, -0.1668, -0.1657, -0.1646, -0.1635, -0.1625, -0.1614, -0.1603, -0.1592,
            -0.1581, -0.1570
        };
        for (int i = 0; i < fitted.length; i++) {
            assertEquals(fitted[i], LINE.at(READINGS[i]), 0.000051, "at " + READINGS[i]);
        }
    }
}
