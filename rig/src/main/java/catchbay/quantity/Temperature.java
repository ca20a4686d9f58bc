package catchbay.quantity;

import java.util.Locale;

/**
 * How warm something is.
 *
 * @param celsius degrees Celsius, finite and not below absolute zero (-273.15)
 */
public record Temperature(double celsius) implements Comparable<Temperature> {

    /** 60 degrees Fahrenheit, at which the trade states specific gravities and volumes. */
    public static final Temperature SIXTY_FAHRENHEIT = ofFahrenheit(60);

    private static final double ABSOLUTE_ZERO_CELSIUS = -273.15;

    public Temperature {
        if (!Double.isFinite(celsius) || celsius < ABSOLUTE_ZERO_CELSIUS) {
            throw new IllegalArgumentException(
                    "temperature must be finite and >= "
                            + ABSOLUTE_ZERO_CELSIUS
                            + " degrees Celsius, was "
                            + celsius);
        }
        celsius += 0.0; // -0.0 becomes 0.0, so that equal temperatures are equal records
    }

    /** A temperature in degrees Fahrenheit, at least -459.67. */
    public static Temperature ofFahrenheit(double fahrenheit) {
        return new Temperature(
                (Finite.any("temperature", fahrenheit, "degrees Fahrenheit") - 32) / 1.8);
    }

    /** This temperature in degrees Fahrenheit. */
    public double fahrenheit() {
        return celsius * 1.8 + 32;
    }

    /** This less the other, in kelvin (a difference of one kelvin is one degree Celsius). */
    public double minus(Temperature other) {
        return celsius - other.celsius;
    }

    /** This temperature for a person, in both units, as in {@code 10.0 C (50.0 F)}. */
    public String words() {
        return String.format(
                Locale.ROOT, "%.1f C (%.1f F)", withoutSign(celsius), withoutSign(fahrenheit()));
    }

    /** A zero that rounding has left has no sign. */
    private static double withoutSign(double degrees) {
        return Math.round(degrees * 10) == 0 ? 0 : degrees;
    }

    @Override
    public int compareTo(Temperature other) {
        return Double.compare(celsius, other.celsius);
    }
}
