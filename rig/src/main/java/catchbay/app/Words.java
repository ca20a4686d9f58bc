package catchbay.app;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.DecisionRule;
import catchbay.metrology.Estimate;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.Verdict;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.record.ResultText;
import catchbay.run.CatchResult;
import catchbay.run.Doubts;
import catchbay.run.Judgement;
import catchbay.run.LiveView;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.RunState;
import catchbay.run.ScaleTests;
import catchbay.signal.PulseCount;

import java.io.PrintStream;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A run's states and its result in words for a person at a terminal. */
final class Words {

    private static final int WIDTH_MAX = 78;

    /** Narrower than this a page's figures have no room beside their names. */
    private static final int WIDTH_MIN = 40;

    private static final int WIDTH =
            Screen.isTerminal(1) ? width(Optional.ofNullable(System.getenv("COLUMNS"))) : WIDTH_MAX;

    /** Where the texts begin behind their names, and where sentences begin. */
    private static final int NAME_COLUMNS = 20;

    /** What fits before them behind an indent of two; a longer name has a row of its own. */
    private static final int NAME_LENGTH = NAME_COLUMNS - 2;

    private static final int PARAGRAPH_COLUMNS = 1;

    private static final String STOP_AWAITED = "waiting for the flow to be stopped";

    private Words() {}

    /** In how many columns this program's pages are written. */
    static int columns() {
        return WIDTH;
    }

    /**
     * In how many columns sentences are written: those of the terminal, within bounds.
     *
     * @param columns how many it has, as the environment says it
     */
    static int width(Optional<String> columns) {
        return columns.filter(said -> said.matches("\\d{1,4}"))
                .map(Integer::valueOf)
                .map(said -> Math.clamp(said, WIDTH_MIN, WIDTH_MAX))
                .orElse(WIDTH_MAX);
    }

    /** What a state means to the person who waits. */
    static String of(RunState state) {
        RunSetup.Plan plan = state.sensed().plan();
        return switch (state) {
            case RunState.Idle s -> "starting";
            case RunState.Confirming s when LiveView.confirmed(s) -> "the checklist is confirmed";
            case RunState.Confirming s -> "waiting for the checklist";
            case RunState.Emptying s -> "emptying the tank";
            case RunState.Starting s -> "waiting for the flow to be started";
            case RunState.Purging s -> "purging for " + seconds(plan.purgeNanos());
            case RunState.Settling s ->
                    "waiting until the flow is steady" + scale(s.sensed().setup());
            case RunState.Resting s when s.sensed().ledger().flowing() -> STOP_AWAITED;
            case RunState.Resting s -> "waiting until nothing flows" + scale(s.sensed().setup());
            case RunState.Opening s -> "diverting to the tank";
            case RunState.Catching s when s.untilNanos() == Long.MAX_VALUE ->
                    "waiting for the flow to be started";
            case RunState.Catching s -> "catching for " + seconds(plan.catchNanos());
            case RunState.Closing s -> "diverting back to the bypass";
            case RunState.Trailing s -> "waiting for the first pulse after the catch";
            case RunState.Stilling s when s.sensed().ledger().flowing() -> STOP_AWAITED;
            case RunState.Stilling s -> "waiting until nothing flows";
            case RunState.Dripping s -> "letting the tank drip for " + seconds(plan.dripNanos());
            case RunState.Weighing s -> "reading the scale";
            case RunState.Reading s -> "waiting for the truck's display to be typed";
            case RunState.Comparing s -> "comparing";
            case RunState.Draining s -> "draining the tank for " + seconds(plan.drainNanos());
            case RunState.Ended s -> "ended, outputs in their safe state";
        };
    }

    private static String scale(RunSetup setup) {
        return setup.scale().isPresent() ? " and the scale rests" : "";
    }

