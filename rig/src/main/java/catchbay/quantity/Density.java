package catchbay.quantity;

/**
 * Mass per volume.
 *
 * @param kilogramsPerCubicMetre kg/m3, finite and > 0
 */
public record Density(double kilogramsPerCubicMetre) {

    public Density {
        Finite.aboveZero("density", kilogramsPerCubicMetre, "kg/m3");
    }

    /** A density given as weight (true mass) of one US gallon in pounds. */
    public static Density ofPoundsPerUsGallon(double poundsPerUsGallon) {
        Finite.aboveZero("density", poundsPerUsGallon, "lb/US gal");
        return new Density(
                poundsPerUsGallon
                        * MassUnit.POUND.kilograms()
                        / (VolumeUnit.US_GALLON.litres() / 1000.0));
    }

    /** This density as weight (true mass) of one US gallon in pounds. */
    public double poundsPerUsGallon() {
        return kilogramsPerCubicMetre
                * (VolumeUnit.US_GALLON.litres() / 1000.0)
                / MassUnit.POUND.kilograms();
    }

    /** The volume that the mass takes up at this density; the mass must be >= 0. */
    public Volume volumeOf(Mass mass) {
        return new Volume(mass.kilograms() / kilogramsPerCubicMetre * 1000.0);
    }
}
