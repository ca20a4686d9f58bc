package catchbay.sim;

import catchbay.signal.PulseLine;

import java.math.BigDecimal;

/**
 * Something that goes wrong in a stand-in bay.
 *
 * @param kind what goes wrong
 * @param since from when its delay counts
 * @param afterNanos the delay
 * @param forNanos how long it lasts; 0 = for good
 * @param size how much; what it counts depends on the kind
 * @param line the line concerned, for kinds that concern one
 */
public record Fault(
        FaultKind kind, Since since, long afterNanos, long forNanos, double size, PulseLine line) {

    /** From when a fault's delay counts. */
    public enum Since {
        /** The beginning of the run. */
        RUN,
        /** The first liquid that goes into the tank. */
        CATCH
    }

    public Fault {
        if (afterNanos < 0 || forNanos < 0 || !Double.isFinite(size) || size < 0) {
            throw new IllegalArgumentException(
                    "a fault's delay, length and size must be >= 0, were "
                            + afterNanos
                            + " ns, "
                            + forNanos
                            + " ns and "
                            + size);
        }
    }

    /**
     * The fault as one line of words, as in {@code lost-numbered since=catch after_s=20 for_s=0
     * size=3 line=reference}.
     */
    public String text() {
        return kind.key()
                + " since="
                + (since == Since.RUN ? "run" : "catch")
                + " after_s="
                + seconds(afterNanos)
                + " for_s="
                + seconds(forNanos)
                + " size="
                + size
                + " line="
                + line.key();
    }

    private static String seconds(long nanos) {
        return BigDecimal.valueOf(nanos, 9).stripTrailingZeros().toPlainString();
    }

    /**
     * Reads what {@link #text} writes; what is left out is zero, since the catch, on the reference
     * line.
     */
    public static Fault parsed(String text) {
        String[] words = text.strip().split("\\s+");
        FaultKind kind = FaultKind.ofKey(words[0]);
        Since since = Since.CATCH;
        long afterNanos = 0;
        long forNanos = 0;
        double size = 0;
        PulseLine line = PulseLine.REFERENCE;
        for (int i = 1; i < words.length; i++) {
            int equals = words[i].indexOf('=');
            String value = words[i].substring(equals + 1);
            switch (equals < 0 ? "" : words[i].substring(0, equals)) {
                case "since" -> since = since(value);
                case "after_s" -> afterNanos = (long) (number(words[i], value) * 1e9);
                case "for_s" -> forNanos = (long) (number(words[i], value) * 1e9);
                case "size" -> size = number(words[i], value);
                case "line" -> line = PulseLine.ofKey(value);
                default ->
                        throw new IllegalArgumentException(
                                "fault '"
                                        + text
                                        + "' has '"
                                        + words[i]
                                        + "'; use since=, after_s=, for_s=, size= and line=");
            }
        }
        return new Fault(kind, since, afterNanos, forNanos, size, line);
    }

    private static Since since(String value) {
        return switch (value) {
            case "run" -> Since.RUN;
            case "catch" -> Since.CATCH;
            default ->
                    throw new IllegalArgumentException(
                            "a fault counts since=run or since=catch, not " + value);
        };
    }

    private static double number(String word, String value) {
        try {
            return Double.parseDouble(value);
        } catch (NumberFormatException notOne) {
            throw new IllegalArgumentException(
                    "'" + word + "' of a fault needs a number after '='", notOne);
        }
    }
}