    /** The result page. */
    static void print(
            PrintStream out, ResultText.Provenance provenance, RunSetup setup, Outcome outcome) {
        out.println(
                (ofBayItself(setup)
                                ? "Catch of a test of the bay itself with liquid of "
                                : "Catch test of truck ")
                        + setup.truck().asset()
                        + ", "
                        + (provenance.recorded().isPresent()
                                ? "state not said"
                                : setup.session().stage().words())
                        + ", at "
                        + setup.bay()
                        + ", "
                        + setup.day());
        line(
                out,
                "run",
                (provenance.run().isEmpty() ? "without a name" : provenance.run())
                        + ", trace "
                        + provenance.seal().key()
                        + ", origin "
                        + provenance.origin());
        setup.session().by().ifPresent(by -> line(out, "by", by));
        setup.repeats()
                .place()
                .ifPresent(place ->
                        line(out, "series", place.series() + ", run " + place.number() + " of it"));
        out.println();
        switch (outcome) {
            case Outcome.Measured measured -> measured(out, setup, measured.result());
            case Outcome.Void v -> ended(out, v);
            case Outcome.Stopped s -> ended(out, s);
            case Outcome.Refused r -> ended(out, r);
            case Outcome.Interrupted i -> ended(out, i);
        }
        if (!provenance.computer().notes().isEmpty()) {
            out.println();
            provenance.computer().notes().forEach(note -> paragraph(out, note));
        }
        provenance.recorded().ifPresent(recorded -> recorded(out, provenance, recorded));
        if (provenance.origin().equals("simulated")) {
            simulated(out);
        }
    }

    static void simulated(PrintStream out) {
        out.println();
        paragraph(
                out,
                "Simulated: at least one instrument of this run was a stand-in. Nothing here"
                        + " speaks of a real truck.");
    }

    /** Both results: the one above, and the one of the day. */
    private static void recorded(
            PrintStream out, ResultText.Provenance provenance, ResultText.Recorded recorded) {
        out.println();
        StringBuilder figures = new StringBuilder();
        recorded.resultJson()
                .filter(json -> recorded.end().equals("measured"))
                .ifPresent(json ->
                        figures.append(" It gave measured ")
                                .append(ResultText.shown(json, "measured_us_gal", 3))
                                .append(" US gal, reported ")
                                .append(ResultText.shown(json, "reported_us_gal", 3))
                                .append(" US gal, meter error ")
                                .append(ResultText.shown(json, "meter_error_percent", 2))
                                .append(" %."));
        paragraph(
                out,
                "Recorded under method version "
                        + recorded.methodVersion()
                        + " as '"
                        + recorded.end().replace('_', ' ')
                        + "': "
                        + recorded.reason()
                        + figures
                        + " The result above is by method version "
                        + provenance.methodVersion()
                        + "; changed since: "
                        + recorded.changes()
                        + ".");
    }

    /** An outcome's name. */
    static String of(Outcome outcome) {
        return outcome.key().replace('_', ' ');
    }

    private static void ended(PrintStream out, Outcome outcome) {
        out.println("No result (" + of(outcome) + ").");
        paragraph(out, outcome.reason());
    }

    private static boolean ofBayItself(RunSetup setup) {
        return setup.reported() instanceof RunSetup.Reported.Nothing;
    }

    private static void measured(PrintStream out, RunSetup setup, CatchResult result) {
        Comparison comparison = result.comparison();
        if (ofBayItself(setup)) {
            amount(out, Comparison.MEASURED, comparison.measured());
            out.println();
            instruments(out, setup, result);
            result.notes().forEach(note -> paragraph(out, note));
            return;
        }
        amounts(out, comparison.budget());
        out.println();
        errors(out, comparison.budget());
        out.println();
        instruments(out, setup, result);
        out.println();
        verdict(out, setup.judgement(), result.verdict());
        advice(out, setup, result.advice());
        for (String note : result.notes()) {
            paragraph(out, note);
        }
    }

