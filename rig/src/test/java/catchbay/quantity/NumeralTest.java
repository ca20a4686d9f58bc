package catchbay.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.math.BigDecimal;

/** How numbers are shown, and which of them are no figures of a bay. */
final class NumeralTest {

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "3099.1, 3099.1",
        "86400000000000, 86400000000000",
        "0.000000012345, 0.000000012345",
        "0.000000000123456, 1.235e-10",
        "-1e-300, -1e-300",
        "1e16, 1e16"
    })
    void zerosThatNobodyCountsAreNotShown(BigDecimal number, String shown) {
        assertEquals(shown, Numeral.of(number));
    }

    @ParameterizedTest
    @CsvSource({"2.50000, 2.5", "123456, 123500", "0.0123449, 0.01234"})
    void digitsThatSayNothingAreLeftOut(BigDecimal number, String shown) {
        assertEquals(shown, Numeral.of(number, 4));
    }

    @ParameterizedTest
    @CsvSource({"0.254, +0.25", "-0.256, -0.26", "-0.004, 0.00", "0.004, 0.00", "0, 0.00"})
    void aZeroThatRoundingHasLeftHasNoSign(double number, String shown) {
        assertEquals(shown, Numeral.signed(number, 2));
    }

    @ParameterizedTest
    @CsvSource({"0.254, 0.25", "0.005, 0.01", "0.0049, <0.01", "1e-9, <0.01", "0, 0.00"})
    void anUncertaintyIsNeverShownAsNothing(double number, String shown) {
        assertEquals(shown, Numeral.uncertainty(number, 2));
    }

    @Test
    void whatIsLargerThanADayInNanosecondsByFarWasMistyped() {
        assertTrue(Numeral.problem(new BigDecimal("1e15")).isEmpty());
        assertTrue(Numeral.problem(new BigDecimal("-1.1e15")).orElseThrow().contains("-1e15"));
        assertTrue(
                Numeral.problem(new BigDecimal("1e16"))
                        .orElseThrow()
                        .startsWith("it must be at most 1e15"));
        assertEquals("1e300", Numeral.of(new BigDecimal("1.0E+300")), "as it is typed");
    }
}
