package catchbay.quantity;

/**
 * Pressure above that of the air around (gauge), or a drop of it.
 *
 * @param kilopascals kPa, finite; below zero where a pump sucks
 */
public record Pressure(double kilopascals) implements Comparable<Pressure> {

    /**
     * Kilopascals in a pound-force per square inch: 0.45359237 kg x 9.80665 m/s2 / (25.4 mm)^2,
     * exact by these (NIST SP 811, App. B, to the digits given there).
     */
    private static final double KILOPASCALS_PER_PSI =
            0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000;

    public Pressure {
        kilopascals = Finite.any("pressure", kilopascals, "kPa") + 0.0;
    }

    /** A pressure in pounds-force per square inch. */
    public static Pressure ofPsi(double psi) {
        return new Pressure(Finite.any("pressure", psi, "psi") * KILOPASCALS_PER_PSI);
    }

    /** This pressure in pounds-force per square inch. */
    public double psi() {
        return kilopascals / KILOPASCALS_PER_PSI;
    }

    @Override
    public int compareTo(Pressure other) {
        return Double.compare(kilopascals, other.kilopascals);
    }
}