    static void amounts(PrintStream out, Budget budget) {
        out.println(
                String.format(
                        Locale.ROOT, "  %-10s %12s %12s %14s", "", "US gal", "L", "+- gal (95 %)"));
        for (String amount : List.of(Comparison.ASKED, Comparison.REPORTED, Comparison.MEASURED)) {
            amount(out, amount, Estimate.of(budget.output(amount)));
        }
    }

    static void errors(PrintStream out, Budget budget) {
        error(out, budget, Comparison.METER_ERROR, "(reported - measured) / measured");
        error(out, budget, Comparison.CONTROL_ERROR, "(reported - asked) / asked");
        error(out, budget, Comparison.APPLICATION_ERROR, "(measured - asked) / asked");
    }

    private static void error(PrintStream out, Budget budget, String name, String formula) {
        Budget.Output error = budget.output(name);
        line(
                out,
                name,
                String.format(
                        Locale.ROOT,
                        "%7s %% +- %s %%   %s",
                        Numeral.signed(error.value() * 100, 2),
                        expanded(new Ratio(error.expanded())),
                        formula));
    }

    private static void instruments(PrintStream out, RunSetup setup, CatchResult result) {
        line(out, "asked from", result.askedBasis());
        line(out, "reported is", result.reportedBasis());
        line(
                out,
                "window",
                String.format(
                        Locale.ROOT,
                        "%.3f s, mean flow%s %s",
                        result.windowNanos() / 1e9,
                        setup.plan().window() == RunSetup.Window.STANDING ? " while it ran" : "",
                        flow(result.flow())));
        result.count().ifPresent(count -> line(out, "reference pulses", pulses(count)));
        result.byReference()
                .ifPresent(e ->
                        line(
                                out,
                                "reference",
                                gallons(e.volume()) + chosen(setup, RunSetup.MeasureBy.REFERENCE)));
        result.byScale()
                .ifPresent(e ->
                        line(
                                out,
                                "scale",
                                gallons(e.volume()) + chosen(setup, RunSetup.MeasureBy.SCALE)));
        setup.scale().ifPresent(scale -> tried(out, scale.tests(), setup.doubts().scale()));
        if (setup.scale().isPresent() && setup.plan().window() == RunSetup.Window.FLYING) {
            timed(out, setup.doubts().diverter());
        }
        setup.liquid().basis().ifPresent(basis -> density(out, basis));
        result.disagreement()
                .ifPresent(d ->
                        line(
                                out,
                                "they differ by",
                                String.format(
                                        Locale.ROOT,
                                        "%s %% (allowed %.2f %% and the steps of both)",
                                        Numeral.signed(d.percent(), 2),
                                        setup.plan().crossCheckMax().percent())));
    }

    /** Only where it is known: what is common practice needs no line. */
    private static void timed(PrintStream out, Doubts.Diverter timing) {
        if (!timing.timingSource().equals(Doubts.Diverter.USUAL.timingSource())) {
            line(
                    out,
                    "diverter timed",
                    String.format(
                            Locale.ROOT,
                            "%s +- %.4f s, %s",
                            Numeral.signed(timing.timingErrorSeconds(), 4),
                            timing.timingHalfWidthSeconds(),
                            timing.timingSource()));
        }
    }

    private static void tried(PrintStream out, ScaleTests tests, Doubts.Scale doubts) {
        tests.weights()
                .ifPresent(test ->
                        line(
                                out,
                                "scale checked",
                                "with weights on " + test.day() + " (" + test.test() + ")"));
        tests.shunt()
                .ifPresent(test ->
                        line(
                                out,
                                "hose tested",
                                String.format(
                                        Locale.ROOT,
                                        "on %s (%s): +- %.3f kg",
                                        test.day(),
                                        test.test(),
                                        doubts.hose().kilograms())));
    }

