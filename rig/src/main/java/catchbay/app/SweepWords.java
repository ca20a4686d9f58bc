package catchbay.app;

import catchbay.plan.Leg;
import catchbay.plan.PlanForecast;
import catchbay.plan.PointForecast;
import catchbay.plan.Step;
import catchbay.plan.Sweep;
import catchbay.plan.SweepAdvice;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;
import catchbay.record.SweepText;
import catchbay.record.WithoutResult;
import catchbay.run.Judgement;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import java.io.PrintStream;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** A sweep in words. */
final class SweepWords {

    private static final String ROW = "  %-12s %7s %7s %6s %7s %8s %7s  %s";

    /** What {@link #ROW} takes, but for the longest of verdicts. */
    private static final int ROW_COLUMNS = 78;

    private static final String LISTED = "%-28s %-10s %10s %7s %-15s %12s  %s";

    private static final String NOT_CURED =
            "No constant cures what a truck does not follow: look at its pump and valve, at a limit"
                    + " or another rate set in its controller, at the speed that it shows, and at"
                    + " the bay's coupler and strainer. 'catchbay hunt high' finds how far it"
                    + " follows.";

    private SweepWords() {}

    /** What is ahead, before anything moves. */
    static void before(PrintStream out, Sweep sweep) {
        PlanForecast forecast = sweep.forecast();
        Sweep.Left left = sweep.left();
        out.println(
                String.format(
                        Locale.ROOT,
                        "%d %s ahead, about %.0f min from the checklist on; %.0f US gal"
                                + " will be drawn.",
                        left.catches(),
                        left.catches() == 1 ? "catch is" : "catches are",
                        left.nanos() / 60e9,
                        left.drawn().usGallons()));
        if (!SweepSetup.handless(forecast.setup())) {
            out.println(
                    "A hand is needed at every catch: the flow, the display or the salt is a"
                            + " person's.");
            return;
        }
        List<String> between = handsBetween(sweep);
        out.println(
                (between.isEmpty()
                                ? "No hand is needed once it has begun."
                                : "No hand is needed while a catch goes on; between catches "
                                        + String.join(", and ", between)
                                        + ".")
                        + " Every "
                        + interval(forecast.plan().alone().presenceNanos())
                        + " somebody shows to be there, or the bay goes to its safe state.");
    }

    /** What a person does between catches. */
    private static List<String> handsBetween(Sweep sweep) {
        PlanForecast forecast = sweep.forecast();
        List<String> hands = new ArrayList<>();
        if (forecast.emptiedByHand()) {
            hands.add("the tank is emptied by hand");
        }
        if (forecast.steps().stream().anyMatch(Step.Refilled.class::isInstance)) {
            hands.add("the truck is filled up");
        }
        if (forecast.plan().namesOutlets()) {
            hands.add("outlets are opened and shut");
        }
        if (SweepSetup.setByHand(forecast.setup())) {
            hands.add("the controller is set to the speed of each point");
        }
        if (sweep.entered().isEmpty() && !forecast.verification().isEmpty()) {
            hands.add("a new constant is entered where one is found");
        }
        return hands;
    }

    /**
     * The sweeps of a folder, newest first, at most so many, and then the files that tell of none;
     * answers the exit code.
     *
     * @param zone where the day is on which one began that was interrupted
     */
    static int list(
            PrintStream out,
            boolean json,
            KnownSweeps sweeps,
            Optional<String> truck,
            int most,
            ZoneId zone) {
        List<SweepText.Kept> listed =
                sweeps.newestFirst().stream()
                        .map(KnownSweeps.Found::kept)
                        .filter(kept -> truck.map(kept.asset()::equals).orElse(true))
                        .limit(most)
                        .toList();
        LeftOut leftOut = new LeftOut();
        if (json) {
            for (SweepText.Kept kept : listed) {
                kept.closed()
                        .ifPresentOrElse(
                                closed -> out.println(closed.line()),
                                () ->
                                        leftOut.add(
                                                kept.sweep(),
                                                LeftOut.inWords(new WithoutResult.CutOff())));
            }
        } else if (!listed.isEmpty()) {
            out.println(listed("sweep", "truck", "day", "catches", "closing", "entered", "origin"));
            listed.forEach(kept -> out.println(listed(kept, zone)));
        } else if (sweeps.unread().isEmpty()) {
            out.println(
                    truck.map(asset -> "No sweep of truck " + asset + " is kept here.")
                            .map(Words::printable)
                            .orElse("No sweep is kept here."));
        }
        String damaged = LeftOut.inWords(new WithoutResult.Damaged());
        for (String file : sweeps.unread()) {
            if (json) {
                leftOut.add(file, damaged);
            } else {
                out.println(LeftOut.row(file, damaged));
            }
        }
        leftOut.print(out);
        return sweeps.unread().isEmpty() ? Exit.DONE : Exit.FAILED;
    }

