package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Weighing in air against the worked table of {@code buoyancy.csv} (its header names the method),
 * and against the first-order form of ISO 4185:1980.
 */
final class BuoyancyTest {

    @ParameterizedTest
    @CsvFileSource(resources = "buoyancy.csv", useHeadersInDisplayName = true)
    void workedTable(
            double reading,
            String unit,
            String liquid,
            double density,
            double factor,
            double kilograms,
            double litres,
            double usGallons) {
        Density rho = new Density(density);
        Mass shown = Mass.of(reading, MassUnit.ofSymbol(unit));
        Mass mass = Buoyancy.trueMass(shown, rho, Buoyancy.AIR);
        // Each to half a unit of the last digit printed.
        assertEquals(factor, mass.kilograms() / shown.kilograms(), 0.5e-7, liquid);
        assertEquals(kilograms, mass.kilograms(), 0.5e-6, liquid);
        // The density is printed to 4 decimals: 0.5e-4 in 1000 is 5e-8 of the volume.
        assertEquals(litres, rho.volumeOf(mass).litres(), litres * 6e-8, liquid);
        assertEquals(usGallons, rho.volumeOf(mass).usGallons(), usGallons * 6e-8 + 0.5e-6, liquid);
    }

    /** ISO 4185:1980: M = W (1 + rho_a (1/rho_f - 1/rho_p)), about 1.00106 for water. */
    @Test
    void firstOrderFormForWater() {
        double factor = Buoyancy.trueMass(new Mass(1), new Density(999), Buoyancy.AIR).kilograms();
        assertEquals(1 + 1.2 * (1 / 999.0 - 1 / 8000.0), factor, 2e-6);
        assertEquals(1.00106, factor, 1e-5);
    }

    @Test
    void whatWeighsLikeTheWeightsNeedsNoCorrection() {
        assertEquals(1, Buoyancy.trueMass(new Mass(1), Buoyancy.WEIGHTS, Buoyancy.AIR).kilograms());
    }

    @Test
    void airDenserThanTheLiquidIsRefused() {
        String refusal =
                assertThrows(
                                IllegalArgumentException.class,
                                () ->
                                        Buoyancy.trueMass(
                                                new Mass(1), new Density(1.2), Buoyancy.AIR))
                        .getMessage();
        assertTrue(refusal.contains("1.2 kg/m3"), refusal);
    }

    /**
     * The formula of OIML R 111-1:2004, E.3 (from memory) beside CIPM-2007 evaluated on its own
     * (Picard et al., Metrologia 45 (2008) 149; constants from memory): alike to 0.02 % of what the
     * recommendation claims, and a little beyond in the cold.
     */
    @ParameterizedTest
    @CsvSource({
        "1013.25, 50, 20, 1.19929, 1.19931",
        "1000,    50, 20, 1.18354, 1.18356",
        "1013.25, 30, 10, 1.24528, 1.24552",
        "980,     80, 25, 1.13433, 1.13426",
        "840,     20, 15, 1.01431, 1.01435"
    })
    void airOfR111(double hpa, double humidity, double celsius, double r111, double cipm) {
        double air = Buoyancy.air(hpa, humidity, new Temperature(celsius)).kilogramsPerCubicMetre();
        assertEquals(r111, air, 0.5e-5);
        assertEquals(cipm, air, 2.1e-4 * cipm);
    }

    @Test
    void airOfNoPlaceIsRefused() {
        Temperature room = new Temperature(20);
        for (double hpa : new double[] {Double.NaN, 101.3, 29.92, 101_325}) {
            assertThrows(IllegalArgumentException.class, () -> Buoyancy.air(hpa, 50, room));
        }
        assertThrows(IllegalArgumentException.class, () -> Buoyancy.air(1013, 101, room));
        assertThrows(
                IllegalArgumentException.class, () -> Buoyancy.air(1013, 50, new Temperature(68)));
    }
}
