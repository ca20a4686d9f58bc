package catchbay.quantity;

/**
 * A plain relative number, such as a relative error: 0.05 is five per cent. Never a percentage.
 *
 * @param value finite; the sign is part of the meaning
 */
public record Ratio(double value) {

    /** Nothing. */
    public static final Ratio ZERO = new Ratio(0);

    public Ratio {
        value = Finite.any("ratio", value, "one") + 0.0;
    }

    /** A ratio given in per cent. */
    public static Ratio ofPercent(double percent) {
        return new Ratio(Finite.any("ratio", percent, "%") / 100.0);
    }

    /** This ratio in per cent. */
    public double percent() {
        return value * 100.0;
    }

    /** Its size without its sign. */
    public Ratio magnitude() {
        return new Ratio(Math.abs(value));
    }
}
