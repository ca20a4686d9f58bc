package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Volume;

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