    private static void density(PrintStream out, LiquidDensity basis) {
        line(out, "density", of(basis));
        for (LiquidDensity.Mark mark : basis.marks()) {
            line(out, "", mark.words());
        }
        for (String warning : basis.warnings()) {
            line(out, "", "warning: " + warning);
        }
    }

    static String of(LiquidDensity basis) {
        return String.format(
                Locale.ROOT,
                "%.2f +- %.2f kg/m3 (k=2), %s",
                basis.density().kilogramsPerCubicMetre(),
                basis.expandedKilogramsPerCubicMetre(),
                basis.basis());
    }

    private static String chosen(RunSetup setup, RunSetup.MeasureBy by) {
        return setup.plan().measureBy() == by ? "   <- measured" : "";
    }

    private static String pulses(PulseCount count) {
        return switch (count) {
            case PulseCount.DoubleTimed timed ->
                    String.format(
                            Locale.ROOT,
                            "%d counted, %.3f by double timing",
                            timed.counted(),
                            timed.pulses());
            case PulseCount.Whole whole -> whole.counted() + " counted, to the whole pulse";
            case PulseCount.EdgesLost lost -> lost.seen() + " seen, " + lost.missing() + " lost";
            case PulseCount.Leaping leaping ->
                    leaping.seen() + " seen, spacing leaps " + leaping.leaps() + " times";
            case PulseCount.Unusable unusable -> unusable.reason();
        };
    }

    static void verdict(PrintStream out, Judgement judgement, Optional<Verdict> verdict) {
        verdict.ifPresent(known ->
                line(
                        out,
                        "verdict",
                        switch (known) {
                            case Verdict.Decided decided -> decided(judgement, decided);
                            case Verdict.NoRoom(String reason) -> "none. " + reason;
                        }));
    }

    /** By what a truck is judged, before anything is measured. */
    static String of(Judgement judgement) {
        double guard = judgement.rule().guard();
        return judgement.on().error()
                + " "
                + atMost(judgement)
                + ", by the rule '"
                + rule(judgement.rule())
                + "'"
                + (guard > 0
                        ? String.format(
                                Locale.ROOT,
                                " (%s of the expanded uncertainty)",
                                guard == 1 ? "the whole" : plain(guard) + " times")
                        : "");
    }

    private static String decided(Judgement judgement, Verdict.Decided decided) {
        return String.format(
                Locale.ROOT,
                "%s by the rule '%s': %s of %s; true error within +-%.2f %%: %s",
                decided.grade().words(),
                rule(judgement.rule()),
                judgement.on().error(),
                allowed(judgement, decided),
                judgement.tolerance().upper().orElseThrow().percent(),
                probability(decided.conformity()));
    }

    private static String rule(DecisionRule rule) {
        return switch (rule) {
            case DecisionRule.SimpleAcceptance() -> "simple acceptance";
            case DecisionRule.GuardBand(double _) -> "guard band";
            case DecisionRule.FourWay(double _) -> "four-way";
        };
    }

    /** As in "at most 2.00 %, less a guard band of 0.32 %". */
    private static String allowed(Judgement judgement, Verdict.Decided decided) {
        return atMost(judgement)
                + (decided.guardBand().value() > 0
                        ? String.format(
                                Locale.ROOT,
                                ", less a guard band of %.2f %%",
                                decided.guardBand().percent())
                        : "");
    }

    private static String atMost(Judgement judgement) {
        return String.format(
                Locale.ROOT,
                "at most %.2f %% (%s)",
                judgement.tolerance().upper().orElseThrow().percent(),
                judgement.tolerance().source());
    }

    /** A probability without the false certainty of a rounded 100 %. */
    private static String probability(double probability) {
        if (probability > 0.9995) {
            return "over 99.9 % probable";
        }
        return probability < 0.0005
                ? "under 0.1 % probable"
                : String.format(Locale.ROOT, "%.1f %% probable", probability * 100);
    }

