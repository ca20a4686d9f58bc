package catchbay.app;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * What may pass for a person's name: it stands in records for ever, and what it is typed for lets
 * things move.
 */
final class PersonName {

    private static final int LENGTH_MAX = 100;
    private static final int LETTERS_MIN = 2;

    /** What somebody types who means the opposite. */
    private static final Set<String> REFUSALS =
            Set.of(
                    "no", "nope", "not", "quit", "exit", "abort", "cancel", "end", "halt", "wait",
                    "yes");

    private PersonName() {}

    /** Why this is no name, as a sentence's part; empty when it is one. */
    static Optional<String> problem(String typed) {
        String word = typed.strip().toLowerCase(Locale.ROOT);
        if (typed.isBlank()) {
            return Optional.of("give a person's name");
        }
        if (word.length() > LENGTH_MAX) {
            return Optional.of("a name has " + LENGTH_MAX + " characters at most");
        }
        if (!word.codePoints().allMatch(PersonName::isPrintable)) {
            return Optional.of("a name has letters only, and no control characters");
        }
        if (word.codePoints().filter(Character::isLetter).count() < LETTERS_MIN) {
            return Optional.of("a name has two letters or more");
        }
        String bare = word.replaceAll("[^\\p{L}]", "");
        return REFUSALS.contains(bare) || bare.matches("stop+")
                ? Optional.of(
                        "that is no name; type the line 'stop' to end here, or your name when all"
                                + " is so")
                : Optional.empty();
    }

    private static boolean isPrintable(int point) {
        int type = Character.getType(point);
        return !Character.isISOControl(point)
                && type != Character.FORMAT
                && type != Character.SURROGATE
                && type != Character.PRIVATE_USE
                && type != Character.UNASSIGNED
                && type != Character.LINE_SEPARATOR
                && type != Character.PARAGRAPH_SEPARATOR
                && point != 0xFFFD;
    }
}
