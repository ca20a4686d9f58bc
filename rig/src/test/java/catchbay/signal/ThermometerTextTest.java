package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Temperature;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.Locale;

/**
 * Texts in the form of the Linux documentation of {@code w1_therm} (from memory); the scratchpads
 * and their temperatures are those of the sensor maker's own table of temperatures and data
 * (DS18B20 data sheet, table 1, from memory): 25.0625 is 0191h, -10.125 is FF5Eh, 85 is 0550h.
 */
final class ThermometerTextTest {

    private static String oneWire(String scratchpad, String yesOrNo, int thousandths) {
        return scratchpad + " : crc=2c " + yesOrNo + "\n" + scratchpad + " t=" + thousandths + "\n";
    }

    private static double celsius(String text) {
        TemperatureReading read = ThermometerText.read(text);
        return assertInstanceOf(TemperatureReading.Shown.class, read, read.toString())
                .temperature()
                .celsius();
    }

    private static String missing(String text) {
        TemperatureReading read = ThermometerText.read(text);
        return assertInstanceOf(TemperatureReading.Missing.class, read, read.toString()).reason();
    }

    @Test
    void readingsOfBothForms() {
        assertEquals(25.062, celsius(oneWire("91 01 4b 46 7f ff 0c 10 2c", "YES", 25062)));
        assertEquals(-10.125, celsius(oneWire("5e ff 4b 46 7f ff 0c 10 2c", "YES", -10125)));
        assertEquals(85, celsius(oneWire("50 05 4b 46 7f ff 0c 10 1c", "YES", 85000)));
        assertEquals(0, celsius(oneWire("00 00 4b 46 7f ff 0c 10 1c", "YES", 0)));
        assertEquals(21.5, celsius("21500\n"));
        assertEquals(-0.5, celsius("-500\n"));
    }

    /** The figure that stands beside a wrong sum is never taken. */
    @Test
    void aWrongCheckSumIsNoReading() {
        assertTrue(missing(oneWire("91 01 4b 46 7f ff 0c 10 2c", "NO", 25062)).contains("CRC"));
    }

    @Test
    void whatIsNoReadingSaysWhy() {
        assertTrue(
                missing(oneWire("ff ff ff ff ff ff ff ff ff", "NO", -62))
                        .contains("nothing answers"));
        assertTrue(missing(oneWire("00 00 00 00 00 00 00 00 00", "YES", 0)).contains("as zeros"));
        assertTrue(missing("").contains("no text"));
        assertTrue(missing("\n").contains("no text"));
        assertTrue(missing("12.5\n").contains("not a reading"));
        assertTrue(missing("x".repeat(300)).contains("256"));
        assertTrue(missing("-300000\n").contains("absolute zero"));
        String whole = oneWire("91 01 4b 46 7f ff 0c 10 2c", "YES", 25062);
        for (int length = 1; length < whole.length(); length++) {
            assertTrue(missing(whole.substring(0, length)).contains("not a reading"), "" + length);
        }
    }

    /** No text whatever brings anything but a reading or a reason. */
    @Test
    void mangledTextsAreReadOrRefused() {
        String whole = oneWire("91 01 4b 46 7f ff 0c 10 2c", "YES", 25062);
        Seeds.forSeeds(
                5000,
                random -> {
                    StringBuilder text = new StringBuilder(whole);
                    for (int i = random.nextInt(1, 4); i > 0; i--) {
                        text.setCharAt(
                                random.nextInt(text.length()), (char) random.nextInt(10, 128));
                    }
                    if (ThermometerText.read(text.toString())
                            instanceof TemperatureReading.Shown(Temperature t)) {
                        String figure =
                                String.format(Locale.ROOT, "t=%d", Math.round(t.celsius() * 1000));
                        assertTrue(text.indexOf("YES") > 0 && text.indexOf(figure) > 0);
                    }
                });
    }
}