    static void advice(PrintStream out, RunSetup setup, ConstantAdvice advice) {
        switch (advice) {
            case ConstantAdvice.Keep keep -> paragraph(out, keep.reason());
            case ConstantAdvice.Enter enter -> {
                line(
                        out,
                        "new constant",
                        plain(enter.constant().value())
                                + " "
                                + enter.constant().symbol()
                                + " (now "
                                + plain(setup.truck().constant().value())
                                + ")");
                line(
                        out,
                        "next catch",
                        "should measure "
                                + gallons(enter.nextMeasured())
                                + " and report "
                                + gallons(enter.nextReported())
                                + String.format(
                                        Locale.ROOT,
                                        ", a meter error of %s +- ",
                                        Numeral.signed(enter.nextMeterError().percent(), 2))
                                + expanded(enter.nextWithin())
                                + " %");
                paragraph(out, enter.note());
            }
        }
    }

    private static void amount(PrintStream out, String name, Estimate estimate) {
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %-10s %12.3f %12.3f %14s",
                        name,
                        estimate.volume().usGallons(),
                        estimate.volume().litres(),
                        expanded(estimate)));
    }

    private static String expanded(Ratio ratio) {
        return Numeral.uncertainty(ratio.percent(), 2);
    }

    private static String expanded(Estimate estimate) {
        return Numeral.uncertainty(estimate.expanded().usGallons(), 3);
    }

    static void line(PrintStream out, String name, String text) {
        if (name.length() > NAME_LENGTH) {
            out.println("  " + name);
            line(out, "", text);
            return;
        }
        wrapped(out, String.format(Locale.ROOT, "  %-18s", name), NAME_COLUMNS, text);
    }

    static void paragraph(PrintStream out, String text) {
        wrapped(out, " ", PARAGRAPH_COLUMNS, text);
    }

    /**
     * Text of a trace as a terminal may have it: what would move its cursor or turn its writing
     * round is a '?'.
     */
    static String printable(String text) {
        StringBuilder shown = new StringBuilder(text.length());
        text.codePoints()
                .map(c ->
                        Character.isISOControl(c) || Character.getType(c) == Character.FORMAT
                                ? '?'
                                : c)
                .forEach(shown::appendCodePoint);
        return shown.toString();
    }

    /** A text wrapped to the width of a narrow terminal, behind what begins its first row. */
    private static void wrapped(PrintStream out, String begin, int indent, String text) {
        wrapped(begin, indent, text, WIDTH).forEach(out::println);
    }

    /**
     * A text in rows of a width, broken between words.
     *
     * @param begin what begins the first row; a blank follows where it is not empty
     * @param indent how far the further rows begin in from the left, before such a blank
     */
    static List<String> wrapped(String begin, int indent, String text, int width) {
        List<String> rows = new ArrayList<>();
        StringBuilder row = new StringBuilder(begin);
        String between = begin.isEmpty() ? "" : " ";
        for (String word : printable(text).split(" ")) {
            if (row.length() > indent && row.length() + between.length() + word.length() > width) {
                rows.add(row.toString());
                row = new StringBuilder(" ".repeat(indent));
                between = begin.isEmpty() ? "" : " ";
            }
            row.append(between).append(word);
            between = " ";
        }
        rows.add(row.toString());
        return rows;
    }

    private static String flow(FlowRate flow) {
        return String.format(
                Locale.ROOT,
                "%.3f US gal/min (%.2f L/min)",
                flow.perMinute(VolumeUnit.US_GALLON),
                flow.perMinute(VolumeUnit.LITRE));
    }

    private static String gallons(Volume volume) {
        return String.format(Locale.ROOT, "%.3f US gal", volume.usGallons());
    }

    static String plain(double number) {
        return Numeral.of(BigDecimal.valueOf(number).stripTrailingZeros());
    }

    private static String seconds(long nanos) {
        return plain(nanos / 1e9) + " s";
    }
}
