package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

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
}
