package catchbay.signal;

import java.util.OptionalDouble;

/**
 * The one place where a number shown by a device is read: plain digits with a decimal point, and
 * nothing guessed.
 */
final class ShownNumber {

    /** More digits than this are beyond what a double holds exactly, and beyond any display. */
    private static final int DIGITS_MAX = 15;

    private ShownNumber() {}

    /**
     * The number that a right-justified field shows: blanks, a sign, blanks, digits with at most
     * one point. Anything else, blanks among or behind the digits included, is no number.
     */
    static OptionalDouble of(String field) {
        int at = skipBlanks(field, 0);
        boolean minus = at < field.length() && field.charAt(at) == '-';
        if (minus || at < field.length() && field.charAt(at) == '+') {
            at = skipBlanks(field, at + 1);
        }
        int digits = 0;
        int points = 0;
        for (int i = at; i < field.length(); i++) {
            char shown = field.charAt(i);
            if (isDigit(shown)) {
                digits++;
            } else if (shown == '.') {
                points++;
            } else {
                return OptionalDouble.empty();
            }
        }
        if (digits == 0 || digits > DIGITS_MAX || points > 1) {
            return OptionalDouble.empty();
        }
        double amount = Double.parseDouble(field.substring(at));
        return OptionalDouble.of(minus ? 0.0 - amount : amount);
    }

    /**
     * The number in a part of a line. A part that leaves out digits, the point or the minus sign of
     * the number it was cut from is refused: {@code 5} out of {@code 12.5} is a wrong number, not a
     * short one.
     */
    static Decoded<Double> within(String line, LinePattern.Span span) {
        String field = line.substring(span.from(), span.to()).strip();
        OptionalDouble amount = of(field);
        if (amount.isEmpty()) {
            return new Decoded.Refused<>(
                    "'" + field + "' is not a number of digits with a decimal point");
        }
        if (isCutOff(line, span)) {
            return new Decoded.Refused<>("'" + field + "' is only a part of the number shown");
        }
        return new Decoded.Value<>(amount.getAsDouble());
    }

    private static boolean isCutOff(String line, LinePattern.Span span) {
        int before = span.from() - 1;
        int after = span.to();
        if (before >= 0 && (isDigit(line.charAt(before)) || line.charAt(before) == '.')) {
            return true;
        }
        if (after < line.length() && isDigit(line.charAt(after))
                || after + 1 < line.length()
                        && line.charAt(after) == '.'
                        && isDigit(line.charAt(after + 1))) {
            return true;
        }
        while (before >= 0 && line.charAt(before) == ' ') {
            before--;
        }
        // A hyphen behind a letter or digit joins words ("TOTAL-12.5"); anywhere else it is a sign.
        return before >= 0
                && line.charAt(before) == '-'
                && (before == 0 || !Character.isLetterOrDigit(line.charAt(before - 1)));
    }

    private static int skipBlanks(String field, int from) {
        int at = from;
        while (at < field.length() && field.charAt(at) == ' ') {
            at++;
        }
        return at;
    }

    private static boolean isDigit(char shown) {
        return shown >= '0' && shown <= '9';
    }
}
