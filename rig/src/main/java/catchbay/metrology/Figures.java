package catchbay.metrology;

import catchbay.quantity.MassFraction;

import java.util.Locale;

/** Figures of liquids as sentences write them. */
final class Figures {

    private Figures() {}

    /** As in {@code 23.3 %}. */
    static String strength(MassFraction strength) {
        return String.format(Locale.ROOT, "%.4g %%", strength.percent())
                .replaceFirst("\\.?0+ %$", " %");
    }

    /** As in {@code 1179.95 kg/m3}. */
    static String density(double kilogramsPerCubicMetre) {
        return String.format(Locale.ROOT, "%.2f kg/m3", kilogramsPerCubicMetre);
    }
}
