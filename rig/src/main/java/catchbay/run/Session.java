package catchbay.run;

import java.util.List;
import java.util.Optional;

/**
 * Who runs a catch, and to what end.
 *
 * @param by who answers for it, where it was said
 * @param stage whether the truck is as it came in
 * @param override why certificates out of date are used all the same, in the words of a manager who
 *     is then named; it follows the record for ever
 * @param overdue which of the bay's own tests were overdue, or failed the last time, each a
 *     sentence's part
 */
public record Session(
        Optional<String> by, Stage stage, Optional<String> override, List<String> overdue) {

    /** With no test of the bay overdue, or none scheduled. */
    public Session(Optional<String> by, Stage stage, Optional<String> override) {
        this(by, stage, override, List.of());
    }

    /** The same, with these tests of the bay overdue. */
    public Session with(List<String> tests) {
        return new Session(by, stage, override, tests);
    }

    /** The state of the truck. */
    public enum Stage {
        /** As it came in: nothing was adjusted yet. */
        AS_FOUND("as found"),
        /** After its constant was entered, or it was repaired. */
        AS_LEFT("as left");

        private final String words;

        Stage(String words) {
            this.words = words;
        }

        /** How a person reads it. */
        public String words() {
            return words;
        }
    }

    /** The overdue tests in a sentence; empty where there are none. */
    public Optional<String> overdueSentence() {
        return overdue.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        "The bay's own tests are behind: "
                                + String.join("; ", overdue)
                                + ". See: catchbay due");
    }

    /** Nobody was named, nothing adjusted. */
    public static final Session USUAL =
            new Session(Optional.empty(), Stage.AS_FOUND, Optional.empty());

    public Session {
        overdue = List.copyOf(overdue);
        if (override.isPresent() && by.isEmpty()) {
            throw new IllegalArgumentException(
                    "an override needs the name of the manager who answers for it; add by");
        }
    }
}
