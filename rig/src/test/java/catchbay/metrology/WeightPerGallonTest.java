package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Weight of a US gallon and specific gravity 60/60 F, the table of the checks computed apart from
 * this program (exact units; Laliberte 2009, Tanaka 2001), and a state's trade figure.
 */
final class WeightPerGallonTest {

    private static final HydrometerReference SIXTY = HydrometerReference.SIXTY_SIXTY_FAHRENHEIT;

    @ParameterizedTest
    @CsvSource({
        "NACL, 0.23, 9.868, 9.826, 9.802, 9.782, 1.1757",
        "NACL, 0.233, 9.889, 9.847, 9.823, 9.803, 1.1782",
        "CACL2, 0.28, 10.586, 10.556, 10.536, 10.519, 1.2637",
        "CACL2, 0.30, 10.771, 10.738, 10.716, 10.698, 1.2854",
        "CACL2, 0.32, 10.960, 10.923, 10.900, 10.880, 1.3073",
        "MGCL2, 0.28, 10.508, 10.493, 10.480, 10.468, 1.2570",
        "MGCL2, 0.30, 10.681, 10.664, 10.650, 10.637, 1.2774",
    })
    void table(
            Brine brine,
            double w,
            double atZero,
            double atTen,
            double atSixtyFahrenheit,
            double atTwenty,
            double gravity) {
        MassFraction strength = new MassFraction(w);
        assertEquals(atZero, pounds(brine, strength, new Temperature(0)), 0.00051);
        assertEquals(atTen, pounds(brine, strength, new Temperature(10)), 0.00051);
        Temperature sixty = Temperature.SIXTY_FAHRENHEIT;
        assertEquals(atSixtyFahrenheit, pounds(brine, strength, sixty), 0.00051);
        assertEquals(atTwenty, pounds(brine, strength, new Temperature(20)), 0.00051);
        assertEquals(gravity, SIXTY.reading(brine.density(strength, sixty), sixty), 0.51e-4);
    }

    private static double pounds(Brine brine, MassFraction strength, Temperature at) {
        return brine.density(strength, at).poundsPerUsGallon();
    }

    @Test
    void water() {
        Temperature sixty = Temperature.SIXTY_FAHRENHEIT;
        assertEquals(8.3372, Water.density(sixty).poundsPerUsGallon(), 0.51e-4);
        assertEquals(8.3304, Water.density(new Temperature(20)).poundsPerUsGallon(), 0.51e-4);
        assertEquals(1, SIXTY.reading(Water.density(sixty), sixty), 1e-12);
    }

    /** Common practice, no source: 9.8 lb/gal for 23 % rock salt brine. */
    @Test
    void tradeFigure() {
        assertEquals(
                9.8,
                pounds(Brine.NACL, new MassFraction(0.23), Temperature.SIXTY_FAHRENHEIT),
                0.05);
    }

    /** SG 15/15 C of the checks, computed apart from this program. */
    @Test
    void fifteenOverFifteen() {
        HydrometerReference reference = HydrometerReference.of("15/15C");
        Temperature fifteen = new Temperature(15);
        assertEquals(
                1.1759,
                reference.reading(Brine.NACL.density(new MassFraction(0.23), fifteen), fifteen),
                0.51e-4);
        assertEquals(
                1.1784,
                reference.reading(Brine.NACL.density(new MassFraction(0.233), fifteen), fifteen),
                0.51e-4);
    }

    /** Weight in air by hand: a gallon of 1180 kg/m3 in air of 1.2 kg/m3. */
    @Test
    void aScaleShowsLessThanTheTrueMass() {
        Density brine = new Density(1180);
        Mass gallon = new Mass(1180 * 3.785411784e-3);
        Mass shown = Buoyancy.reading(gallon, brine, Buoyancy.AIR);
        assertEquals(3.785411784e-3 * (1180 - 1.2) / (1 - 1.2 / 8000), shown.kilograms(), 1e-12);
        assertTrue(shown.kilograms() < gallon.kilograms());
        assertEquals(
                gallon.kilograms(),
                Buoyancy.trueMass(shown, brine, Buoyancy.AIR).kilograms(),
                1e-12);
    }
}
