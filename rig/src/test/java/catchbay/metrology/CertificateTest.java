package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;

final class CertificateTest {

    private static final LocalDate DATE = LocalDate.of(2025, 11, 3);
    private static final LocalDate EXPIRY = LocalDate.of(2026, 11, 2);
    private static final Certificate CERTIFICATE = new Certificate("R-7", DATE, EXPIRY, 0.003);

    @Test
    void holdsFromItsDateToItsLastDay() {
        assertNull(CERTIFICATE.refusalOn(DATE));
        assertNull(CERTIFICATE.refusalOn(EXPIRY));
        assertNull(new Certificate("R-7", DATE, DATE, 0).refusalOn(DATE));
    }

    @Test
    void isRefusedBeforeAndAfter() {
        String late = CERTIFICATE.refusalOn(EXPIRY.plusDays(1));
        assertTrue(late.contains("R-7 expired on 2026-11-02"), late);
        String early = CERTIFICATE.refusalOn(DATE.minusDays(1));
        assertTrue(early.contains("dated 2025-11-03"), early);
    }

    @Test
    void contradictionsAreRefused() {
        assertThrows(
                IllegalArgumentException.class, () -> new Certificate(" ", DATE, EXPIRY, 0.003));
        assertThrows(
                IllegalArgumentException.class, () -> new Certificate("R-7", EXPIRY, DATE, 0.003));
        for (double uncertainty : new double[] {-0.001, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> new Certificate("R-7", DATE, EXPIRY, uncertainty));
        }
    }
}
