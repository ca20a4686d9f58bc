package catchbay.app;

import catchbay.metrology.WeightCheck.Answer;
import catchbay.quantity.Numeral;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Done;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.store.JournalFolder;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** A test of the bay by itself in words for a person at a terminal. */
final class SelfTestWords {

    private static final String ROW = "%-26s %-10s %-40s %12s %10s %10s  %-6s %s";

    private SelfTestWords() {}

    /** Prints what it came to. */
    static void print(boolean json, SelfTesting.Result result, BayComputer computer) {
        switch (result) {
            case SelfTesting.Result.Found(Done done, String line) ->
                    Page.print(json, () -> line, out -> page(out, done), computer);
            case SelfTesting.Result.BrokenOff(SelfTestText.Head _, String reason) -> {
                System.err.println("catchbay: no result. " + reason);
                Page.notes(true, Page.out(), computer);
            }
        }
    }

    /** The exit code. */
    static int exit(SelfTesting.Result result) {
        return result instanceof SelfTesting.Result.Found(Done done, String _)
                        && done.answer() == Answer.PASSES
                ? Exit.DONE
                : Exit.NO_RESULT;
    }

    private static void page(PrintStream out, Done done) {
        SelfTestText.Head head = done.head();
        out.println(
                "Test '"
                        + head.kind().key()
                        + "' of "
                        + Words.printable(head.bay())
                        + ", "
                        + head.day());
        Words.line(out, "test", head.name() + ", origin " + head.origin().key());
        head.by().ifPresent(by -> Words.line(out, "by", by));
        done.confirmedBy().ifPresent(by -> Words.line(out, "checklist", by));
        head.flowFrom().ifPresent(from -> Words.line(out, "liquid from", from));
        done.load().ifPresent(load -> Words.line(out, "on the scale", load(load)));
        out.println();
        done.figures().forEach(figure -> Words.line(out, named(figure), figure(figure)));
        out.println();
        Words.paragraph(out, done.sentence());
        if (head.origin() == TraceLine.Origin.SIMULATED) {
            Words.simulated(out);
        }
    }

    private static String load(SelfTestText.Load load) {
        return String.format(
                Locale.ROOT,
                "%.3f kg at the beginning, %.3f kg at the end",
                load.begun().kilograms(),
                load.ended().kilograms());
    }

    /** Which instrument, and where it was held against another that one too. */
    private static String named(Figure figure) {
        String serials =
                Stream.concat(figure.serial().stream(), figure.against().stream())
                        .map(Words::printable)
                        .collect(Collectors.joining(", "));
        return Words.printable(figure.of()) + (serials.isEmpty() ? "" : " (" + serials + ")");
    }

    private static String figure(Figure figure) {
        String unit = figure.unit().symbol();
        return String.format(
                Locale.ROOT,
                "%s +- %.4f %s (95 %%), limit %.4f %s: %s",
                Numeral.signed(figure.value(), 4),
                figure.expanded(),
                unit,
                figure.limit(),
                unit,
                ScaleTestWords.inOneWord(figure.answer()));
    }

    /** The figures of the newest tests, the oldest of them first; answers the exit code. */
    static int list(PrintStream out, boolean json, List<JournalFolder.End> ends, int most) {
        return new JournalList<>(
                        SelfTestText::read,
                        "answer",
                        String.format(
                                Locale.ROOT,
                                ROW,
                                "test",
                                "day",
                                "of",
                                "found",
                                "+- U95",
                                "limit",
                                "result",
                                "origin"),
                        SelfTestWords::rows,
                        "No test of the bay by itself is kept here.")
                .print(out, json, ends.subList(0, Math.min(most, ends.size())).reversed(), most);
    }

    private static String rows(Done done) {
        return done.figures().stream()
                .map(figure -> row(done, figure))
                .collect(Collectors.joining("\n"));
    }

    private static String row(Done done, Figure figure) {
        return String.format(
                Locale.ROOT,
                ROW,
                done.head().name(),
                done.head().day(),
                named(figure),
                Numeral.signed(figure.value(), 4) + " " + figure.unit().symbol(),
                String.format(Locale.ROOT, "%.4f", figure.expanded()),
                String.format(Locale.ROOT, "%.4f", figure.limit()),
                ScaleTestWords.inOneWord(figure.answer()),
                done.head().origin().key());
    }
}
