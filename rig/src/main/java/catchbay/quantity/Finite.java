package catchbay.quantity;

/** The one place where a quantity's number is checked, so that every refusal reads alike. */
final class Finite {

    private Finite() {}

    static double any(String what, double value, String unit) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(
                    what + " must be a finite number of " + unit + ", was " + value);
        }
        return value;
    }

    static double atLeastZero(String what, double value, String unit) {
        if (!Double.isFinite(value) || value < 0) {
            throw new IllegalArgumentException(
                    what + " must be finite and >= 0 " + unit + ", was " + value);
        }
        return value + 0.0; // -0.0 becomes 0.0, so that equal amounts are equal records
    }

    static double aboveZero(String what, double value, String unit) {
        if (!Double.isFinite(value) || value <= 0) {
            throw new IllegalArgumentException(
                    what + " must be finite and > 0 " + unit + ", was " + value);
        }
        return value;
    }
}
