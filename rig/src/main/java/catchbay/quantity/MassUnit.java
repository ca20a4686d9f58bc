package catchbay.quantity;

/** The units of mass a scale may show. */
public enum MassUnit {
    /** SI base unit. */
    KILOGRAM("kg", 1.0),
    /** Avoirdupois pound, exact (international agreement of 1959; NIST SP 811, Appendix B). */
    POUND("lb", 0.45359237),
    /** 0.001 kg, exact. */
    GRAM("g", 0.001),
    /** Metric tonne, 1000 kg, exact. */
    TONNE("t", 1000.0),
    /** Short ton of 2000 lb, exact. */
    SHORT_TON("ton", 907.18474),
    /** Avoirdupois ounce, 1/16 lb, exact. */
    OUNCE("oz", 0.028349523125);

    private final String symbol;
    private final double kilograms;

    MassUnit(String symbol, double kilograms) {
        this.symbol = symbol;
        this.kilograms = kilograms;
    }

    /** How the unit is written in settings, traces and for a person. */
    public String symbol() {
        return symbol;
    }

    /** Kilograms in one of this unit, exact. */
    public double kilograms() {
        return kilograms;
    }

    /** The unit with the symbol given; fails with a sentence that lists the known ones. */
    public static MassUnit ofSymbol(String symbol) {
        for (MassUnit unit : values()) {
            if (unit.symbol.equals(symbol)) {
                return unit;
            }
        }
        throw new IllegalArgumentException(
                "unknown mass unit '" + symbol + "'; use kg, lb, g, t, ton or oz");
    }
}
