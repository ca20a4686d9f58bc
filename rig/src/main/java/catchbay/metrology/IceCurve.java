package catchbay.metrology;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

/**
 * Freezing point of a brine up to its eutectic: {@code T_f = exp(sum f_j (w - base)^j)} in kelvin.
 * Source: Melinder, Properties of secondary working fluids (2010), polynomials as stored by
 * CoolProp (MNA2, MCA2, MMG2, MKA2). From the last strength of the polynomial to the eutectic a
 * straight line is drawn.
 *
 * @param base mass fraction about which the polynomial is written
 * @param weakest the lowest mass fraction of the polynomial
 * @param strongest the highest mass fraction of the polynomial
 * @param eutectic mass fraction of the eutectic
 * @param eutecticCelsius its temperature
 * @param f the coefficients, from the power 0 up
 */
record IceCurve(
        double base,
        double weakest,
        double strongest,
        double eutectic,
        double eutecticCelsius,
        double... f) {

    private static final double ZERO_CELSIUS_KELVIN = 273.15;

    private static final Temperature WATER_FREEZES = new Temperature(0);

    /** The freezing point at a strength not above the eutectic. */
    SolidPoint at(MassFraction strength) {
        double w = strength.value();
        if (w == 0) {
            return new SolidPoint.Ice(WATER_FREEZES);
        }
        if (w < weakest) {
            return new SolidPoint.IceBetween(WATER_FREEZES, new Temperature(celsius(weakest)));
        }
        if (w <= strongest) {
            // The polynomial passes 0.01 degrees above zero at its weak end.
            return new SolidPoint.Ice(new Temperature(Math.min(0, celsius(w))));
        }
        double last = celsius(strongest);
        return new SolidPoint.Ice(
                new Temperature(
                        last
                                + (eutecticCelsius - last)
                                        * (w - strongest)
                                        / (eutectic - strongest)));
    }

    private double celsius(double w) {
        double power = 0;
        for (int j = f.length - 1; j >= 0; j--) {
            power = power * (w - base) + f[j];
        }
        return StrictMath.exp(power) - ZERO_CELSIUS_KELVIN;
    }
}
