package catchbay.quantity;

/**
 * Rate of a direct application: liquid for one lane and one length of road.
 *
 * @param litresPerLaneKilometre L/lane-km, finite and >= 0
 */
public record LiquidPerLane(double litresPerLaneKilometre) {

    public LiquidPerLane {
        litresPerLaneKilometre =
                Finite.atLeastZero("liquid rate", litresPerLaneKilometre, "L/lane-km");
    }

    /** A rate in US gallons per lane-mile. */
    public static LiquidPerLane ofUsGallonsPerLaneMile(double usGallonsPerLaneMile) {
        Finite.atLeastZero("liquid rate", usGallonsPerLaneMile, "US gal/lane-mile");
        return new LiquidPerLane(
                usGallonsPerLaneMile
                        * VolumeUnit.US_GALLON.litres()
                        / (Distance.METRES_PER_MILE / 1000.0));
    }

    /** This rate in US gallons per lane-mile. */
    public double usGallonsPerLaneMile() {
        return over(Distance.ofMiles(1), 1).usGallons();
    }

    /** The liquid for a distance over so many lanes (> 0). */
    public Volume over(Distance distance, double lanes) {
        return new Volume(
                litresPerLaneKilometre
                        * distance.kilometres()
                        * Finite.aboveZero("lanes", lanes, "lanes"));
    }
}
