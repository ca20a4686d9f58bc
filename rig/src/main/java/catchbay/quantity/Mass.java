package catchbay.quantity;

/**
 * A mass, or a scale's reading of one. May be negative: a scale's reading below its zero is a fact
 * to be kept.
 *
 * @param kilograms kilograms, finite
 */
public record Mass(double kilograms) {

    public Mass {
        kilograms = Finite.any("mass", kilograms, "kg") + 0.0;
    }

    /** A mass given in the unit named. */
    public static Mass of(double amount, MassUnit unit) {
        return new Mass(Finite.any("mass", amount, unit.symbol()) * unit.kilograms());
    }

    /** This mass in the unit named. */
    public double in(MassUnit unit) {
        return kilograms / unit.kilograms();
    }

    /** This less the other. */
    public Mass minus(Mass other) {
        return new Mass(kilograms - other.kilograms);
    }
}
