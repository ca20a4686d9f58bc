package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;

/** Salometer degrees, S = 100 w / 0.26395 at 60 F (spotidoc.com/doc/221243). */
final class SalometerTest {

    @Test
    void publishedScale() {
        assertEquals(88.3, DensityReading.Salometer.degreesOf(new MassFraction(0.233)), 0.05);
        assertEquals(100, DensityReading.Salometer.degreesOf(new MassFraction(0.26395)), 1e-9);
        assertEquals(0.233, new DensityReading.Salometer(88.3, 1).strength().value(), 0.0002);
    }

    /** At 60 F the reading is the density of that strength: 23.3 % has 1177.02 kg/m3 there. */
    @Test
    void densityOfAReading() {
        double degrees = DensityReading.Salometer.degreesOf(new MassFraction(0.233));
        DensityReading.Sampled sampled =
                new DensityReading.Salometer(degrees, 1).sampled(Temperature.SIXTY_FAHRENHEIT);
        assertEquals(1177.02, sampled.density().kilogramsPerCubicMetre(), 0.0051);
        // One degree is 0.26 % of salt, and 1 % of salt 0.70 % of density: about 2.15 kg/m3.
        assertEquals(2.15 / 2, sampled.terms().getFirst().standardKilogramsPerCubicMetre(), 0.02);
    }

    @Test
    void onlyForRockSalt() {
        String refusal =
                assertThrows(
                                IllegalArgumentException.class,
                                () ->
                                        LiquidsTest.measured(
                                                Brine.CACL2,
                                                new DensityReading.Salometer(88, 1),
                                                15))
                        .getMessage();
        assertTrue(refusal.contains("for nacl only"), refusal);
    }

    @Test
    void readsFromZeroToAHundred() {
        for (double degrees : new double[] {-1, 100.1, Double.NaN}) {
            String refusal =
                    assertThrows(
                                    IllegalArgumentException.class,
                                    () -> new DensityReading.Salometer(degrees, 1))
                            .getMessage();
            assertTrue(refusal.contains("0 to 100"), refusal);
        }
    }
}
