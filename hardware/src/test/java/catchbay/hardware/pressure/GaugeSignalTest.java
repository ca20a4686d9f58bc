package catchbay.hardware.pressure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import catchbay.quantity.Pressure;
import catchbay.signal.PressureReading;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Against sums worked by hand, and the limits of NAMUR NE 43 (from memory). */
final class GaugeSignalTest {

    /** 0 to 400 kPa on 4 to 20 mA over 100 ohm: 25 kPa for each mA above 4. */
    private static final GaugeSignal CURRENT =
            new GaugeSignal(GaugeSignal.Kind.CURRENT, 100, new Pressure(0), new Pressure(400));

    /** -100 to 900 kPa on 0 to 10 V, divided by 4: 100 kPa for each V. */
    private static final GaugeSignal VOLTAGE =
            new GaugeSignal(GaugeSignal.Kind.VOLTAGE, 4, new Pressure(-100), new Pressure(900));

    private static double kilopascals(PressureReading reading) {
        return assertInstanceOf(PressureReading.Shown.class, reading).pressure().kilopascals();
    }

    private static String missing(PressureReading reading) {
        return assertInstanceOf(PressureReading.Missing.class, reading).reason();
    }

    @ParameterizedTest
    @CsvSource({"400, 0", "1200, 200", "2000, 400", "380, -5", "2050, 412.5"})
    void aCurrentIsAPressure(double millivolts, double kilopascals) {
        assertEquals(kilopascals, kilopascals(CURRENT.reading(millivolts)), 1e-9);
    }

    @ParameterizedTest
    @CsvSource({
        "0,    0.00 mA is below 3.6 mA: its wire is broken or it has failed (NE 43)",
        "359,  3.59 mA is below 3.6 mA: its wire is broken or it has failed (NE 43)",
        "360,  3.60 mA is below 3.8 mA: the pressure is under its range",
        "379,  3.79 mA is below 3.8 mA: the pressure is under its range",
        "2051, 20.51 mA is above 20.5 mA: the pressure is over its range",
        "2100, 21.00 mA is above 20.5 mA: the pressure is over its range",
        "2101, 21.01 mA is above 21 mA: its wire is shorted or it has failed (NE 43)"
    })
    void aCurrentThatIsNoPressureIsNamed(double millivolts, String reason) {
        assertEquals(reason, missing(CURRENT.reading(millivolts)));
    }

    @ParameterizedTest
    @CsvSource({"0, -100", "1250, 400", "2500, 900"})
    void aVoltageIsAPressure(double millivolts, double kilopascals) {
        assertEquals(kilopascals, kilopascals(VOLTAGE.reading(millivolts)), 1e-9);
    }

    @Test
    void aVoltageThatNoGaugeSendsIsNamed() {
        assertEquals(
                "10.40 V is outside of 0 to 10 V: look after its wire and its divider",
                missing(VOLTAGE.reading(2600)));
        assertEquals(
                "-0.40 V is outside of 0 to 10 V: look after its wire and its divider",
                missing(VOLTAGE.reading(-100)));
    }
}
