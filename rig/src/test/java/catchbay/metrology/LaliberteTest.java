package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Laliberte's model (J. Chem. Eng. Data 54 (2009) 1725) against the unit tests of an independent
 * open implementation (CalebBell/thermo, commit 2bb466e9) and the grid of {@code
 * brine-density.csv}, computed apart from this program.
 */
final class LaliberteTest {

    private static double density(Brine brine, double w, double celsius) {
        return brine.density(new MassFraction(w), new Temperature(celsius))
                .kilogramsPerCubicMetre();
    }

    @Test
    void unitTestsOfTheOpenImplementation() {
        assertEquals(997.0448954179155, BrineModel.water(25), 1e-9);
        assertEquals(988.0362916114763, BrineModel.water(50), 1e-9);
        assertEquals(1002.6250120185854, density(Brine.NACL, 0.0037838838, 0), 1e-9);
    }

    @ParameterizedTest
    @CsvFileSource(resources = "brine-density.csv", useHeadersInDisplayName = true)
    void grid(
            String solute,
            double w,
            double celsius,
            double laliberte,
            Double melinder,
            Double apart,
            double poundsPerGallon,
            int extrapolated) {
        Brine brine = brine(solute);
        // Printed to two decimals; 15.5556 is 60 F to four.
        assertEquals(laliberte, density(brine, w, celsius), 0.0051);
        assertEquals(
                poundsPerGallon,
                brine.density(new MassFraction(w), new Temperature(celsius)).poundsPerUsGallon(),
                0.51e-4);
        assertEquals(extrapolated == 1, !brine.fitted(new Temperature(celsius)));
    }

    static Brine brine(String solute) {
        return switch (solute) {
            case "NaCl" -> Brine.NACL;
            case "CaCl2" -> Brine.CACL2;
            case "MgCl2" -> Brine.MGCL2;
            case "KAc", "KCH3CO2" -> Brine.POTASSIUM_ACETATE;
            default -> throw new IllegalArgumentException(solute);
        };
    }

    /** Fitted temperatures and the strength the fit reaches: more is never taken than that. */
    @ParameterizedTest
    @CsvFileSource(resources = "laliberte-coefficients.csv", useHeadersInDisplayName = true)
    void neverBeyondTheFit(
            String solute,
            String cas,
            double c0,
            double c1,
            double c2,
            double c3,
            double c4,
            double celsiusMin,
            double celsiusMax,
            double strongest,
            int points) {
        Brine brine = brine(solute);
        assertTrue(brine.fitted(new Temperature(celsiusMin)));
        assertTrue(!brine.fitted(new Temperature(celsiusMin - 0.01)));
        assertTrue(brine.fitted(new Temperature(celsiusMax)));
        assertTrue(!brine.fitted(new Temperature(celsiusMax + 0.01)));
        assertTrue(brine.strongest().value() <= strongest);
        BrineModel read = new BrineModel(c0, c1, c2, c3, c4);
        assertEquals(read.density(0.2, 20), density(brine, 0.2, 20), 1e-9);
    }

    /** Effects by hand from the check table: NaCl 23.3 %, 10 to 20 degrees, and 1 % of strength. */
    @Test
    void sizeOfTheEffects() {
        double cold = density(Brine.NACL, 0.233, 10);
        assertEquals(-0.0045, density(Brine.NACL, 0.233, 20) / cold - 1, 0.00005);
        assertEquals(
                0.0070,
                density(Brine.NACL, 0.243, 20) / density(Brine.NACL, 0.233, 20) - 1,
                0.00011);
    }

    /** The change with temperature and strength against differences over a whole step. */
    @Test
    void slopesAreThoseOfTheDensity() {
        for (Brine brine : Brine.values()) {
            MassFraction w = new MassFraction(0.25);
            double byCelsius = (density(brine, 0.25, 21) - density(brine, 0.25, 19)) / 2;
            assertEquals(byCelsius, brine.perCelsius(w, new Temperature(20)), 2e-3);
            double byFraction = (density(brine, 0.251, 20) - density(brine, 0.249, 20)) / 0.002;
            assertEquals(byFraction, brine.perFraction(w, new Temperature(20)), 0.05);
        }
    }

    @Test
    void theStrengthOfADensityIsFoundAgain() {
        Seeds.forSeeds(
                500,
                random -> {
                    Brine brine = Brine.values()[random.nextInt(Brine.values().length)];
                    double w = random.nextDouble() * brine.strongest().value();
                    Temperature at = new Temperature(-10 + 50 * random.nextDouble());
                    assertEquals(
                            w, brine.fractionOf(brine.density(new MassFraction(w), at), at), 1e-9);
                });
    }

    @ParameterizedTest
    @CsvSource({
        "NACL,0.20,0,1157.16", "NACL,0.23,20,1172.19", "NACL,0.233,10,1179.95",
        "CACL2,0.28,15,1262.72", "CACL2,0.30,20,1281.92", "MGCL2,0.20,-10,1177.54",
        "MGCL2,0.30,10,1277.80", "POTASSIUM_ACETATE,0.40,30,1209.62",
    })
    void checkTable(Brine brine, double w, double celsius, double expected) {
        assertEquals(expected, density(brine, w, celsius), 0.0051);
    }
}
