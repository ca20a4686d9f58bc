package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Freezing points against the CRC Handbook (NaCl, a stored copy) and the eutectics of
 * FHWA-RD-95-202 (June 1996), Appendix A.
 */
final class FreezingPointTest {

    private static double ice(Brine brine, double w) {
        return assertInstanceOf(SolidPoint.Ice.class, brine.solidPoint(new MassFraction(w)))
                .at()
                .celsius();
    }

    @ParameterizedTest
    @CsvSource({"0.05, -3.05", "0.10, -6.56", "0.20, -16.46", "0.22, -19.18", "0.233, -21.1"})
    void crcHandbookSodiumChloride(double w, double celsius) {
        assertEquals(celsius, ice(Brine.NACL, w), 0.05);
    }

    /** Melinder's curve evaluated apart from this program. */
    @ParameterizedTest
    @CsvSource({
        "CACL2, 0.20, -18.31",
        "CACL2, 0.28, -38.8",
        "MGCL2, 0.15, -16.87",
        "MGCL2, 0.20, -28.7"
    })
    void melinder(Brine brine, double w, double celsius) {
        assertEquals(celsius, ice(brine, w), 0.05);
    }

    @ParameterizedTest
    @CsvSource({
        "NACL, 0.233, -21",
        "CACL2, 0.298, -51",
        "MGCL2, 0.216, -33",
        "POTASSIUM_ACETATE, 0.49, -60"
    })
    void fhwaEutectics(Brine brine, double w, double celsius) {
        assertEquals(w, brine.eutecticStrength().value());
        assertEquals(celsius, brine.eutecticTemperature().celsius(), 0.11);
        assertEquals(celsius, ice(brine, w), 0.11);
    }

    /** 30 % MgCl2 and whatever is stronger than its eutectic has no place on an ice curve. */
    @ParameterizedTest
    @EnumSource(Brine.class)
    void beyondTheEutecticSaltComesOutAndNoIce(Brine brine) {
        for (double w = brine.eutecticStrength().value() + 0.001;
                w <= brine.strongest().value();
                w += 0.001) {
            SolidPoint point = brine.solidPoint(new MassFraction(w));
            assertInstanceOf(SolidPoint.Crystals.class, point, brine + " " + w);
            assertTrue(
                    point.clearFrom().compareTo(brine.eutecticTemperature()) >= 0,
                    "nothing stays clear below the eutectic");
        }
        assertInstanceOf(SolidPoint.Crystals.class, Brine.MGCL2.solidPoint(new MassFraction(0.30)));
    }

    @ParameterizedTest
    @EnumSource(Brine.class)
    void theStrongerTheColderUpToTheEutectic(Brine brine) {
        double before = 0.1;
        for (double w = 0; w <= brine.eutecticStrength().value(); w += 0.001) {
            SolidPoint point = brine.solidPoint(new MassFraction(w));
            if (point instanceof SolidPoint.Ice(Temperature at)) {
                // The polynomials touch zero within 0.01 degrees at their weak end.
                assertTrue(at.celsius() <= before, brine + " " + w + " " + at);
                before = at.celsius();
            } else {
                SolidPoint.IceBetween between =
                        assertInstanceOf(SolidPoint.IceBetween.class, point);
                assertTrue(between.coldest().celsius() < between.warmest().celsius());
            }
        }
    }

    @Test
    void warningsSayWhatHappens() {
        MassFraction tenPercent = new MassFraction(0.10);
        assertEquals(
                "10 % sodium chloride brine freezes in the bay at -8.0 C (17.6 F): ice begins at"
                        + " about -6.5 C (20.2 F); keep it warmer or make it stronger",
                Liquids.coldWarning(Brine.NACL, tenPercent, new Temperature(-8)).orElseThrow());
        assertTrue(
                Liquids.coldWarning(Brine.NACL, tenPercent, new Temperature(-5))
                        .orElseThrow()
                        .contains("near freezing"));
        assertTrue(Liquids.coldWarning(Brine.NACL, tenPercent, new Temperature(5)).isEmpty());
        assertTrue(
                Liquids.coldWarning(Brine.NACL, new MassFraction(0.25), new Temperature(-9))
                        .orElseThrow()
                        .contains("may drop salt crystals in the bay at -9.0 C (15.8 F)"));
        assertEquals(
                "30 % magnesium chloride brine is stronger than the eutectic of 21.6 %: colder"
                        + " than -10.0 C (14.0 F) it may drop crystals that clog strainers",
                Liquids.coldWarning(Brine.MGCL2, new MassFraction(0.30), new Temperature(10))
                        .orElseThrow());
        assertTrue(
                Liquids.coldWarning(Brine.CACL2, new MassFraction(0.05), new Temperature(-1))
                        .orElseThrow()
                        .contains("may freeze in the bay"));
        assertTrue(
                Liquids.coldWarning(Brine.CACL2, new MassFraction(0.05), new Temperature(1))
                        .isEmpty());
    }

    /**
     * From memory, ICT and trade tables: NaCl brine drops crystals at about -17, -10 and -2 degrees
     * with 24, 25 and 26 %. The bound must not promise more.
     */
    @ParameterizedTest
    @CsvSource({"0.24, -17", "0.25, -10", "0.26, -2"})
    void crystalsOfSodiumChlorideFromMemory(double w, double celsius) {
        double bound = Brine.NACL.solidPoint(new MassFraction(w)).clearFrom().celsius();
        assertTrue(bound >= celsius && bound < celsius + 2, "clear from " + bound);
    }
}
