package catchbay.app;

import catchbay.record.CheckupText;
import catchbay.record.CheckupText.Done;
import catchbay.record.TraceLine;
import catchbay.run.CheckItem;
import catchbay.run.CheckItem.Answer;
import catchbay.store.JournalFolder;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;

/** A checkup in words for a person at a terminal. */
final class CheckupWords {

    private static final String ROW = "%-28s %-10s %6s %6s %9s %8s  %s";

    private CheckupWords() {}

    /** Prints it. */
    static void print(boolean json, Done done) {
        PrintStream out = Page.out();
        if (json) {
            out.println(CheckupText.of(done));
        } else {
            page(out, done);
        }
        out.flush();
    }

    private static void page(PrintStream out, Done done) {
        out.println("Checkup of " + Words.printable(done.head().bay()) + ", " + done.head().day());
        Words.line(out, "checkup", done.head().name() + ", origin " + done.head().origin().key());
        done.head().by().ifPresent(by -> Words.line(out, "by", by));
        done.confirmedBy().ifPresent(by -> Words.line(out, "cautions", "confirmed by " + by));
        out.println();
        for (CheckItem item : done.items()) {
            out.println(
                    String.format(
                            Locale.ROOT,
                            "  %-11s %s",
                            inWords(item.answer()),
                            Words.printable(item.name())));
            detail(out, item.seen());
            item.mend().ifPresent(mend -> detail(out, "Mend: " + mend));
        }
        out.println();
        done.ended().ifPresent(reason -> Words.line(out, "ended", reason));
        Words.line(out, "verdict", verdict(done));
        if (done.head().origin() == TraceLine.Origin.SIMULATED) {
            Words.simulated(out);
        }
    }

    private static void detail(PrintStream out, String text) {
        Words.line(out, "            ", text);
    }

    private static String inWords(Answer answer) {
        return switch (answer) {
            case PASSED -> "passed";
            case FAILED -> "FAILED";
            case NOT_FITTED -> "not fitted";
            case NOT_DONE -> "not done";
        };
    }

    private static String verdict(Done done) {
        return String.format(
                Locale.ROOT,
                "%s: %d passed, %d failed, %d not fitted, %d not done%s",
                done.passed() ? "nothing failed" : "not passed",
                done.count(Answer.PASSED),
                done.count(Answer.FAILED),
                done.count(Answer.NOT_FITTED),
                done.count(Answer.NOT_DONE),
                done.count(Answer.NOT_DONE) == 0 ? "" : "; of what was not done nothing is known");
    }

    /** The newest checkups; answers the exit code. */
    static int list(PrintStream out, boolean json, List<JournalFolder.End> ends, int most) {
        return new JournalList<>(
                        CheckupText::read,
                        "items",
                        String.format(
                                Locale.ROOT,
                                ROW,
                                "checkup",
                                "day",
                                "passed",
                                "failed",
                                "not done",
                                "ended",
                                "origin"),
                        CheckupWords::row,
                        "No checkup is kept here.")
                .print(out, json, ends, most);
    }

    private static String row(Done done) {
        return String.format(
                Locale.ROOT,
                ROW,
                done.head().name(),
                done.head().day(),
                done.count(Answer.PASSED),
                done.count(Answer.FAILED),
                done.count(Answer.NOT_DONE),
                done.ended().isPresent() ? "early" : "",
                done.head().origin().key());
    }
}
