package catchbay.quantity;

/**
 * Rate of pre-wetting: liquid for one mass of granular salt.
 *
 * @param litresPerTonne L/t (metric tonne), finite and >= 0
 */
public record LiquidPerSalt(double litresPerTonne) {

    public LiquidPerSalt {
        litresPerTonne = Finite.atLeastZero("pre-wet rate", litresPerTonne, "L/t");
    }

    /** A rate in US gallons per short ton. */
    public static LiquidPerSalt ofUsGallonsPerTon(double usGallonsPerTon) {
        Finite.atLeastZero("pre-wet rate", usGallonsPerTon, "US gal/ton");
        return new LiquidPerSalt(
                usGallonsPerTon
                        * VolumeUnit.US_GALLON.litres()
                        / (MassUnit.SHORT_TON.kilograms() / MassUnit.TONNE.kilograms()));
    }

    /** This rate in US gallons per short ton. */
    public double usGallonsPerTon() {
        return on(Mass.of(1, MassUnit.SHORT_TON)).usGallons();
    }

    /** The liquid for so much salt (>= 0). */
    public Volume on(Mass salt) {
        return new Volume(litresPerTonne * salt.in(MassUnit.TONNE));
    }
}
