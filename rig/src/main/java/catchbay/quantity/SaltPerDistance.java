package catchbay.quantity;

/**
 * Granular salt for one length of road, all lanes together.
 *
 * @param kilogramsPerKilometre kg/km, finite and >= 0
 */
public record SaltPerDistance(double kilogramsPerKilometre) {

    public SaltPerDistance {
        kilogramsPerKilometre = Finite.atLeastZero("salt rate", kilogramsPerKilometre, "kg/km");
    }

    /** A rate in short tons per statute mile. */
    public static SaltPerDistance ofTonsPerMile(double tonsPerMile) {
        Finite.atLeastZero("salt rate", tonsPerMile, "ton/mile");
        return new SaltPerDistance(
                tonsPerMile * MassUnit.SHORT_TON.kilograms() / (Distance.METRES_PER_MILE / 1000.0));
    }

    /** A rate in pounds per lane-mile over so many lanes (> 0). */
    public static SaltPerDistance ofPoundsPerLaneMile(double poundsPerLaneMile, double lanes) {
        Finite.atLeastZero("salt rate", poundsPerLaneMile, "lb/lane-mile");
        Finite.aboveZero("lanes", lanes, "lanes");
        return new SaltPerDistance(
                poundsPerLaneMile
                        * lanes
                        * MassUnit.POUND.kilograms()
                        / (Distance.METRES_PER_MILE / 1000.0));
    }

    /** This rate in pounds per statute mile. */
    public double poundsPerMile() {
        return over(Distance.ofMiles(1)).in(MassUnit.POUND);
    }

    /** The salt for a distance. */
    public Mass over(Distance distance) {
        return new Mass(kilogramsPerKilometre * distance.kilometres());
    }
}
