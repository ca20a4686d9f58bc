package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Temperature;

import com.hummeling.if97.IF97;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

/**
 * Water by the CIPM equation (Tanaka et al., Metrologia 38 (2001) 301) against {@code
 * water-density.csv}, against the library if97 (IAPWS-IF97) and the values of IAPWS-95 in the
 * table.
 */
final class TanakaWaterTest {

    private static final double KELVIN = 273.15;

    private static double water(double celsius) {
        return Water.density(new Temperature(celsius)).kilogramsPerCubicMetre();
    }

    @ParameterizedTest
    @CsvFileSource(resources = "water-density.csv", useHeadersInDisplayName = true)
    void tabulated(double celsius, double tanaka, double kell, Double if97, Double iapws95) {
        assertEquals(tanaka, water(celsius), 0.5e-4 + 1e-9);
        assertEquals(kell, BrineModel.water(celsius), 0.5e-4 + 1e-9);
        if (if97 != null && celsius <= 30) {
            assertEquals(if97, water(celsius), 0.004);
        }
        if (iapws95 != null) {
            assertEquals(iapws95, water(celsius), 0.001);
        }
    }

    /**
     * Within 0.004 kg/m3 from 5 to 30 degrees; the library takes megapascals in this unit system.
     */
    @Test
    void iapwsIf97AtAnyTemperatureOfABay() {
        IF97 if97 = new IF97(IF97.UnitSystem.DEFAULT);
        double apart = 0;
        for (double celsius = 5; celsius <= 30; celsius += 0.25) {
            apart =
                    Math.max(
                            apart,
                            Math.abs(water(celsius) - if97.densityPT(0.101325, celsius + KELVIN)));
        }
        assertTrue(apart < Liquids.WATER_EXPANDED, "largest departure " + apart);
        assertTrue(apart > 0.002, "two independent equations differ, by " + apart);
    }

    /**
     * The slip of units that gives the density of vapour: megapascals typed where pascals count.
     */
    @Test
    void aPressureInTheWrongUnitWouldBeSeen() {
        double vapour = new IF97(IF97.UnitSystem.SI).densityPT(0.101325, 20 + KELVIN);
        assertTrue(vapour < 1, "density " + vapour);
        assertTrue(Math.abs(vapour - water(20)) > 900);
    }

    /** From memory: the published table has its maximum at 4 degrees and 997.0470 at 25. */
    @Test
    void anchorsOfThePublishedTableFromMemory() {
        assertEquals(999.9749, water(4), 0.5e-4 + 2e-5);
        assertEquals(998.2067, water(20), 0.5e-4);
        assertEquals(997.0470, water(25), 0.5e-4);
        assertTrue(water(4) > water(3.9) - 1e-4 && water(4) > water(4.2));
    }

    @Test
    void outsideOfItsRangeIsRefused() {
        for (double celsius : new double[] {-0.01, 40.01, 68}) {
            String refusal =
                    assertThrows(IllegalArgumentException.class, () -> water(celsius)).getMessage();
            assertTrue(refusal.contains("0 to 40 C"), refusal);
        }
    }
}
