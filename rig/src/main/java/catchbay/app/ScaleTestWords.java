package catchbay.app;

import catchbay.metrology.ShuntTest;
import catchbay.metrology.WeightCheck;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Numeral;
import catchbay.record.ScaleTestText;
import catchbay.record.ScaleTestText.Head;
import catchbay.record.TraceLine;
import catchbay.store.JournalFolder;

import java.io.PrintStream;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/** A test of the scale in words for a person at a terminal. */
final class ScaleTestWords {

    private static final String ROW = "%-28s %-20s %-10s  %-6s  %s";

    private ScaleTestWords() {}

    /** Prints it and answers the exit code. */
    static int print(boolean json, ScaleTesting.Tried tried) {
        PrintStream out = Page.out();
        WeightCheck.Answer answer =
                switch (tried.result()) {
                    case ScaleTesting.Result.Weights(
                                    Head head,
                                    WeightCheck check,
                                    MassUnit unit) -> {
                        if (json) {
                            out.println(ScaleTestText.of(head, check));
                        } else {
                            weights(out, head, check, unit);
                        }
                        yield check.answer();
                    }
                    case ScaleTesting.Result.Shunt(Head head, ShuntTest test, MassUnit unit) -> {
                        if (json) {
                            out.println(ScaleTestText.of(head, test));
                        } else {
                            shunt(out, head, test, unit);
                        }
                        yield test.answer();
                    }
                    case ScaleTesting.Result.BrokenOff(Head _, String reason) -> {
                        System.err.println("catchbay: no result. " + reason);
                        yield WeightCheck.Answer.CANNOT_TELL;
                    }
                };
        boolean page = !json && !(tried.result() instanceof ScaleTesting.Result.BrokenOff);
        Page.notes(!page, out, tried.computer());
        out.flush();
        return answer == WeightCheck.Answer.PASSES ? Exit.DONE : Exit.NO_RESULT;
    }

    /** The newest tests; answers the exit code. */
    static int list(PrintStream out, boolean json, List<JournalFolder.End> ends, int most) {
        return new JournalList<>(
                        ScaleTestText::read,
                        "answer",
                        String.format(Locale.ROOT, ROW, "test", "scale", "day", "result", "origin"),
                        ScaleTestWords::row,
                        "No test of a scale is kept here.")
                .print(out, json, ends, most);
    }

    private static String row(ScaleTestText.Done done) {
        return String.format(
                Locale.ROOT,
                ROW,
                done.head().name(),
                Words.printable(done.head().scale()),
                done.head().day(),
                inOneWord(done.answer()),
                done.head().origin().key());
    }

    private static void head(PrintStream out, String what, Head head) {
        out.println(
                what
                        + " "
                        + Words.printable(head.scale())
                        + " at "
                        + Words.printable(head.bay())
                        + ", "
                        + head.day());
        Words.line(out, "test", head.name() + ", origin " + head.origin().key());
        head.by().ifPresent(by -> Words.line(out, "by", by));
        out.println();
    }

    private static void weights(PrintStream out, Head head, WeightCheck check, MassUnit unit) {
        head(out, "Check weights on scale", head);
        String in = unit.symbol();
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %-22s %10s %10s %19s %9s",
                        "load, " + in,
                        "should be",
                        "shown",
                        "error +- U (95 %)",
                        "allowed"));
        Set<WeightCheck.Load> before = new HashSet<>();
        for (WeightCheck.Point point : check.points()) {
            out.println(
                    String.format(
                                    Locale.ROOT,
                                    "  %-22s %10.3f %10.3f %9s +- %6.3f %9.3f  %s",
                                    Words.printable(point.load().name())
                                            + (before.add(point.load()) ? "" : ", down"),
                                    point.due().in(unit),
                                    point.shown().in(unit),
                                    Numeral.signed(in(point.error().value(), unit), 3),
                                    in(point.error().expanded(), unit),
                                    point.limit().in(unit),
                                    remark(point.answer()))
                            .stripTrailing());
        }
        Words.line(
                out,
                "zero afterwards",
                String.format(
                        Locale.ROOT,
                        "%s %s, allowed %.3f %s%s",
                        Numeral.signed(check.zeroReturn().in(unit), 3),
                        in,
                        check.zeroLimit().in(unit),
                        in,
                        check.zeroReturns() ? "" : "  FAILS"));
        check.hysteresis()
                .ifPresent(more ->
                        Words.line(
                                out,
                                "down less up",
                                "at most " + Numeral.signed(more.in(unit), 3) + " " + in));
        out.println();
        Words.line(out, "verdict", verdict(check));
        simulated(out, head);
    }

    private static double in(double kilograms, MassUnit unit) {
        return new Mass(kilograms).in(unit);
    }

    private static String remark(WeightCheck.Answer answer) {
        return switch (answer) {
            case PASSES -> "";
            case FAILS -> "FAILS";
            case CANNOT_TELL -> "CANNOT TELL";
        };
    }

    /** What a test says, in one word. */
    static String inOneWord(WeightCheck.Answer answer) {
        return switch (answer) {
            case PASSES -> "pass";
            case FAILS -> "fail";
            case CANNOT_TELL -> "none";
        };
    }

    private static String verdict(WeightCheck check) {
        return inOneWord(check.answer())
                + switch (check.answer()) {
                    case PASSES -> ": every error is within what is allowed (simple acceptance)";
                    case FAILS ->
                            ". Do not weigh with it: look for what touches the tank, clean under"
                                    + " it, level it; have it adjusted, and check it again";
                    case CANNOT_TELL ->
                            ": the weights or the scale's steps are too coarse for what is allowed;"
                                    + " use heavier or better weights. What was known of the scale"
                                    + " before stays";
                };
    }

    private static void shunt(PrintStream out, Head head, ShuntTest test, MassUnit unit) {
        head(out, "Shunt test of scale", head);
        Words.line(
                out,
                "hose on less off",
                String.format(
                        Locale.ROOT,
                        "%s +- %.3f %s (95 %%)",
                        Numeral.signed(in(test.difference().value(), unit), 3),
                        in(test.difference().expanded(), unit),
                        unit.symbol()));
        Words.line(
                out,
                "for the hose",
                String.format(
                        Locale.ROOT,
                        "+- %.3f %s, limit %.3f %s",
                        test.halfWidth().in(unit),
                        unit.symbol(),
                        test.limit().in(unit),
                        unit.symbol()));
        out.println();
        Words.line(
                out,
                "verdict",
                test.answer() == WeightCheck.Answer.PASSES
                        ? "pass: catches allow for so much from now on"
                        : "fail. No catch is made with it: hang the hose so that it touches nothing"
                                + " of the tank, and test again");
        simulated(out, head);
    }

    private static void simulated(PrintStream out, Head head) {
        if (head.origin() == TraceLine.Origin.SIMULATED) {
            Words.simulated(out);
        }
    }
}
