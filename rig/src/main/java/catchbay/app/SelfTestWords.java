package catchbay.app;

import catchbay.metrology.WeightCheck.Answer;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Done;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.TraceLine;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A test of the bay by itself in words for a person at a terminal. */
final class SelfTestWords {

    private static final String ROW = "%-26s %-10s %-30s %12s %10s %10s  %-6s %s";

    private SelfTestWords() {}

    /** Prints what it came to. */
    static void print(boolean json, SelfTesting.Result result) {
        switch (result) {
            case SelfTesting.Result.Found(Done done, String line) -> {
                PrintStream out = Page.out();
                if (json) {
                    out.println(line);
                } else {
                    page(out, done);
                }
                out.flush();
            }
            case SelfTesting.Result.BrokenOff(SelfTestText.Head _, String reason) ->
                    System.err.println("catchbay: no result. " + reason);
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
        out.println();
        done.figures().forEach(figure -> Words.line(out, named(figure), figure(figure)));
        out.println();
        Words.paragraph(out, done.sentence());
        if (head.origin() == TraceLine.Origin.SIMULATED) {
            Words.simulated(out);
        }
    }

    private static String named(Figure figure) {
        return Words.printable(figure.of());
    }

    private static String figure(Figure figure) {
        String unit = figure.unit().symbol();
        return String.format(
                Locale.ROOT,
                "%+.4f +- %.4f %s (95 %%), limit %.4f %s: %s",
                figure.value(),
                figure.expanded(),
                unit,
                figure.limit(),
                unit,
                ScaleTestWords.inOneWord(figure.answer()));
    }

    /** The figures of the tests that came to their end, the oldest first: at most so many tests. */
    static void list(PrintStream out, boolean json, List<String> lastLines, int most) {
        List<String> ended =
                lastLines.stream()
                        .filter(line -> SelfTestText.read(line).isPresent())
                        .limit(most)
                        .toList()
                        .reversed();
        if (json) {
            ended.forEach(out::println);
            return;
        }
        if (ended.isEmpty()) {
            out.println("No test of the bay by itself is kept here.");
            return;
        }
        out.println(
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
                        "origin"));
        ended.stream()
                .map(SelfTestText::read)
                .flatMap(Optional::stream)
                .forEach(done -> rows(out, done));
    }

    private static void rows(PrintStream out, Done done) {
        for (Figure figure : done.figures()) {
            String unit = " " + figure.unit().symbol();
            out.println(
                    String.format(
                            Locale.ROOT,
                            ROW,
                            done.head().name(),
                            done.head().day(),
                            named(figure),
                            String.format(Locale.ROOT, "%+.4f", figure.value()) + unit,
                            String.format(Locale.ROOT, "%.4f", figure.expanded()),
                            String.format(Locale.ROOT, "%.4f", figure.limit()),
                            ScaleTestWords.inOneWord(figure.answer()),
                            done.head().origin().key()));
        }
    }
}
