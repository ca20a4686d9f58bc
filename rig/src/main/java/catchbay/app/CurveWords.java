package catchbay.app;

import catchbay.metrology.ConstantFit;
import catchbay.metrology.CutOff;
import catchbay.metrology.Diagnosis;
import catchbay.metrology.Finding;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.TruckCurve;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;
import catchbay.record.CurveText;

import java.io.PrintStream;
import java.util.Comparator;
import java.util.Locale;
import java.util.function.Function;

/** A truck's curve and diagnosis in words for a person at a terminal. */
final class CurveWords {

    /** Longest name of a kind of work in the table. */
    private static final int WORK_COLUMNS = 33;

    private CurveWords() {}

    static void print(PrintStream out, CurveText.Told told) {
        out.println(
                Words.printable(
                        "Meter of truck "
                                + told.asset()
                                + " over its flow range, "
                                + told.catches().size()
                                + " catches"));
        TruckConstant constant = told.constant();
        Words.line(out, "constant now", constant.written(constant.value()));
        Words.line(out, "origin", told.origin());
        told.curve().ifPresent(curve -> curve(out, told, curve));
        told.fitted().ifPresent(fit -> fit(out, told, fit));
        out.println();
        diagnosis(out, told);
        if (told.origin().equals("simulated")) {
            out.println();
            Words.paragraph(
                    out,
                    "Simulated: at least one instrument of these runs was a stand-in. Nothing here"
                            + " speaks of a real truck.");
        }
    }

