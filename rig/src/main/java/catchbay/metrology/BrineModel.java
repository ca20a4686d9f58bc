package catchbay.metrology;

/**
 * Density of a salt's solution in water: {@code rho = 1 / ((1 - w)/rho_w + w/rho_app)} with {@code
 * rho_app = (c0 w + c1) exp(1e-6 (t + c4)^2) / (w + c2 + c3 t)}; t in degrees Celsius, w the mass
 * fraction of anhydrous salt. Sources: Laliberte and Cooper, J. Chem. Eng. Data 49 (2004) 1141;
 * coefficients of Laliberte, J. Chem. Eng. Data 54 (2009) 1725, doi 10.1021/je8008123.
 *
 * @param c0 kg/m3
 * @param c1 kg/m3
 * @param c2 one
 * @param c3 per degree Celsius
 * @param c4 degrees Celsius
 */
record BrineModel(double c0, double c1, double c2, double c3, double c4) {

    /** Half the step of the differences that stand for derivatives. */
    private static final double HALF_STEP_CELSIUS = 0.05;

    private static final double HALF_STEP_FRACTION = 5e-5;

    /** The range in which a strength is looked for: no strength in question lies outside. */
    private static final double FRACTION_MIN = -0.01;

    private static final double FRACTION_MAX = 0.6;

    /** Halvings after which the strength looked for is known to 1e-15. */
    private static final int HALVINGS = 50;

    /** kg/m3 at a mass fraction and a temperature in degrees Celsius. */
    double density(double w, double t) {
        double apparent =
                (c0 * w + c1) * StrictMath.exp(1e-6 * (t + c4) * (t + c4)) / (w + c2 + c3 * t);
        return 1 / ((1 - w) / water(t) + w / apparent);
    }

    /** Change of density with temperature, kg/m3 per degree Celsius. */
    double perCelsius(double w, double t) {
        return (density(w, t + HALF_STEP_CELSIUS) - density(w, t - HALF_STEP_CELSIUS))
                / (2 * HALF_STEP_CELSIUS);
    }

    /** Change of density with the mass fraction, kg/m3 for a fraction of one. */
    double perFraction(double w, double t) {
        return (density(w + HALF_STEP_FRACTION, t) - density(w - HALF_STEP_FRACTION, t))
                / (2 * HALF_STEP_FRACTION);
    }

    /**
     * The mass fraction that has this density; below 0 or at the top of the range looked through
     * where no brine has.
     */
    double fraction(double density, double t) {
        double low = FRACTION_MIN;
        double high = FRACTION_MAX;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = (low + high) / 2;
            if (density(middle, t) < density) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /**
     * Water as the coefficients were fitted with it: the form of Kell, J. Chem. Eng. Data 20 (1975)
     * 97. It differs from {@link Water} by at most 0.004 kg/m3 and goes on below freezing, where
     * brine is still liquid.
     */
    static double water(double t) {
        double numerator =
                ((((-2.8054253e-10 * t + 1.0556302e-7) * t - 4.6170461e-5) * t - 0.0079870401) * t
                                        + 16.945176)
                                * t
                        + 999.83952;
        return numerator / (1 + 0.01687985 * t);
    }
}