    private static String listed(SweepText.Kept kept, ZoneId zone) {
        return listed(
                kept.sweep(),
                Words.printable(kept.asset()),
                kept.closed()
                        .map(SweepText.Closed::day)
                        .or(() ->
                                kept.begun()
                                        .map(begun -> LocalDate.ofInstant(begun.wall(), zone))
                                        .map(LocalDate::toString))
                        .orElse("-"),
                Integer.toString(kept.measured().size()),
                kept.closed().map(SweepText.Closed::closing).orElse("open or cut off"),
                kept.entered().map(entered -> Words.plain(entered.constant())).orElse("-"),
                kept.begun().map(begun -> begun.origin().key()).orElse("-"));
    }

    private static String listed(Object... row) {
        return String.format(Locale.ROOT, LISTED, row);
    }

    /** An interval in whole minutes, or to the second where it is none. */
    static String interval(long nanos) {
        return nanos % 60_000_000_000L == 0
                ? nanos / 60_000_000_000L + " min"
                : Math.floorDiv(nanos, 1_000_000_000L) + " s";
    }

    /** What is left of a time, as in {@code about 5 min left}. */
    static String left(long nanos) {
        return nanos < 60_000_000_000L
                ? "less than a minute left"
                : String.format(Locale.ROOT, "about %.0f min left", nanos / 60e9);
    }

    /** The result page. */
    static void print(PrintStream out, SweepResult result) {
        print(out, result, Words.columns());
    }

    /**
     * @param columns how wide the terminal is; where the table does not fit, each of its points has
     *     rows of its own
     */
    static void print(PrintStream out, SweepResult result, int columns) {
        RunSetup setup = result.sweep().forecast().setup();
        LocalDate last = result.days().getLast();
        Words.wrapped(
                        "",
                        2,
                        "Sweep "
                                + result.name()
                                + " of truck "
                                + setup.truck().asset()
                                + ", at "
                                + setup.bay()
                                + ", "
                                + result.days().getFirst()
                                + (result.days().size() > 1 ? " to " + last : ""),
                        columns)
                .forEach(out::println);
        if (result.simulated()) {
            Words.simulated(out);
        }
        SweepGrounds.print(out, result);
        out.println();
        Judgement.On judged = setup.judgement().on();
        Words.paragraph(
                out,
                "Flows in US gal/min; the error is the "
                        + judged.error()
                        + ", by which the truck is judged."
                        + (judged == Judgement.On.METER
                                ? ""
                                : " The meter error, on which its constant rests, stands below"
                                        + " each point."));
        out.println();
        boolean table = columns >= ROW_COLUMNS;
        if (table) {
            out.println(
                    String.format(
                            Locale.ROOT,
                            ROW,
                            "",
                            "asked",
                            "given",
                            "mph",
                            "catches",
                            "error %",
                            "+- %",
                            "verdict"));
        }
        boolean namesOutlets = result.sweep().forecast().plan().namesOutlets();
        for (SweepResult.LegResult leg : result.legs()) {
            String standing = standing(result, leg);
            if (table) {
                out.println(row(leg, judged, standing));
            } else {
                listed(out, leg, judged, standing);
            }
            below(out, leg, judged, namesOutlets);
        }
        out.println();
        hysteresis(out, result.hysteresis());
        advice(out, result);
        if (result.legs().stream().anyMatch(leg -> leg.missed().isPresent())) {
            Words.paragraph(out, NOT_CURED);
        }
        state(out, result);
        Words.line(
                out, "closing", result.closing().name().toLowerCase(Locale.ROOT).replace('_', ' '));
        result.reasons().forEach(reason -> Words.paragraph(out, reason));
        if (result.legs().stream().anyMatch(leg -> result.unneeded(leg.leg()))) {
            Words.paragraph(
                    out,
                    "There is no new constant, so that no verification is needed: every point of"
                            + " the plan is done.");
        }
        if (!said(result, result.end())) {
            Words.paragraph(out, result.end());
        }
        boolean caught =
                result.sweep().events().stream().anyMatch(SweepEvent.Caught.class::isInstance);
        if (caught && result.resumable()) {
            Words.paragraph(
                    out,
                    "Go on with it: catchbay sweep --resume "
                            + result.name()
                            + ", with the settings and data folder that it was begun with.");
        }
        Words.paragraph(out, Cautions.OF_THE_BAYS_STOPS);
    }