    private static void curve(PrintStream out, CurveText.Told told, TruckCurve curve) {
        out.println();
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %10s %7s %14s %12s %10s %10s",
                        "US gal/min",
                        "catches",
                        "right constant",
                        "+- (95 %)",
                        "error %",
                        "best %"));
        curve.stations().forEach(station -> out.println(row(told, curve, station)));
        out.println();
        TruckCurve.Linearity linearity = curve.linearity();
        Words.line(
                out,
                "linearity",
                String.format(
                        Locale.ROOT,
                        "+-%.2f %%, good to %s %%: (max - min) / (max + min)",
                        linearity.halfWidth().percent(),
                        bound(linearity.expanded())));
        if (curve.scatter().degreesOfFreedom() > 0) {
            Words.line(
                    out,
                    "scatter",
                    String.format(
                            Locale.ROOT,
                            "%.2f %% of repeats at one flow (degrees of freedom: %d)",
                            curve.scatter().relativeObserved() * 100,
                            curve.scatter().degreesOfFreedom()));
        }
        CutOff cutOff = told.cutOff();
        Words.line(
                out,
                "pulses",
                "down to "
                        + gallons(cutOff.countedFrom().orElseThrow())
                        + " US gal/min"
                        + cutOff.silentUpTo()
                                .map(flow -> ", none up to " + gallons(flow) + " US gal/min")
                                .orElse("; where they stop was not reached"));
    }

    private static String row(CurveText.Told told, TruckCurve curve, TruckCurve.Station station) {
        TruckConstant constant = told.constant();
        TruckCurve.Reading reading = curve.at(station);
        double right = reading.number();
        return String.format(
                        Locale.ROOT,
                        "  %10s %7d %14s %12s %10s %10s",
                        gallons(station.flow()),
                        station.catches(),
                        number(constant, right),
                        number(constant, right * reading.expanded().value()),
                        percent(constant.errorWith(constant.value(), right)),
                        told.fitted()
                                .map(fit -> constant.errorWith(fit.best().value(), right))
                                .map(CurveWords::percent)
                                .orElse(""))
                .stripTrailing();
    }

    private static void fit(PrintStream out, CurveText.Told told, ConstantFit.Fitted fit) {
        boolean withheld = told.diagnosis().offer() instanceof Diagnosis.Offer.Withheld;
        Words.line(
                out,
                withheld ? "would fit best" : "best constant",
                fit.best().written(fit.best().value())
                        + ", by "
                        + fit.fit().key().replace('-', ' ')
                        + (told.mix().duties().isEmpty()
                                ? ", every tested flow alike (no mix of work is set)"
                                : ", over the mix below")
                        + (withheld ? unlessShut(told) : ""));
        fit.table()
                .ifPresent(table ->
                        Words.line(
                                out,
                                withheld ? "so would a table" : "two-point table",
                                table(fit, table)));
        out.println();
        out.println(
                String.format(
                        Locale.ROOT,
                        "  %-" + WORK_COLUMNS + "s %8s %6s %8s %8s %8s",
                        "work",
                        "gal/min",
                        "weight",
                        "now %",
                        "best %",
                        "table %"));
        for (ConstantFit.Leftover leftover : fit.leftovers()) {
            String label = Words.printable(leftover.duty().label());
            if (label.length() > WORK_COLUMNS) {
                label = label.substring(0, WORK_COLUMNS - 3) + "...";
            }
            String begin =
                    String.format(
                            Locale.ROOT,
                            "  %-" + WORK_COLUMNS + "s %8s %6s",
                            label,
                            gallons(leftover.duty().flow()),
                            String.format(Locale.ROOT, "%.3g", leftover.duty().weight()));
            out.println(
                    begin
                            + leftover.errors()
                                    .map(CurveWords::errors)
                                    .orElse(" outside the tested flows"));
        }
    }

    /** A number that is not offered is never shown without why it is none to enter. */
    private static String unlessShut(CurveText.Told told) {
        return told.outletsShutBy().isEmpty()
                ? ", were every outlet shut; for information, not to be entered"
                : "; for information, not to be entered, see below";
    }

    private static String table(ConstantFit.Fitted fit, ConstantFit.Table table) {
        String single = percent(worst(fit, errors -> errors.best().magnitude()));
        String left = percent(worst(fit, errors -> errors.table().orElseThrow().magnitude()));
        return single.equals(left)
                ? "leaves no less than the one constant"
                : fit.best().written(table.lowNumber())
                        + " at "
                        + gallons(table.lowFlow())
                        + " and "
                        + fit.best().written(table.highNumber())
                        + " at "
                        + gallons(table.highFlow())
                        + " US gal/min, where the controller takes one";
    }

    private static String errors(ConstantFit.Errors errors) {
        return String.format(
                        Locale.ROOT,
                        " %8s %8s %8s",
                        percent(errors.now()),
                        percent(errors.best()),
                        errors.table().map(CurveWords::percent).orElse(""))
                .stripTrailing();
    }

    private static void diagnosis(PrintStream out, CurveText.Told told) {
        if (told.diagnosis().findings().isEmpty()) {
            Words.paragraph(out, "Nothing stands out beyond its uncertainty and its limit.");
        }
        for (Finding finding : told.diagnosis().findings()) {
            Words.paragraph(out, finding.sentence());
        }
        switch (told.diagnosis().offer()) {
            case Diagnosis.Offer.Keep(String reason) -> Words.paragraph(out, reason);
            case Diagnosis.Offer.Withheld(String reason) -> Words.paragraph(out, reason);
            case Diagnosis.Offer.Enter enter -> {
                TruckConstant best = enter.fitted().best();
                out.println();
                Words.line(
                        out,
                        "new constant",
                        best.written(best.value())
                                + " (now "
                                + told.constant().written(told.constant().value())
                                + "; outlets seen shut by "
                                + told.outletsShutBy().orElseThrow()
                                + ")");
                Words.paragraph(
                        out,
                        String.format(
                                        Locale.ROOT,
                                        "It leaves %.2f %% where it leaves most.",
                                        worst(enter.fitted(), errors -> errors.best().magnitude())
                                                .percent())
                                + " Enter it, then prove it with a catch at"
                                + " a low and a high flow.");
            }
        }
        told.notes().forEach(note -> Words.paragraph(out, note));
    }

    /** The largest that is left at any of the tested work. */
    private static Ratio worst(
            ConstantFit.Fitted fit, Function<ConstantFit.Errors, Ratio> magnitude) {
        return fit.leftovers().stream()
                .flatMap(leftover -> leftover.errors().stream())
                .map(magnitude)
                .max(Comparator.comparingDouble(Ratio::value))
                .orElseThrow();
    }

    private static String bound(Ratio expanded) {
        return Numeral.uncertainty(expanded.percent(), 2);
    }

    private static String gallons(FlowRate flow) {
        return String.format(Locale.ROOT, "%.3f", flow.perMinute(VolumeUnit.US_GALLON));
    }

    private static String percent(Ratio ratio) {
        return Numeral.signed(ratio.percent(), 2);
    }

    /** A constant to a tenth of what can be entered. */
    private static String number(TruckConstant constant, double number) {
        return String.format(Locale.ROOT, "%." + (constant.decimals() + 1) + "f", number);
    }
}
