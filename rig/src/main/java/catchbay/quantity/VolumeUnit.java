package catchbay.quantity;

/** The units of volume that meters, displays and certificates of this trade use. */
public enum VolumeUnit {
    /** 231 cubic inches, exact (NIST Handbook 44, Appendix C; inch of 25.4 mm exact). */
    US_GALLON("us_gal", "US gal", 3.785411784),
    /** 4.54609 L, exact (UK Weights and Measures Act 1985, Schedule 1). */
    IMPERIAL_GALLON("imperial_gal", "Imp gal", 4.54609),
    /** The SI-accepted litre, 1 dm3. */
    LITRE("litres", "L", 1.0);

    private final String suffix;
    private final String symbol;
    private final double litres;

    VolumeUnit(String suffix, String symbol, double litres) {
        this.suffix = suffix;
        this.symbol = symbol;
        this.litres = litres;
    }

    /**
     * How a key or column that holds this unit ends: {@code us_gal}, {@code imperial_gal}, {@code
     * litres}.
     */
    public String suffix() {
        return suffix;
    }

    /** How the unit is written for a person: {@code US gal}, {@code Imp gal}, {@code L}. */
    public String symbol() {
        return symbol;
    }

    /** Litres in one of this unit, exact. */
    public double litres() {
        return litres;
    }

    /** The unit whose key ending is given; fails with a sentence that lists the known ones. */
    public static VolumeUnit ofSuffix(String suffix) {
        for (VolumeUnit unit : values()) {
            if (unit.suffix.equals(suffix)) {
                return unit;
            }
        }
        throw new IllegalArgumentException(
                "unknown volume unit '" + suffix + "'; use us_gal, imperial_gal or litres");
    }
}
