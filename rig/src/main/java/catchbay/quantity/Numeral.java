package catchbay.quantity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/** How numbers are read from a person and shown to one: the one place for both. */
public final class Numeral {

    /**
     * More than this no figure of a bay comes to in any unit that is read: a day has 1e14
     * nanoseconds. What is larger was mistyped, and the products of such figures are no numbers any
     * more.
     */
    private static final BigDecimal SIZE_MAX = new BigDecimal("1e15");

    /** More zeros behind the point than these nobody counts. */
    private static final int ZEROS_MAX = 8;

    private static final Pattern ZERO = Pattern.compile("[+-][0.]+");

    private static final MathContext SHORT = new MathContext(4);

    private Numeral() {}

    /** Why a number can be no figure of a bay, as a sentence's part; empty where it can. */
    public static Optional<String> problem(BigDecimal number) {
        return number.abs().compareTo(SIZE_MAX) > 0
                ? Optional.of(
                        (number.signum() > 0
                                        ? "it must be at most 1e15"
                                        : "it must be at least -1e15")
                                + "; correct it, or look at its unit")
                : Optional.empty();
    }

    /** All its digits, or four of them and an exponent where zeros would hide them. */
    public static String of(BigDecimal number) {
        boolean tiny = number.signum() != 0 && number.scale() - number.precision() > ZEROS_MAX;
        return tiny || problem(number).isPresent()
                ? number.round(SHORT)
                        .stripTrailingZeros()
                        .toString()
                        .toLowerCase(Locale.ROOT)
                        .replace("e+", "e")
                : number.toPlainString();
    }

    /** The same, with at most so many digits that matter, and without zeros that say nothing. */
    public static String of(BigDecimal number, int digits) {
        return of(number.round(new MathContext(digits)).stripTrailingZeros());
    }

    /** With its sign and so many decimals, as in {@code +0.25}; a zero has none. */
    public static String signed(double number, int decimals) {
        String shown = String.format(Locale.ROOT, "%+." + decimals + "f", number);
        return ZERO.matcher(shown).matches() ? shown.substring(1) : shown;
    }

    /**
     * An uncertainty with so many decimals. It is never shown as nothing because there are no more
     * of them: as in {@code <0.01}.
     */
    public static String uncertainty(double expanded, int decimals) {
        String shown = String.format(Locale.ROOT, "%." + decimals + "f", expanded);
        return expanded > 0 && new BigDecimal(shown).signum() == 0
                ? "<" + BigDecimal.ONE.movePointLeft(decimals).toPlainString()
                : shown;
    }
}
