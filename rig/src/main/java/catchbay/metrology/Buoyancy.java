package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;

import java.util.Locale;

/**
 * Weighing in air: the scale was adjusted with weights that the air buoys less than the liquid.
 * {@code M = W (1 - rho_a/rho_p) / (1 - rho_a/rho_f)}. Source: ISO 4185:1980 with Cor 1:1993
 * (first-order form from memory); the values held against it are in the tests.
 */
public final class Buoyancy {

    /** Conventional density of a scale's adjusting weights (OIML D 28, from memory), 8000 kg/m3. */
    public static final Density WEIGHTS = new Density(8000);

    /**
     * Air near sea level at room temperature, 1.2 kg/m3, the conventional value (OIML D 28, from
     * memory).
     */
    public static final Density AIR = new Density(1.2);

    private Buoyancy() {}

    /**
     * Density of moist air: {@code (0.34848 p - 0.009 h exp(0.061 t)) / (273.15 + t)}. Source: OIML
     * R 111-1:2004, E.3 (from memory; held against CIPM-2007 in the tests), good to 0.02 % from 900
     * to 1100 hPa, 10 to 30 degrees Celsius and below 80 % humidity; beyond that it is still far
     * better than the conventional value.
     *
     * @param hectopascals absolute pressure, 600 to 1100 hPa; not reduced to sea level
     * @param humidityPercent relative humidity, 0 to 100
     * @param temperature -20 to 45 degrees Celsius
     */
    public static Density air(
            double hectopascals, double humidityPercent, Temperature temperature) {
        double celsius = temperature.celsius();
        within("pressure of the air", hectopascals, 600, 1100, "hPa, as it is, not at sea level");
        within("humidity of the air", humidityPercent, 0, 100, "%");
        within("temperature of the air", celsius, -20, 45, "degrees Celsius");
        return new Density(
                (0.34848 * hectopascals - 0.009 * humidityPercent * StrictMath.exp(0.061 * celsius))
                        / (273.15 + celsius));
    }

    private static void within(String what, double value, double least, double most, String unit) {
        if (!(value >= least && value <= most)) {
            throw new IllegalArgumentException(
                    String.format(
                            Locale.ROOT,
                            "%s must be from %.0f to %.0f %s, was %s",
                            what,
                            least,
                            most,
                            unit,
                            value));
        }
    }

    /**
     * The true mass of liquid behind a scale's net reading.
     *
     * @param reading net reading of a scale adjusted with weights of {@link #WEIGHTS}
     * @param liquid density of the liquid, above that of the air
     * @param air density of the air
     */
    public static Mass trueMass(Mass reading, Density liquid, Density air) {
        return new Mass(reading.kilograms() * factor(liquid, air));
    }

    /**
     * What a scale shows of a true mass of liquid: the reading that {@link #trueMass} takes back.
     *
     * @param mass true mass
     * @param liquid density of the liquid, above that of the air
     * @param air density of the air
     */
    public static Mass reading(Mass mass, Density liquid, Density air) {
        return new Mass(mass.kilograms() / factor(liquid, air));
    }

    /**
     * What a scale without error shows of a check weight: its conventional mass is what would
     * balance it in air of {@link #AIR} against {@link #WEIGHTS}, and other air buoys it otherwise
     * (OIML D 28, from memory).
     *
     * @param conventional its conventional mass
     * @param weight its density, above that of the air
     * @param air density of the air
     */
    static Mass shownOf(Mass conventional, Density weight, Density air) {
        return reading(trueMass(conventional, weight, AIR), weight, air);
    }

    /**
     * The density of a liquid of which a known volume was weighed in air: {@code rho = W (1 -
     * rho_a/rho_p) / V + rho_a}, the same equation solved for {@code rho_f} with {@code M = rho_f
     * V}.
     *
     * @param reading net reading, above zero
     * @param volume at the liquid's temperature, above zero
     * @param air density of the air
     */
    static Density density(Mass reading, Volume volume, Density air) {
        double inAir = air.kilogramsPerCubicMetre();
        return new Density(
                reading.kilograms()
                                * (1 - inAir / WEIGHTS.kilogramsPerCubicMetre())
                                / (volume.litres() / 1000)
                        + inAir);
    }

    private static double factor(Density liquid, Density air) {
        double inAir = air.kilogramsPerCubicMetre();
        if (inAir >= liquid.kilogramsPerCubicMetre()) {
            throw new IllegalArgumentException(
                    "air of "
                            + inAir
                            + " kg/m3 cannot be denser than the liquid of "
                            + liquid.kilogramsPerCubicMetre()
                            + " kg/m3");
        }
        return (1 - inAir / WEIGHTS.kilogramsPerCubicMetre())
                / (1 - inAir / liquid.kilogramsPerCubicMetre());
    }
}
