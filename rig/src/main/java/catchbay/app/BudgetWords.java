package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.MonteCarlo;
import catchbay.quantity.VolumeUnit;

import java.io.PrintStream;
import java.util.Comparator;
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
            PrintStream out, Measured run, Budget.Output output, Optional<MonteCarlo> drawn) {
        Shown shown = shown(run, output.name());
        out.println("Budget of " + output.name());
        Words.line(
                out,
                "run",
                Words.printable(run.name())
                        + ", truck "
                        + run.setup().truck().asset()
                        + ", origin "
                        + run.origin());
        out.println();
        out.println(String.format(Locale.ROOT, "   %6s   %-18s %s", "share", shown.unit, "from"));
        output.rows().stream()
                .filter(row -> row.contribution() > 0)
                .sorted(Comparator.comparingDouble(Budget.Row::share).reversed())
                .forEach(row -> row(out, row, shown));
        Words.paragraph(
                out, "* common to all catches of a day or of this bay: repeats do not lessen it.");
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

    private static void row(PrintStream out, Budget.Row row, Shown shown) {
        String degrees =
                Double.isInfinite(row.degreesOfFreedom())
                        ? ""
                        : String.format(
                                Locale.ROOT, ", from %.0f readings", row.degreesOfFreedom() + 1);
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
            case Comparison.METER_ERROR, Comparison.CONTROL_ERROR, Comparison.APPLICATION_ERROR ->
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
