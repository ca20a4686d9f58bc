package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.util.Optional;

/** The line forms are invented; no source. */
class TotalPatternTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "TOTAL 12.34 US GAL RATE 1.5; US_GALLON",
                "TOTAL 12.34 L RATE 0; LITRE",
                "TOTAL 12.34 Imp.gal RATE 0; IMPERIAL_GALLON",
                "TOTAL 12.34 litres RATE 0; LITRE",
                "TOTAL 12.34 usg RATE 0; US_GALLON"
            })
    void totalAndUnitAreRead(String line, VolumeUnit unit) {
        TotalPattern pattern =
                new TotalPattern(
                        "TOTAL +(?<total>[0-9.]+) (?<unit>[A-Za-z. ]+) RATE .*", Optional.empty());
        assertEquals(new Decoded.Value<>(Volume.of(12.34, unit)), pattern.decode(line));
    }

    /** A gallon may be 3.785 L or 4.546 L: 20 % apart, so it is never guessed. */
    @Test
    void aBareGallonNeedsTheUnitSet() {
        String text = "(?<total>[0-9.]+) (?<unit>[a-z]+)";
        assertRefused(
                new TotalPattern(text, Optional.empty()), "12.5 gal", "US or an Imperial gallon");
        assertRefused(
                new TotalPattern(text, Optional.of(VolumeUnit.LITRE)),
                "12.5 gal",
                "US or an Imperial gallon");
        for (VolumeUnit unit :
                new VolumeUnit[] {VolumeUnit.US_GALLON, VolumeUnit.IMPERIAL_GALLON}) {
            assertEquals(
                    new Decoded.Value<>(Volume.of(12.5, unit)),
                    new TotalPattern(text, Optional.of(unit)).decode("12.5 gal"));
        }
    }

    @Test
    void anotherUnitThanTheOneSetIsRefused() {
        TotalPattern pattern =
                new TotalPattern(
                        "(?<total>[0-9.]+) (?<unit>.*)", Optional.of(VolumeUnit.US_GALLON));
        assertRefused(pattern, "12.5 L", "set up as us_gal");
        assertRefused(pattern, "12.5 imp gal", "set up as us_gal");
    }

    @Test
    void theUnitMayComeFromTheSettingsAlone() {
        TotalPattern pattern =
                new TotalPattern(
                        "\\$VOL,\\d+,(?<total>[0-9.]+),.*", Optional.of(VolumeUnit.US_GALLON));
        assertEquals(
                new Decoded.Value<>(Volume.ofUsGallons(1234.5)),
                pattern.decode("$VOL,3,1234.5,17"));
        assertRefused(pattern, "$VOL,3,1234.5", "does not cover");
        assertRefused(pattern, "$VOL,x,1234.5,17", "does not cover");
        assertRefused(pattern, "$VOL,3,12.34.5,17", "is not a number");
    }

    @Test
    void aTotalBelowZeroOrCutOffIsRefused() {
        TotalPattern pattern =
                new TotalPattern(".*?(?<total>-?[0-9.]+)", Optional.of(VolumeUnit.LITRE));
        assertRefused(pattern, "T:-12.5", "below zero");
        assertRefused(
                new TotalPattern(".*(?<total>[0-9.]+)", Optional.of(VolumeUnit.LITRE)),
                "T:12.5",
                "only a part");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "[0-9]+; no group (?<total>",
                "(?<total>[0-9]+); no unit is set",
                "(?<weight>[0-9]+); known here are total, unit",
            })
    void aPatternThatCannotBeUsedIsRefused(String pattern, String words) {
        String message =
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new TotalPattern(pattern, Optional.empty()))
                        .getMessage();
        assertTrue(message.contains(words), message);
    }

    private static void assertRefused(TotalPattern pattern, String line, String words) {
        Decoded.Refused<?> refused =
                assertInstanceOf(Decoded.Refused.class, pattern.decode(line), line);
        assertTrue(refused.reason().contains(words), refused.reason());
    }
}