    /** Whether the page has told that already where it stands better. */
    private static boolean said(SweepResult result, String end) {
        return result.advice().equals(Optional.of(new SweepAdvice.Keep(end)))
                || result.reasons().contains(end)
                || result.legs().stream()
                        .flatMap(leg -> leg.progress().runs().stream())
                        .anyMatch(run ->
                                run.result().isEmpty() && run.outcome().reason().equals(end));
    }

    /** As it came in and as it leaves: that it was corrected must not hide that it had to be. */
    private static void state(PrintStream out, SweepResult result) {
        out.println();
        SweepGrounds.standing(result, false)
                .ifPresent(standing -> Words.line(out, "as found", standing));
        if (result.sweep().entered().isPresent()) {
            SweepGrounds.standing(result, true)
                    .ifPresent(standing -> Words.line(out, "as left", standing));
        }
        if (result.corrected()) {
            Words.paragraph(
                    out, "This truck failed as found; it was corrected, and passes as left.");
        }
    }

    /** What stands below a point's figures. */
    private static void below(
            PrintStream out, SweepResult.LegResult leg, Judgement.On judged, boolean namesOutlets) {
        PointForecast point = leg.leg().point();
        if (judged != Judgement.On.METER) {
            leg.meterError()
                    .ifPresent(error ->
                            Words.paragraph(
                                    out,
                                    "Meter error "
                                            + error(error)
                                            + " +- "
                                            + within(leg.within().orElseThrow())
                                            + " %."));
        }
        if (namesOutlets) {
            Words.paragraph(
                    out, "Through " + point.point().outlet().orElse("all its outlets") + ".");
        }
        withoutResult(out, leg);
        leg.missed().ifPresent(missed -> Words.paragraph(out, missed));
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

    private static void hysteresis(PrintStream out, List<SweepResult.Hysteresis> points) {
        String name = "down less up";
        for (SweepResult.Hysteresis point : points) {
            Words.line(
                    out,
                    name,
                    point.up().words()
                            + ": "
                            + Numeral.signed(point.downLessUp().percent(), 3)
                            + " %"
                            + point.within()
                                    .map(most ->
                                            " +- " + Numeral.uncertainty(most.percent(), 3) + " %")
                                    .orElse(", scatter not known"));
            name = "";
        }
        if (points.stream().anyMatch(SweepResult.Hysteresis::stands)) {
            Words.paragraph(
                    out,
                    "On the way down the meter erred otherwise than on the way up, by more than"
                            + " its catches scatter: either the meter has hysteresis, or something"
                            + " changed meanwhile (warmer oil or liquid, air, a filter that"
                            + " clogs). One constant cures neither.");
        }
        if (!points.isEmpty()) {
            out.println();
        }
    }

    private static String flow(FlowRate flow) {
        return String.format(Locale.ROOT, "%.2f", flow.perMinute(VolumeUnit.US_GALLON));
    }

    private static String row(SweepResult.LegResult leg, Judgement.On judged, String standing) {
        boolean caught = !leg.progress().runs().isEmpty();
        return String.format(
                Locale.ROOT,
                ROW,
                name(leg.leg()),
                flow(leg.leg().point().flow()),
                leg.given().map(given -> flow(given.measured())).orElse("-"),
                speed(leg),
                caught ? leg.progress().series().counted().size() : "-",
                leg.error(judged).map(SweepWords::error).orElse("-"),
                leg.within(judged).map(SweepWords::within).orElse("-"),
                standing);
    }

    private static void listed(
            PrintStream out, SweepResult.LegResult leg, Judgement.On judged, String standing) {
        boolean caught = !leg.progress().runs().isEmpty();
        int counted = leg.progress().series().counted().size();
        out.println("  " + name(leg.leg()) + ": " + standing);
        out.println(
                "    asked "
                        + flow(leg.leg().point().flow())
                        + leg.given().map(given -> ", given " + flow(given.measured())).orElse(""));
        if (caught) {
            out.println(
                    "    "
                            + speed(leg)
                            + " mph, "
                            + counted
                            + (counted == 1 ? " catch" : " catches"));
        }
        leg.error(judged)
                .ifPresent(error ->
                        out.println(
                                "    error "
                                        + error(error)
                                        + " +- "
                                        + within(leg.within(judged).orElseThrow())
                                        + " %"));
    }

    private static String standing(SweepResult result, SweepResult.LegResult leg) {
        boolean caught = !leg.progress().runs().isEmpty();
        return leg.standing()
                .orElse(
                        caught
                                ? "no verdict"
                                : result.unneeded(leg.leg()) ? "not needed" : "not caught");
    }

    private static String name(Leg leg) {
        return (leg.verifying() ? "verifying " : "point ") + leg.number();
    }

    private static String speed(SweepResult.LegResult leg) {
        return String.format(Locale.ROOT, "%.1f", leg.leg().point().speed().milesPerHour());
    }

    private static String error(Ratio error) {
        return Numeral.signed(error.percent(), 3);
    }

    private static String within(Ratio expanded) {
        return String.format(Locale.ROOT, "%.3f", expanded.percent());
    }

    /**
     * Catches that do not count, alike ones together; of what stopped the bay with its reason,
     * unless the point was left for it and says so below.
     */
    private static void withoutResult(PrintStream out, SweepResult.LegResult leg) {
        Map<String, List<String>> runs = new LinkedHashMap<>();
        Map<String, String> reasons = new LinkedHashMap<>();
        for (Series.Run run : leg.progress().runs()) {
            if (run.result().isEmpty()) {
                boolean isVoid = run.outcome() instanceof Outcome.Void v && !Sweep.halts(v);
                boolean byBay = run.outcome() instanceof Outcome.Void;
                String ended =
                        (isVoid ? "Void" : byBay ? "Stopped" : "No result")
                                + " ("
                                + Words.of(run.outcome())
                                + ")";
                runs.computeIfAbsent(ended, _ -> new ArrayList<>()).add(run.name());
                String reason = run.outcome().reason();
                boolean below =
                        leg.progress().skipped().filter(w -> w.contains(reason)).isPresent();
                reasons.put(ended, isVoid || below ? "" : " " + reason);
            }
        }
        runs.forEach((ended, names) ->
                Words.paragraph(
                        out,
                        ended
                                + (names.size() == 1 ? ": run " : ": runs ")
                                + String.join(", ", names)
                                + "."
                                + reasons.get(ended)));
    }

    private static void advice(PrintStream out, SweepResult result) {
        RunSetup setup = result.sweep().forecast().setup();
        Words.line(
                out,
                "constant",
                setup.truck().constant().written(setup.truck().constant().value()) + " as found");
        result.sweep()
                .entered()
                .ifPresentOrElse(
                        entered -> {
                            Words.line(
                                    out,
                                    "entered",
                                    entered.written(entered.value()) + ", as advised");
                            Words.paragraph(
                                    out,
                                    KnownSweeps.settingsToChange(setup.truck(), entered.value()));
                        },
                        () -> result.advice().ifPresent(advice -> advised(out, advice)));
        for (SweepResult.LegResult leg : result.legs()) {
            leg.proof().ifPresent(proof -> Words.paragraph(out, proof(leg.leg(), proof)));
        }
    }

    private static void advised(PrintStream out, SweepAdvice advice) {
        switch (advice) {
            case SweepAdvice.Keep(String reason) -> Words.paragraph(out, reason);
            case SweepAdvice.Enter(var constant, String note) -> {
                Words.line(out, "advised", constant.written(constant.value()));
                Words.paragraph(out, note);
            }
        }
    }

    private static String proof(Leg leg, SweepResult.Proof proof) {
        return String.format(
                Locale.ROOT,
                "At %s US gal/min the %s is %s %%; with the new constant %s the controller %s %%"
                        + " were to be expected. Up to %.2f %% apart %s; that is not the tolerance"
                        + " of the truck.",
                flow(leg.point().flow()),
                proof.what().error(),
                Numeral.signed(proof.found().percent(), 2),
                proof.elsewhere() ? "still in" : "in",
                Numeral.signed(proof.expected().percent(), 2),
                proof.within().percent(),
                proof.elsewhere()
                        ? "shows that the controller still has it, and not by itself that it was"
                                + " entered"
                        : "counts as entered");
    }
}
