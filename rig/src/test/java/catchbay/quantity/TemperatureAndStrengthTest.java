package catchbay.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

/** Degrees and mass fractions: exact points of their scales, and the slips that are named. */
final class TemperatureAndStrengthTest {

    /** The fixed points that define the Fahrenheit scale: 32 and 212 at 0 and 100 Celsius. */
    @Test
    void fixedPoints() {
        assertEquals(0, Temperature.ofFahrenheit(32).celsius());
        assertEquals(100, Temperature.ofFahrenheit(212).celsius(), 1e-12);
        assertEquals(-40, Temperature.ofFahrenheit(-40).celsius(), 1e-12);
        assertEquals(15.5556, Temperature.SIXTY_FAHRENHEIT.celsius(), 0.5e-4);
        assertEquals(new Temperature(0), new Temperature(-0.0));
        assertEquals(-5, new Temperature(10).minus(new Temperature(15)));
    }

    @Test
    void inWords() {
        assertEquals("10.0 C (50.0 F)", new Temperature(10).words());
        assertEquals("0.0 C (32.0 F)", new Temperature(-0.01).words());
        assertEquals("-17.8 C (0.0 F)", new Temperature(-17.79).words());
    }

    @Test
    void thereAndBack() {
        Seeds.forSeeds(
                200,
                random -> {
                    double fahrenheit = -400 + 800 * random.nextDouble();
                    assertEquals(
                            fahrenheit, Temperature.ofFahrenheit(fahrenheit).fahrenheit(), 1e-10);
                });
    }

    @Test
    void belowAbsoluteZeroIsRefused() {
        assertEquals(-273.15, new Temperature(-273.15).celsius());
        for (double celsius : new double[] {-273.16, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertTrue(refused(() -> new Temperature(celsius)).contains(String.valueOf(celsius)));
        }
        refused(() -> Temperature.ofFahrenheit(-459.7));
        refused(() -> Temperature.ofFahrenheit(Double.NaN));
    }

    @Test
    void perCentForAFractionIsSaid() {
        String refusal = refused(() -> new MassFraction(23.3));
        assertTrue(
                refusal.contains("23.3 per cent is understood, which is a mass fraction of 0.233"),
                refusal);
        refusal = refused(() -> MassFraction.ofPercent(0.233));
        assertTrue(
                refusal.contains("a mass fraction of 0.233 is understood, which is 23.3 per cent"),
                refusal);
    }

    @Test
    void strengthsOutOfRangeAreRefused() {
        for (double bad : new double[] {-0.1, 1, 100, Double.NaN, Double.NEGATIVE_INFINITY, 1e9}) {
            refused(() -> new MassFraction(bad));
        }
        for (double bad : new double[] {-1, 100, Double.NaN, Double.POSITIVE_INFINITY}) {
            refused(() -> MassFraction.ofPercent(bad));
        }
        assertEquals(0.233, MassFraction.ofPercent(23.3).value(), 1e-15);
        assertEquals(new MassFraction(0), MassFraction.ofPercent(-0.0));
    }

    private static String refused(Runnable made) {
        return assertThrows(IllegalArgumentException.class, made::run).getMessage();
    }
}
