package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

/** Student's t against the table of {@code student-t.csv}, the layout of JCGM 100:2008, G.2. */
final class StudentTableTest {

    @ParameterizedTest
    @CsvFileSource(resources = "student-t.csv", useHeadersInDisplayName = true)
    void table(
            double degrees,
            double sixtyEight,
            double ninety,
            double ninetyFive,
            double twoSigma,
            double ninetyNine,
            double threeSigma) {
        // Half a unit of the last digit printed; the headers 0.6827, 0.9545 and 0.9973 are rounded
        // themselves but taken as they stand.
        assertEquals(sixtyEight, Coverage.factor(0.6827, degrees), 0.5001e-4);
        assertEquals(ninety, Coverage.factor(0.90, degrees), 0.5001e-4);
        assertEquals(ninetyFive, Coverage.factor(0.95, degrees), 0.5001e-4);
        assertEquals(twoSigma, Coverage.factor(0.9545, degrees), 0.5001e-4);
        assertEquals(ninetyNine, Coverage.factor(0.99, degrees), 0.5001e-4);
        assertEquals(threeSigma, Coverage.factor(0.9973, degrees), 0.5001e-4);
    }

    /** Table G.2, last row: 1.960 for 95 %, 2.576 for 99 %. */
    @Test
    void infinitelyMany() {
        assertEquals(1.960, Coverage.factor(0.95, Double.POSITIVE_INFINITY), 0.0005);
        assertEquals(2.576, Coverage.factor(0.99, Double.POSITIVE_INFINITY), 0.0005);
    }

    /**
     * t = z + (z^3 + z)/4v + … (Abramowitz and Stegun, 26.7.5, from memory): a sum of variances may
     * have any degrees of freedom, far beyond every table.
     */
    @Test
    void beyondTheTable() {
        for (double v = 1e4; v < 1e300; v *= 9.7) {
            for (double p : new double[] {0.68, 0.95, 0.99, 0.9973}) {
                double z = Coverage.factor(p, Double.POSITIVE_INFINITY);
                double expected = z + (z * z * z + z) / (4 * v);
                assertEquals(expected, Coverage.factor(p, v), 1e-6, p + " of " + v);
                assertEquals(
                        (1 + p) / 2, Coverage.probabilityUpTo(expected, v), 1e-6, p + " of " + v);
            }
        }
    }

    @Test
    void nonsenseIsRefused() {
        for (double bad : new double[] {0, 1, -0.1, 1.1, Double.NaN}) {
            assertThrows(IllegalArgumentException.class, () -> Coverage.factor(bad, 5));
        }
        for (double bad : new double[] {0.999, 0, -1, Double.NaN, Double.NEGATIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> Coverage.factor(0.95, bad));
        }
    }
}
