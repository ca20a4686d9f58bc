package catchbay.quantity;

/**
 * A length of road.
 *
 * @param metres metres, finite and >= 0
 */
public record Distance(double metres) {

    /** Statute mile, exact (international agreement of 1959; NIST SP 811, Appendix B). */
    static final double METRES_PER_MILE = 1609.344;

    public Distance {
        metres = Finite.atLeastZero("distance", metres, "m");
    }

    /** A distance of so many statute miles. */
    public static Distance ofMiles(double miles) {
        return new Distance(Finite.atLeastZero("distance", miles, "mile") * METRES_PER_MILE);
    }

    /** This distance in statute miles. */
    public double miles() {
        return metres / METRES_PER_MILE;
    }

    /** This distance in kilometres. */
    public double kilometres() {
        return metres / 1000.0;
    }
}
