package catchbay.quantity;

/**
 * An amount of liquid.
 *
 * @param litres litres, finite and >= 0
 */
public record Volume(double litres) implements Comparable<Volume> {

    /** No liquid. */
    public static final Volume ZERO = new Volume(0);

    public Volume {
        litres = Finite.atLeastZero("volume", litres, "L");
    }

    /** A volume given in the unit named. */
    public static Volume of(double amount, VolumeUnit unit) {
        return new Volume(Finite.atLeastZero("volume", amount, unit.symbol()) * unit.litres());
    }

    /** A volume of so many US gallons. */
    public static Volume ofUsGallons(double usGallons) {
        return of(usGallons, VolumeUnit.US_GALLON);
    }

    /** This volume in US gallons. */
    public double usGallons() {
        return in(VolumeUnit.US_GALLON);
    }

    /** This volume in the unit named. */
    public double in(VolumeUnit unit) {
        return litres / unit.litres();
    }

    /** This and the other together. */
    public Volume plus(Volume other) {
        return new Volume(litres + other.litres);
    }

    /** This volume times a plain number >= 0. */
    public Volume times(double factor) {
        return new Volume(litres * factor);
    }

    /**
     * Relative error of this amount against the true one: (this - truth) / truth. Fails when the
     * truth is zero.
     */
    public Ratio errorAgainst(Volume truth) {
        if (truth.litres == 0) {
            throw new IllegalArgumentException("a relative error needs a true volume above 0 L");
        }
        return new Ratio((litres - truth.litres) / truth.litres);
    }

    @Override
    public int compareTo(Volume other) {
        return Double.compare(litres, other.litres);
    }
}
