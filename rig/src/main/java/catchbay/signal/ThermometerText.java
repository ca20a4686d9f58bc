package catchbay.signal;

import catchbay.quantity.Temperature;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The text in which a kernel hands out a thermometer's reading, in either of two forms.
 *
 * <p>That of the 1-wire driver {@code w1_therm}, file {@code w1_slave}: the nine bytes of the
 * sensor's scratchpad, {@code crc=} with the sum that they have and {@code YES} where it is the one
 * that was sent; and on a second line the nine bytes once more and {@code t=} with thousandths of a
 * degree Celsius (Linux documentation, w1_therm, from memory).
 *
 * <p>That of the hardware monitors, file {@code temp1_input}: the thousandths alone (Linux
 * documentation, hwmon sysfs interface, from memory).
 */
public final class ThermometerText {

    /** The longest text that is looked at, characters; the form of 1-wire has 74. */
    public static final int CHARACTERS_MAX = 256;

    /** Why all ones are no reading. */
    public static final String NOTHING_THERE = "nothing answers on the 1-wire line";

    /** Why all zeros are none. */
    public static final String SHORTED =
            "the 1-wire line reads as zeros, as one does that is shorted";

    /** Why a reading that was garbled on its way is none. */
    public static final String WRONG_SUM = "the sensor's check sum (CRC) is wrong";

    /** A figure that is thousandths of a degree has no more digits, and none to pad it. */
    private static final String THOUSANDTHS = "(0|-?[1-9]\\d{0,5})";

    /** Without its end a figure may have lost its last digits. */
    private static final String LINE_END = "\n";

    private static final String BYTES = "(?:[0-9a-fA-F]{2} ){9}";

    private static final Pattern ONE_WIRE =
            Pattern.compile(
                    BYTES
                            + ": crc=[0-9a-fA-F]{2} (YES|NO)\n"
                            + BYTES
                            + "t="
                            + THOUSANDTHS
                            + LINE_END);

    private static final Pattern BARE = Pattern.compile(THOUSANDTHS + LINE_END);

    /** A sensor that has come off answers with the line's rest level, in all bytes. */
    private static final String NOTHING_ON_THE_LINE = "ff ff ff ff ff ff ff ff ff ";

    /**
     * A line that is stuck low reads as zeros, whose check sum is right; a sensor's own scratchpad
     * is never so, since its fifth byte, of its resolution, has bits that are always set (from
     * memory).
     */
    private static final String STUCK_LOW = "00 00 00 00 00 00 00 00 00 ";

    private ThermometerText() {}

    /** The reading that a text tells; anything else is named as missing. */
    public static TemperatureReading read(String text) {
        if (text.isBlank()) {
            return new TemperatureReading.Missing("the sensor gave no text");
        }
        if (text.length() > CHARACTERS_MAX) {
            return new TemperatureReading.Missing(
                    "the sensor gave more than " + CHARACTERS_MAX + " characters");
        }
        Matcher oneWire = ONE_WIRE.matcher(text);
        if (oneWire.matches()) {
            if (text.startsWith(NOTHING_ON_THE_LINE)) {
                return new TemperatureReading.Missing(NOTHING_THERE);
            }
            if (text.startsWith(STUCK_LOW)) {
                return new TemperatureReading.Missing(SHORTED);
            }
            return oneWire.group(1).equals("YES")
                    ? shown(oneWire.group(2))
                    : new TemperatureReading.Missing(WRONG_SUM);
        }
        Matcher bare = BARE.matcher(text);
        return bare.matches()
                ? shown(bare.group(1))
                : new TemperatureReading.Missing("the sensor's text is not a reading");
    }

    private static TemperatureReading shown(String thousandths) {
        double celsius = Integer.parseInt(thousandths) / 1000.0;
        return celsius < ABSOLUTE_ZERO_CELSIUS
                ? new TemperatureReading.Missing(
                        "the sensor says " + celsius + " C, below absolute zero")
                : new TemperatureReading.Shown(new Temperature(celsius));
    }

    private static final double ABSOLUTE_ZERO_CELSIUS = -273.15;
}
