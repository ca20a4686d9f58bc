package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.Temperature;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The two temperatures of a specific gravity: that of the sample for which the hydrometer is right,
 * over that of the water to which it is compared.
 *
 * @param sample from 0 to 40 degrees Celsius
 * @param water from 0 to 40 degrees Celsius
 * @param words as it stands on the hydrometer, as in {@code 60/60F}
 */
public record HydrometerReference(Temperature sample, Temperature water, String words) {

    private static final Pattern FORM =
            Pattern.compile("(\\d{1,3}(?:\\.\\d{1,4})?)/(\\d{1,3}(?:\\.\\d{1,4})?) ?([CF])");

    /** 60/60 degrees Fahrenheit, customary in the trade. */
    public static final HydrometerReference SIXTY_SIXTY_FAHRENHEIT = of("60/60F");

    public HydrometerReference {
        for (Temperature each : new Temperature[] {sample, water}) {
            if (each.compareTo(Water.COLDEST) < 0 || each.compareTo(Water.WARMEST) > 0) {
                throw new IllegalArgumentException(
                        "the reference temperatures of a hydrometer are from 0 to 40 C (32 to"
                                + " 104 F), but "
                                + words
                                + " says "
                                + each.words()
                                + "; read them again from its scale");
            }
        }
    }

    /** The reference written so, as in 60/60F, 15/15C, 15/4C or 20/20C. */
    public static HydrometerReference of(String text) {
        Matcher matcher = FORM.matcher(text.toUpperCase(Locale.ROOT));
        if (!matcher.matches()) {
            throw new IllegalArgumentException(
                    "'"
                            + text
                            + "' is no reference of a hydrometer; write it as on its scale:"
                            + " 60/60F, 15/15C, 15/4C or 20/20C");
        }
        boolean celsius = matcher.group(3).equals("C");
        return new HydrometerReference(
                temperature(matcher.group(1), celsius),
                temperature(matcher.group(2), celsius),
                matcher.group(1) + "/" + matcher.group(2) + matcher.group(3));
    }

    /**
     * The specific gravity that a hydrometer of this reference shows in a liquid.
     *
     * @param density of the liquid at its own temperature
     * @param at how warm the liquid is
     */
    public double reading(Density density, Temperature at) {
        double glass = 1 - DensityReading.GLASS_PER_CELSIUS * at.minus(sample);
        return density.kilogramsPerCubicMetre() / (waterDensity().kilogramsPerCubicMetre() * glass);
    }

    /** The density of the water to which is compared. */
    Density waterDensity() {
        return Water.density(water);
    }

    private static Temperature temperature(String number, boolean celsius) {
        double degrees = Double.parseDouble(number);
        return celsius ? new Temperature(degrees) : Temperature.ofFahrenheit(degrees);
    }
}
