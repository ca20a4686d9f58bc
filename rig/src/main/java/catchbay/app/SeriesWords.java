package catchbay.app;

import catchbay.metrology.Comparison;
import catchbay.metrology.Grubbs;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.Scatter;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Numeral;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.SeriesResult;

import java.io.PrintStream;
import java.util.Locale;
import java.util.Optional;

/** A series of repeats in words for a person at a terminal. */
final class SeriesWords {

    private SeriesWords() {}

    /** What one run of it gave, in a line. */
    static String ran(int number, Series.Run run) {
        return "Run "
                + number
                + " ("
                + run.name()
                + "): "
                + run.result()
                        .map(result ->
                                "meter error "
                                        + Numeral.signed(
                                                result.comparison().meterError().percent(), 3)
                                        + " %.")
                        .orElseGet(() -> Words.of(run.outcome()) + ". " + run.outcome().reason());
    }

    /** How far a run stands out. */
    static String standsOut(Series.Next.Ask ask) {
        Grubbs.Finding.Flagged finding = ask.finding();
        return String.format(
                Locale.ROOT,
                "Run %s stands out: its meter error of %s %% is %.4f standard deviations from"
                        + " the mean, more than the %.4f that chance puts a run in one series of"
                        + " twenty (test of Grubbs). Look for its cause before you keep it.",
                ask.run().name(),
                Numeral.signed((finding.value() - 1) * 100, 3),
                finding.statistic(),
                finding.critical());
    }

    /** The result page. */
    static void print(PrintStream out, SeriesResult result) {
        RunSetup setup = result.setup();
        out.println(
                "Series of catch tests of truck "
                        + setup.truck().asset()
                        + " at "
                        + setup.bay()
                        + ", "
                        + setup.day());
        Words.line(out, "series", result.name());
        Words.line(
                out,
                "truck",
                setup.session().stage().words()
                        + setup.session().by().map(by -> ", by " + by).orElse(""));
        out.println();
        runs(out, result.series());
        out.println();
        Words.line(out, "ended", result.end().reason());
        result.emptyMoved().ifPresent(moved -> emptyScale(out, result, moved));
        result.mean().ifPresent(mean -> mean(out, result, mean));
        result.notes().forEach(note -> Words.paragraph(out, note));
        if (result.simulated()) {
            Words.simulated(out);
        }
    }

    private static void emptyScale(PrintStream out, SeriesResult result, Mass moved) {
        MassUnit unit = result.setup().scale().orElseThrow().unit();
        Mass most = result.emptyMovedMax();
        boolean allowed = Math.abs(moved.kilograms()) <= most.kilograms();
        Words.line(
                out,
                "empty scale",
                String.format(
                        Locale.ROOT,
                        "moved by at most %s %s from a catch to the next, %s the %.3f %s of"
                                + " zero_drift, drip and a step%s",
                        Numeral.signed(moved.in(unit), 3),
                        unit.symbol(),
                        allowed ? "within" : "MORE than",
                        most.in(unit),
                        unit.symbol(),
                        allowed
                                ? ""
                                : "; look for what stays in the tank or touches it, or enter a"
                                        + " larger scale.zero_drift"));
    }

    private static void runs(PrintStream out, Series series) {
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %3s  %-30s %9s %9s %10s",
                        "",
                        "run",
                        "measured",
                        "reported",
                        "meter err."));
        for (int i = 0; i < series.runs().size(); i++) {
            Series.Run run = series.runs().get(i);
            Optional<Comparison> comparison = run.result().map(CatchResult::comparison);
            out.println(
                    comparison.isPresent()
                            ? String.format(
                                    Locale.ROOT,
                                    "  %3d  %-30s %9.3f %9.3f %8s %%",
                                    i + 1,
                                    run.name(),
                                    comparison.get().measured().volume().usGallons(),
                                    comparison.get().reported().volume().usGallons(),
                                    Numeral.signed(comparison.get().meterError().percent(), 3))
                            : String.format(
                                    Locale.ROOT,
                                    "  %3d  %-30s not counted: %s",
                                    i + 1,
                                    run.name(),
                                    Words.of(run.outcome())));
        }
        for (String kept : series.kept()) {
            Words.paragraph(out, "Run " + kept + " stands out and was kept.");
        }
    }

    private static void mean(PrintStream out, SeriesResult result, MeanOfCatches mean) {
        result.end()
                .range()
                .ifPresent(range ->
                        Words.line(
                                out,
                                "range",
                                String.format(
                                        Locale.ROOT,
                                        "%.3f %% between the furthest runs, limit %.3f %%",
                                        range.percent(),
                                        result.end().limit().orElseThrow().percent())));
        Words.line(
                out,
                "scatter",
                mean.scatter()
                        .map(scatter -> scatter(scatter, mean, result.series()))
                        .orElse("of a run: not known, and taken as nothing"));
        out.println();
        out.println(mean.runs() == 1 ? "The one run that counts:" : "Mean of " + mean.runs() + ":");
        Words.amounts(out, mean.budget());
        out.println();
        Words.errors(out, mean.budget());
        out.println();
        Words.verdict(out, result.setup().judgement(), result.verdict());
        result.advice().ifPresent(advice -> Words.advice(out, result.setup(), advice));
    }

    private static String scatter(Scatter scatter, MeanOfCatches mean, Series series) {
        int planned = series.repeats().plan().runs();
        boolean alone = scatter.degreesOfFreedom() == planned - 1;
        return String.format(
                Locale.ROOT,
                "%.3f %% of a run, from %s (%.0f degrees of freedom)",
                scatter.standard() * 100,
                !mean.own()
                        ? "the settings alone"
                        : "the "
                                + planned
                                + " planned runs"
                                + (alone ? " alone" : " and earlier work"),
                scatter.degreesOfFreedom());
    }
}
