package catchbay.quantity;

/**
 * Ground speed of the truck, real or played.
 *
 * @param metresPerSecond m/s, finite and >= 0
 */
public record Speed(double metresPerSecond) {

    private static final double SECONDS_PER_HOUR = 3600.0;

    public Speed {
        metresPerSecond = Finite.atLeastZero("speed", metresPerSecond, "m/s");
    }

    /** A speed in statute miles per hour. */
    public static Speed ofMilesPerHour(double milesPerHour) {
        return new Speed(
                Finite.atLeastZero("speed", milesPerHour, "mph")
                        * Distance.METRES_PER_MILE
                        / SECONDS_PER_HOUR);
    }

    /** A speed in kilometres per hour. */
    public static Speed ofKilometresPerHour(double kilometresPerHour) {
        return new Speed(
                Finite.atLeastZero("speed", kilometresPerHour, "km/h") * 1000.0 / SECONDS_PER_HOUR);
    }

    /** This speed in statute miles per hour. */
    public double milesPerHour() {
        return metresPerSecond * SECONDS_PER_HOUR / Distance.METRES_PER_MILE;
    }

    /** How far one gets in so many nanoseconds at this speed. */
    public Distance during(double nanos) {
        return new Distance(metresPerSecond * nanos / 1e9);
    }
}
