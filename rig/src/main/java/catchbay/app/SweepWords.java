package catchbay.app;

import catchbay.metrology.Verdict;
import catchbay.plan.PlanForecast;
import catchbay.plan.SweepAdvice;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.quantity.VolumeUnit;
import catchbay.record.SweepText;
import catchbay.run.RunSetup;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.io.PrintStream;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** A sweep in words. */
final class SweepWords {

    private static final String ROW = "  %-12s %8s %8s %8s %9s %8s  %s";

    private static final String LISTED = "%-28s %-10s %10s %7s %-14s %12s  %s";

    private SweepWords() {}

    /** What is ahead, before anything moves. */
    static void before(PrintStream out, PlanForecast forecast) {
        out.println(
                String.format(
                        Locale.ROOT,
                        "%d catches are ahead, about %.0f min; %.0f US gal will be drawn.",
                        forecast.catches(),
                        forecast.nanos() / 60e9,
                        forecast.drawn().usGallons()));
        out.println(
                SweepSetup.handless(forecast.setup())
                        ? String.format(
                                Locale.ROOT,
                                "No hand is needed once it has begun. Every %.0f min somebody shows"
                                        + " to be there, or the bay goes to its safe state.",
                                forecast.plan().alone().presenceNanos() / 60e9)
                        : "A hand is needed at every catch: the flow, the display or the salt is a"
                                + " person's.");
    }

    /**
     * The sweeps of a folder, newest first, at most so many. Of one that was gone on with it is the
     * newest file that tells.
     */
    static void list(
            PrintStream out, boolean json, JournalFolder sweeps, Optional<String> truck, int most)
            throws IOException {
        Set<String> goneOnWith = new HashSet<>();
        int listed = 0;
        for (String file : sweeps.names()) {
            List<String> lines = sweeps.lines(file);
            Optional<SweepText.Kept> kept =
                    SweepText.kept(lines)
                            .filter(one -> truck.map(one.asset()::equals).orElse(true));
            kept.flatMap(_ -> SweepText.continues(lines.getFirst())).ifPresent(goneOnWith::add);
            if (kept.isEmpty() || goneOnWith.contains(file) || listed == most) {
                continue;
            }
            listed++;
            Optional<SweepText.Closed> closed = SweepText.closed(lines);
            if (json) {
                closed.ifPresent(_ -> out.println(lines.getLast()));
            } else {
                if (listed == 1) {
                    out.println(
                            listed(
                                    "sweep", "truck", "day", "catches", "closing", "entered",
                                    "origin"));
                }
                out.println(listed(kept.get(), closed));
            }
        }
        if (listed == 0 && !json) {
            out.println("No sweep is kept here.");
        }
    }

    private static String listed(SweepText.Kept kept, Optional<SweepText.Closed> closed) {
        return listed(
                kept.sweep(),
                Words.printable(kept.asset()),
                closed.map(SweepText.Closed::day).orElse("-"),
                Long.toString(kept.catches()),
                closed.map(SweepText.Closed::closing).orElse("interrupted"),
                closed.flatMap(SweepText.Closed::entered)
                        .map(constant -> String.format(Locale.ROOT, "%.6g", constant))
                        .orElse("-"),
                closed.map(SweepText.Closed::origin).orElse("-"));
    }

    private static String listed(Object... row) {
        return String.format(Locale.ROOT, LISTED, row);
    }

    /** The result page. */
    static void print(PrintStream out, SweepResult result) {
        RunSetup setup = result.sweep().forecast().setup();
        out.println(
                Words.printable("Sweep " + result.name() + " of truck " + setup.truck().asset()));
        if (result.simulated()) {
            Words.simulated(out);
        }
        Words.line(out, "checklist", result.sweep().confirmedBy().orElse("not confirmed"));
        out.println();
        out.println(
                String.format(
                                Locale.ROOT,
                                ROW,
                                "",
                                "gal/min",
                                "mph",
                                "catches",
                                "error %",
                                "+- %",
                                "verdict")
                        .stripTrailing());
        result.legs().forEach(leg -> leg(out, leg));
        out.println();
        advice(out, result);
        Words.line(
                out, "closing", result.closing().name().toLowerCase(Locale.ROOT).replace('_', ' '));
        result.reasons().forEach(reason -> Words.paragraph(out, reason));
        Words.paragraph(out, result.end());
        if (result.closing() == SweepResult.Closing.UNFINISHED) {
            Words.paragraph(out, "Go on with it: catchbay sweep --resume " + result.name());
        }
        Words.paragraph(
                out,
                "The bay's stops do not stop the truck's engine, hydraulics, conveyor or spinner.");
    }

    private static void leg(PrintStream out, SweepResult.LegResult leg) {
        boolean caught = !leg.progress().runs().isEmpty();
        out.println(
                String.format(
                                Locale.ROOT,
                                ROW,
                                leg.leg().verifying()
                                        ? "verification"
                                        : "point " + leg.leg().number(),
                                String.format(
                                        Locale.ROOT,
                                        "%.2f",
                                        leg.leg().point().flow().perMinute(VolumeUnit.US_GALLON)),
                                String.format(
                                        Locale.ROOT,
                                        "%.1f",
                                        leg.leg().point().speed().milesPerHour()),
                                caught ? leg.progress().series().counted().size() : "-",
                                leg.meterError()
                                        .map(e -> String.format(Locale.ROOT, "%+.3f", e.percent()))
                                        .orElse("-"),
                                leg.within()
                                        .map(u -> String.format(Locale.ROOT, "%.3f", u.percent()))
                                        .orElse("-"),
                                leg.verdict().map(SweepWords::verdict).orElse("-"))
                        .stripTrailing());
        leg.progress().skipped().ifPresent(why -> Words.paragraph(out, "Left: " + why));
        leg.progress()
                .outliers()
                .forEach(run ->
                        Words.paragraph(
                                out,
                                "Run "
                                        + run
                                        + " stands out from the others at this point, and stays"
                                        + " in."));
    }

    private static String verdict(Verdict verdict) {
        return switch (verdict) {
            case Verdict.Decided decided -> decided.grade().words();
            case Verdict.NoRoom _ -> "no room";
        };
    }

    private static void advice(PrintStream out, SweepResult result) {
        RunSetup setup = result.sweep().forecast().setup();
        Words.line(
                out,
                "constant",
                setup.truck().constant().written(setup.truck().constant().value()) + " as found");
        result.sweep()
                .entered()
                .ifPresent(entered -> Words.line(out, "entered", entered.written(entered.value())));
        result.advice()
                .ifPresent(advice -> {
                    switch (advice) {
                        case SweepAdvice.Keep(String reason) -> Words.paragraph(out, reason);
                        case SweepAdvice.Enter(var constant, String note) -> {
                            Words.line(out, "advised", constant.written(constant.value()));
                            Words.paragraph(out, note);
                        }
                    }
                });
        for (SweepResult.LegResult leg : result.legs()) {
            leg.proof()
                    .ifPresent(proof ->
                            Words.paragraph(
                                    out,
                                    String.format(
                                            Locale.ROOT,
                                            "At %.2f US gal/min the %s was to be %+.2f %% with the"
                                                    + " new constant, and is %+.2f %% (within"
                                                    + " %.2f %%).",
                                            leg.leg()
                                                    .point()
                                                    .flow()
                                                    .perMinute(VolumeUnit.US_GALLON),
                                            proof.what(),
                                            proof.expected().percent(),
                                            proof.found().percent(),
                                            proof.within().percent())));
        }
    }
}
