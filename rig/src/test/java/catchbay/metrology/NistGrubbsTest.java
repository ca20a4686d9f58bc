package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Grubbs.Finding;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

/**
 * Grubbs against NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17, and the critical values
 * of {@code grubbs-critical.csv} (its header gives the formula).
 */
final class NistGrubbsTest {

    @ParameterizedTest
    @CsvFileSource(resources = "grubbs-critical.csv", useHeadersInDisplayName = true)
    void criticalValues(int n, double oneSided, double twoSided) {
        assertEquals(twoSided, Grubbs.critical(n), 0.5001e-4);
    }

    /** The handbook's mass spectrometer: G = 2.4687 for 245.57; two-sided critical 2.1266. */
    @Test
    void handbookExample() {
        double[] readings = {199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57};
        Finding.Flagged flagged = assertInstanceOf(Finding.Flagged.class, Grubbs.test(readings));
        assertEquals(7, flagged.index());
        assertEquals(245.57, flagged.value());
        assertEquals(2.468765, flagged.statistic(), 5e-7);
        assertEquals(2.1266, flagged.critical(), 0.5e-4);
        assertEquals(8, readings.length, "nothing is dropped");
    }

    @Test
    void aLowRunIsFlaggedAsWell() {
        Finding.Flagged flagged =
                assertInstanceOf(
                        Finding.Flagged.class,
                        Grubbs.test(new double[] {10.1, 3, 10, 10.2, 9.9, 10}));
        assertEquals(1, flagged.index());
    }

    @Test
    void evenRunsAreNot() {
        assertInstanceOf(Finding.None.class, Grubbs.test(new double[] {1, 2, 3, 4, 5}));
    }

    /** Five per cent of normal sets are flagged, whatever their size: what the level means. */
    @Test
    void falseAlarms() {
        for (int n : new int[] {3, 5, 10}) {
            int sets = 10_000;
            int[] flagged = {0};
            Seeds.forSeeds(
                    sets,
                    random -> {
                        double[] runs = new double[n];
                        for (int i = 0; i < n; i++) {
                            runs[i] = 100 + random.nextGaussian();
                        }
                        if (Grubbs.test(runs) instanceof Finding.Flagged) {
                            flagged[0]++;
                        }
                    });
            double deviation = Math.sqrt(0.05 * 0.95 / sets);
            assertEquals(0.05, flagged[0] / (double) sets, 4 * deviation, n + " runs");
        }
    }

    @Test
    void whatCannotBeTestedSaysSo() {
        Finding.Untestable two =
                assertInstanceOf(Finding.Untestable.class, Grubbs.test(new double[] {1, 2}));
        assertTrue(two.reason().contains("there are 2"), two.reason());
        Finding.Untestable same =
                assertInstanceOf(Finding.Untestable.class, Grubbs.test(new double[] {4, 4, 4}));
        assertTrue(same.reason().contains("identical"), same.reason());
        assertThrows(
                IllegalArgumentException.class, () -> Grubbs.test(new double[] {1, Double.NaN, 3}));
    }
}
