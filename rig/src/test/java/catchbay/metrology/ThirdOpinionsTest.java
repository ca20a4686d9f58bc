package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Computed densities against further published models, as evaluated by the open library aquasol
 * (commit 8d0a300e): Al Ghafri et al., J. Chem. Eng. Data 57 (2012) 1288; Krumgalz et al., J. Phys.
 * Chem. Ref. Data 25 (1996) 663; Simion 2015. The tolerance is the uncertainty stated for the brine
 * there.
 */
final class ThirdOpinionsTest {

    @ParameterizedTest
    @CsvSource({
        "NACL, 0.23, 20, 1172.27, Al Ghafri",
        "NACL, 0.23, 20, 1172.21, Simion",
        "NACL, 0.23, 25, 1169.45, Krumgalz",
        "CACL2, 0.30, 25, 1279.18, Krumgalz",
        "CACL2, 0.30, 25, 1277.44, Al Ghafri",
        "CACL2, 0.30, 20, 1280.04, Al Ghafri",
        "MGCL2, 0.30, 25, 1273.42, Krumgalz",
        "MGCL2, 0.30, 25, 1273.72, Al Ghafri",
    })
    void insideTheFittedTemperatures(
            Brine brine, double w, double celsius, double density, String source) {
        MassFraction strength = new MassFraction(w);
        Temperature at = new Temperature(celsius);
        double ours = brine.density(strength, at).kilogramsPerCubicMetre();
        assertEquals(density, ours, density * brine.modelExpanded(strength, at).value(), source);
    }

    /** Al Ghafri's fit begins at 25 degrees, so 0 degrees is outside of it: 0.1 % apart. */
    @Test
    void alGhafriBeyondItsOwnFit() {
        double ours =
                Brine.NACL
                        .density(new MassFraction(0.23), new Temperature(0))
                        .kilogramsPerCubicMetre();
        assertEquals(1181.29, ours, 1181.29 * 0.0015);
    }

    /** The stated figures themselves: a looser one would let the comparisons pass for nothing. */
    @ParameterizedTest
    @CsvSource({
        "NACL, 0.233, 10, 0.0006", "NACL, 0.23, -5, 0.0015",
        "CACL2, 0.30, 20, 0.0015", "CACL2, 0.28, 5, 0.0045",
        "MGCL2, 0.30, 10, 0.0025", "MGCL2, 0.30, -5, 0.005",
        "POTASSIUM_ACETATE, 0.40, 20, 0.001", "POTASSIUM_ACETATE, 0.40, 5, 0.005",
    })
    void statedUncertainty(Brine brine, double w, double celsius, double expected) {
        assertEquals(
                expected,
                brine.modelExpanded(new MassFraction(w), new Temperature(celsius)).value(),
                1e-12);
    }

    @Test
    void outsideOfBothTheLargerOneCountsTwice() {
        MassFraction weak = new MassFraction(0.1);
        assertEquals(
                0.0045 * Math.sqrt(2),
                Brine.CACL2.modelExpanded(weak, new Temperature(5)).value(),
                1e-12);
        assertTrue(!Brine.CACL2.checked(weak) && !Brine.CACL2.fitted(new Temperature(5)));
    }
}
