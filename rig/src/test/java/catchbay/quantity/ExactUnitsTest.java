package catchbay.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.math.BigDecimal;
import java.math.MathContext;

/**
 * Exact unit definitions: US gallon of 231 cubic inches, inch of 25.4 mm, international pound and
 * mile (1959). Source: NIST SP 811 (2008), Appendix B; NIST Handbook 44, Appendix C. Imperial
 * gallon: UK Weights and Measures Act 1985, Schedule 1.
 */
final class ExactUnitsTest {

    private static final double ULPS = 1e-15;

    @Test
    void gallonIs231CubicInches() {
        BigDecimal inchDecimetres = new BigDecimal("0.254");
        BigDecimal litres = new BigDecimal(231).multiply(inchDecimetres.pow(3));
        assertEquals(0, litres.compareTo(new BigDecimal("3.785411784")));
        assertEquals(litres.doubleValue(), VolumeUnit.US_GALLON.litres());
        assertEquals(3.785411784, Volume.ofUsGallons(1).litres());
        assertEquals(4.54609, VolumeUnit.IMPERIAL_GALLON.litres());
        assertEquals(1.0, VolumeUnit.LITRE.litres());
    }

    @Test
    void massesFollowFromThePound() {
        BigDecimal pound = new BigDecimal("0.45359237");
        assertEquals(pound.doubleValue(), MassUnit.POUND.kilograms());
        assertEquals(
                pound.multiply(new BigDecimal(2000)).doubleValue(), MassUnit.SHORT_TON.kilograms());
        assertEquals(pound.divide(new BigDecimal(16)).doubleValue(), MassUnit.OUNCE.kilograms());
        assertEquals(1000.0, MassUnit.TONNE.kilograms());
        assertEquals(0.001, MassUnit.GRAM.kilograms());
        assertEquals(1.0, MassUnit.KILOGRAM.kilograms());
    }

    @Test
    void mileAndHour() {
        assertEquals(1609.344, Distance.ofMiles(1).metres());
        assertEquals(0.44704, Speed.ofMilesPerHour(1).metresPerSecond(), ULPS);
        assertEquals(1.0 / 3.6, Speed.ofKilometresPerHour(1).metresPerSecond(), ULPS);
    }

    /** NIST SP 811, App. B.8: 1 psi = 6.894757 kPa. */
    @Test
    void poundPerSquareInch() {
        assertEquals(6.894757, Pressure.ofPsi(1).kilopascals(), 5e-7);
        assertEquals(40, Pressure.ofPsi(40).psi(), 1e-13);
        assertEquals(-1, Integer.signum(Pressure.ofPsi(-2).compareTo(Pressure.ofPsi(1))));
    }

    /** Derived factors, recomputed from the exact ones with decimal arithmetic of 20 digits. */
    @Test
    void derivedFactors() {
        MathContext digits = new MathContext(20);
        BigDecimal gallon = new BigDecimal("3.785411784");
        BigDecimal mile = new BigDecimal("1.609344");
        BigDecimal tonne = new BigDecimal("0.90718474");
        BigDecimal perLane = gallon.divide(mile, digits);
        assertEquals(2.3521458, perLane.doubleValue(), 5e-8, "published to 7 decimals");
        assertEquals(
                perLane.doubleValue(),
                LiquidPerLane.ofUsGallonsPerLaneMile(1).litresPerLaneKilometre(),
                1e-14);
        BigDecimal perSalt = gallon.divide(tonne, digits);
        assertEquals(4.1727022, perSalt.doubleValue(), 5e-8, "published to 7 decimals");
        assertEquals(
                perSalt.doubleValue(), LiquidPerSalt.ofUsGallonsPerTon(1).litresPerTonne(), 1e-14);
        BigDecimal salt = new BigDecimal("0.45359237").divide(mile, digits);
        assertEquals(0.28184923, salt.doubleValue(), 5e-9, "published to 8 decimals");
        assertEquals(
                salt.doubleValue(),
                SaltPerDistance.ofPoundsPerLaneMile(1, 1).kilogramsPerKilometre(),
                1e-15);
        assertEquals(
                119.826427317,
                Density.ofPoundsPerUsGallon(1).kilogramsPerCubicMetre(),
                5e-10,
                "published to 9 decimals");
    }

    @Test
    void thereAndBack() {
        Seeds.forSeeds(
                2_000,
                random -> {
                    double amount = Math.pow(10, random.nextDouble(-6, 6));
                    for (VolumeUnit unit : VolumeUnit.values()) {
                        assertSame(amount, Volume.of(amount, unit).in(unit));
                        assertSame(amount, FlowRate.perMinute(amount, unit).perMinute(unit));
                        assertSame(amount, PulseConstant.per(amount, unit).per(unit));
                        assertEquals(unit, VolumeUnit.ofSuffix(unit.suffix()));
                    }
                    for (MassUnit unit : MassUnit.values()) {
                        assertSame(-amount, Mass.of(-amount, unit).in(unit));
                        assertEquals(unit, MassUnit.ofSymbol(unit.symbol()));
                    }
                    assertSame(amount, Distance.ofMiles(amount).miles());
                    assertSame(amount, Speed.ofMilesPerHour(amount).milesPerHour());
                    assertSame(amount, Ratio.ofPercent(amount).percent());
                    PulseConstant constant = new PulseConstant(random.nextDouble(1, 1000));
                    double pulses = constant.volumeOf(amount).litres() * constant.pulsesPerLitre();
                    assertSame(amount, pulses);
                });
    }

    private static void assertSame(double expected, double actual) {
        assertEquals(expected, actual, Math.abs(expected) * 4 * ULPS);
    }
}
