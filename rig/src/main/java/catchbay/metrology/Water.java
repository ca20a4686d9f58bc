package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.Temperature;

/**
 * Pure water at 101.325 kPa, by the equation recommended by the CIPM. Source: Tanaka, Girard,
 * Davis, Peuto, Bignell, Metrologia 38 (2001) 301, doi 10.1088/0026-1394/38/4/3.
 */
public final class Water {

    /** The equation holds from here. */
    public static final Temperature COLDEST = new Temperature(0);

    /** The equation holds up to here. */
    public static final Temperature WARMEST = new Temperature(40);

    /** The equation's constants: degrees Celsius, but a3 (degrees squared) and a5 (kg/m3). */
    private static final double A1 = -3.983035;

    private static final double A2 = 301.797;
    private static final double A3 = 522528.9;
    private static final double A4 = 69.34881;
    private static final double A5 = 999.974950;

    private Water() {}

    /** The density of water from 0 to 40 degrees Celsius; fails outside of them. */
    public static Density density(Temperature temperature) {
        if (temperature.compareTo(COLDEST) < 0 || temperature.compareTo(WARMEST) > 0) {
            throw new IllegalArgumentException(
                    "the density of water is known from 0 to 40 C (32 to 104 F), not at "
                            + temperature.words());
        }
        return new Density(kilogramsPerCubicMetre(temperature.celsius()));
    }

    static double kilogramsPerCubicMetre(double t) {
        return A5 * (1 - (t + A1) * (t + A1) * (t + A2) / (A3 * (t + A4)));
    }
}
