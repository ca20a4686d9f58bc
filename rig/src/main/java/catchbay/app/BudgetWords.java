package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.MonteCarlo;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Doubts;

import java.io.PrintStream;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A budget as a table for a person at a terminal. */
final class BudgetWords {

    /** How an output is shown: the factor from its own unit, and the unit. */
    private record Shown(double factor, String unit) {
        String of(double value) {
            return digits(value * factor) + " " + unit;
        }
    }

    private BudgetWords() {}

    static void print(
            PrintStream out,
            List<Measured> runs,
            Budget.Output output,
            Optional<MonteCarlo> drawn) {
        Measured run = runs.getFirst();
        Shown shown = shown(run, output.name());
        out.println(
                "Budget of "
                        + output.name()
                        + (runs.size() == 1 ? "" : ", mean of " + runs.size() + " catches"));
        Words.line(
                out,
                runs.size() == 1 ? "run" : "runs",
                Words.printable(String.join(", ", runs.stream().map(Measured::name).toList()))
                        + ", truck "
                        + run.setup().truck().asset()
                        + ", origin "
                        + run.origin());
        NamedCatches.decided(runs).forEach(note -> Words.paragraph(out, note));
        out.println();
        if (output.standard() == 0) {
            Words.line(out, output.name(), shown.of(output.value()) + ", taken as exact");
            return;
        }
        table(out, output, shown);
        assumed(run.setup().doubts(), output)
                .ifPresent(sections ->
                        Words.paragraph(
                                out,
                                "Not entered but assumed (common practice, no source): "
                                        + sections
                                        + "."));
        out.println();
        Words.line(out, output.name(), shown.of(output.value()));
        Words.line(out, "standard", shown.of(output.standard()));
        Words.line(
                out,
                "expanded, 95 %",
                shown.of(output.expanded())
                        + String.format(
                                Locale.ROOT,
                                " (k = %.3f, effective degrees of freedom %s)",
                                output.coverageFactor(),
                                degrees(output.degreesOfFreedom())));
        if (output.propagated()) {
            Words.paragraph(
                    out,
                    "Evenly spread terms lead: k is that of their own distributions, not of"
                            + " Student's t.");
        }
        drawn.map(all -> all.result(output.name()))
                .ifPresent(result ->
                        Words.line(
                                out,
                                "by drawing",
                                "standard "
                                        + shown.of(result.standard())
                                        + ", 95 % from "
                                        + shown.of(result.symmetric().low())
                                        + " to "
                                        + shown.of(result.symmetric().high())));
    }

    private static void table(PrintStream out, Budget.Output output, Shown shown) {
        out.println(String.format(Locale.ROOT, "   %6s   %-18s %s", "share", shown.unit, "from"));
        output.rows().stream()
                .filter(row -> row.contribution() > 0)
                .sorted(Comparator.comparingDouble(Budget.Row::share).reversed())
                .forEach(row -> row(out, row, shown));
        if (output.rows().stream()
                .anyMatch(row -> row.contribution() > 0 && row.scope() != Scope.RUN)) {
            Words.paragraph(
                    out,
                    "* common to all catches of a day or of this bay: repeats do not lessen it.");
        }
    }

    /**
     * Which parts of what is known of a bay's errors are nobody's own figures, of those that play a
     * part in this budget.
     */
    private static Optional<String> assumed(Doubts doubts, Budget.Output output) {
        Doubts usual = Doubts.USUAL;
        List<String> sections = new ArrayList<>();
        if (doubts.reference().equals(usual.reference())) {
            add(sections, output, "drift of the reference", "reference meter, drift");
            add(sections, output, "viscosity at the reference", "reference meter, liquid");
        }
        if (doubts.diverter().equals(usual.diverter())) {
            add(sections, output, "timing of the diverter", "diverter, timing");
        }
        if (doubts.temperatures().equals(usual.temperatures())) {
            add(sections, output, "temperatures", "temperature, ");
        }
        if (doubts.line().equals(usual.line())) {
            add(sections, output, "the line", "line to the bay");
        }
        if (doubts.speed().equals(usual.speed())) {
            add(sections, output, "the set speed", "asked, set speed");
        }
        if (doubts.scatter().equals(usual.scatter())) {
            add(sections, output, "scatter", "scatter from ");
        }
        return sections.isEmpty() ? Optional.empty() : Optional.of(String.join(", ", sections));
    }

    private static void add(
            List<String> sections, Budget.Output output, String section, String terms) {
        boolean plays =
                output.rows().stream()
                        .anyMatch(row -> row.contribution() > 0 && row.name().startsWith(terms));
        if (plays) {
            sections.add(section);
        }
    }

    private static void row(PrintStream out, Budget.Row row, Shown shown) {
        String degrees =
                Double.isInfinite(row.degreesOfFreedom())
                        ? ""
                        : String.format(
                                Locale.ROOT, ", %.0f deg. of freedom", row.degreesOfFreedom());
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %7s   %-18s %s%s%s",
                        row.share() < 0.0005
                                ? "<0.1 %"
                                : String.format(Locale.ROOT, "%.1f %%", row.share() * 100),
                        digits(row.contribution() * shown.factor),
                        row.name(),
                        row.scope() == Scope.RUN ? "" : " *",
                        degrees));
    }

    private static Shown shown(Measured run, String output) {
        return switch (output) {
            case Comparison.METER_ERROR,
                    Comparison.CONTROL_ERROR,
                    Comparison.APPLICATION_ERROR,
                    Comparison.BETWEEN_INSTRUMENTS ->
                    new Shown(100, "%");
            case Comparison.CONSTANT -> new Shown(1, run.setup().truck().constant().symbol());
            default -> new Shown(1 / VolumeUnit.US_GALLON.litres(), "US gal");
        };
    }

    private static String degrees(double degrees) {
        return degrees > 9999
                ? "over 9999"
                : String.format(Locale.ROOT, "%.0f", Math.floor(degrees));
    }

    private static String digits(double value) {
        return String.format(Locale.ROOT, Math.abs(value) < 100 ? "%.4f" : "%.2f", value);
    }
}
