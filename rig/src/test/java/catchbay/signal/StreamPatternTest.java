package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassUnit;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.util.Optional;

/**
 * The line forms are invented, in the manner common to continuous output (common practice, no
 * source).
 */
class StreamPatternTest {

    private static final String COMMAS =
            "(?:ST|(?<motion>US)),(?:GS|(?<net>NT)),(?<weight>[-+ 0-9.]+)(?<unit>[a-z]+)";

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "ST,GS,+   12.5kg; 12.5; KILOGRAM; false; false",
                        "US,GS,    12.5lb; 12.5; POUND; false; true",
                "ST,NT,-   0.05lbs; -0.05; POUND; true; false",
                        "US,NT,00120t; 120; TONNE; true; true"
            })
    void numberUnitMotionAndNet(
            String line, double amount, MassUnit unit, boolean net, boolean inMotion) {
        StreamPattern pattern = new StreamPattern(COMMAS, Optional.empty());
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(amount, unit, net, inMotion)),
                pattern.decode(line));
    }

    @Test
    void fixedColumnsWithTheUnitAsALetterOfThePattern() {
        StreamPattern pattern =
                new StreamPattern(
                        "\\x02(?<weight>[- ][ 0-9.]{7})L[GN](?<motion>[M ])",
                        Optional.of(MassUnit.POUND));
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(1234.5, MassUnit.POUND, false, false)),
                pattern.decode("\u0002  1234.5LG "));
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(-12, MassUnit.POUND, false, true)),
                pattern.decode("\u0002-     12LGM"));
        assertRefused(pattern, "\u0002  1234.5KG ", "does not cover");
    }

    @Test
    void aFrameInAnotherUnitThanTheOneSetIsRefused() {
        StreamPattern pattern = new StreamPattern(COMMAS, Optional.of(MassUnit.POUND));
        assertInstanceOf(Decoded.Value.class, pattern.decode("ST,GS,12.5lb"));
        assertRefused(pattern, "ST,GS,12.5kg", "set up as lb");
    }

    @Test
    void anUnknownUnitIsRefused() {
        assertRefused(
                new StreamPattern(COMMAS, Optional.empty()), "ST,GS,12.5pcs", "'pcs' is none of");
    }

    /**
     * Greedy ".*" leaves a group the last digit only: a wrong number that looks right must not
     * pass.
     */
    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                ".*(?<weight>[0-9.]+)kg; W 12.5kg",
                ".*?(?<weight>[0-9]+).*kg; W 12.5kg",
                "(?<weight>[0-9]{2}).*; 123kg",
                ".*?(?<weight>[0-9.]+).*kg; W: -12.5kg",
                ".*?(?<weight>[0-9.]+).*kg; -  12.5kg",
                ".*[.](?<weight>[0-9]+)kg; W .5kg"
            })
    void aPartOfANumberIsRefused(String pattern, String line) {
        assertRefused(
                new StreamPattern(pattern, Optional.of(MassUnit.KILOGRAM)),
                line,
                "only a part of the number");
    }

    @Test
    void whatIsNoNumberIsRefused() {
        StreamPattern pattern =
                new StreamPattern("(?<weight>.*)kg", Optional.of(MassUnit.KILOGRAM));
        for (String line :
                new String[] {
                    "12,5kg", "1 2kg", "kg", "--kg", "NaNkg", "1e9kg", "0x1kg", "1.2.3kg"
                }) {
            assertRefused(pattern, line, "is not a number");
        }
    }

    @Test
    void anOptionalGroupThatTookNoPartLeavesNoWeightAndNoUnit() {
        StreamPattern noWeight =
                new StreamPattern("W(?<weight>[0-9]+)?", Optional.of(MassUnit.KILOGRAM));
        assertRefused(noWeight, "W", "carries no weight");
        StreamPattern noUnit = new StreamPattern("(?<weight>[0-9]+)(?<unit>kg)?", Optional.empty());
        assertRefused(noUnit, "12", "names no unit");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "[0-9]+kg; no group (?<weight>",
                "(?<weight>[0-9]+); no group (?<unit>",
                "(?<total>[0-9]+); known here are motion",
                "(?<weight>[0-9]+; not closed"
            })
    void aPatternThatCannotBeUsedIsRefused(String pattern, String words) {
        String message =
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new StreamPattern(pattern, Optional.empty()))
                        .getMessage();
        assertTrue(message.contains(words), message);
    }

    private static void assertRefused(StreamPattern pattern, String line, String words) {
        Decoded.Refused<?> refused =
                assertInstanceOf(Decoded.Refused.class, pattern.decode(line), line);
        assertTrue(refused.reason().contains(words), refused.reason());
    }
}
