package catchbay.app;

import catchbay.record.JournalText;
import catchbay.record.WithoutResult;

import java.io.PrintStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a list of JSON objects has no object for, since it has no result: named with the reason on
 * the error stream, and once more in an object of its own, the last.
 */
final class LeftOut {

    private final List<JournalText.LeftOut> names = new ArrayList<>();

    /**
     * @param name by which it was begun
     * @param reason why it has no result, in words
     */
    void add(String name, String reason) {
        System.err.println("catchbay: " + row(name, reason));
        names.add(new JournalText.LeftOut(name, reason));
    }

    /** Prints the object; none where everything has a result. */
    void print(PrintStream out) {
        if (!names.isEmpty()) {
            out.println(JournalText.of(names));
        }
    }

    /** One of them in a list for a person. */
    static String row(String name, String reason) {
        return String.format(Locale.ROOT, "%-28s %s", name, reason);
    }

    /** Why a journal has no result. */
    static String inWords(WithoutResult why) {
        return switch (why) {
            case WithoutResult.BrokenOff(String reason) -> "no result: " + Words.printable(reason);
            case WithoutResult.CutOff() -> "interrupted, or still under way: no result";
            case WithoutResult.Damaged() -> "damaged: not to be read; restore from a copy";
        };
    }
}
