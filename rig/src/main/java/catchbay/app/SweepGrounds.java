package catchbay.app;

import catchbay.metrology.Certificate;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.plan.TestPlan;
import catchbay.run.RunSetup;

import java.io.PrintStream;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * On what a sweep's result rests, in words: who, with which instruments, on what, judged by what.
 */
final class SweepGrounds {

    private SweepGrounds() {}

    static void print(PrintStream out, SweepResult result) {
        RunSetup setup = result.sweep().forecast().setup();
        people(out, result);
        catches(out, result);
        RunSetup.Application application = setup.asked().application();
        Words.line(out, "controller set to", Cautions.rates(application));
        if (application instanceof RunSetup.Application.PreWet) {
            Words.line(
                    out,
                    "granular side",
                    result.sweep()
                            .forecast()
                            .plan()
                            .granular()
                            .map(PlanWords::granular)
                            .orElse("not written down in the plan"));
        }
        TestPlan plan = result.sweep().forecast().plan();
        Words.line(
                out,
                "outlets",
                plan.namesOutlets() ? "as told at each point" : "all; the plan names none");
        for (SweepResult.Used<RunSetup.Liquid> liquid : result.liquids()) {
            Words.line(out, "liquid", of(liquid.what()) + where(result, liquid.legs()));
        }
        for (SweepResult.Used<SweepResult.Instrument> used : result.instruments()) {
            SweepResult.Instrument instrument = used.what();
            Words.line(
                    out,
                    instrument.by().name().toLowerCase(Locale.ROOT),
                    of(instrument.certificate())
                            + (instrument.measured() ? "; measured" : "; beside it, as a check")
                            + where(result, used.legs()));
        }
        Words.line(out, "judged by", Words.of(setup.judgement()));
    }

    private static void people(PrintStream out, SweepResult result) {
        result.sweep().forecast().setup().session().by().ifPresent(by -> Words.line(out, "by", by));
        List<SweepEvent.Confirmed> confirmations = result.sweep().confirmations();
        Words.line(
                out,
                "checklist",
                confirmations.isEmpty()
                        ? "not confirmed"
                        : names(confirmations.stream().map(SweepEvent.Confirmed::by).toList()));
        List<String> speed = confirmations.stream().flatMap(one -> one.speedBy().stream()).toList();
        if (!speed.isEmpty()) {
            Words.line(out, "speed confirmed", names(speed));
        }
        long interrupted = result.sweep().resumptions();
        if (interrupted > 0) {
            Words.line(
                    out,
                    "interrupted",
                    (interrupted == 1 ? "once" : interrupted + " times") + ", and gone on with");
        }
    }

    /** As in {@code A. Tester; again 3 times: B. Tester (2), A. Tester}. */
    private static String names(List<String> confirmed) {
        List<String> again = confirmed.subList(1, confirmed.size());
        if (again.isEmpty()) {
            return confirmed.getFirst();
        }
        Map<String, Integer> times = new LinkedHashMap<>();
        again.forEach(name -> times.merge(name, 1, Integer::sum));
        List<String> names = new ArrayList<>();
        times.forEach((name, often) -> names.add(name + (often > 1 ? " (" + often + ")" : "")));
        return confirmed.getFirst()
                + "; again "
                + (again.size() == 1 ? "once" : again.size() + " times")
                + ": "
                + String.join(", ", names);
    }

    private static void catches(PrintStream out, SweepResult result) {
        long counted = result.sweep().counted();
        long all = result.legs().stream().mapToLong(leg -> leg.progress().runs().size()).sum();
        Words.line(
                out,
                "catches",
                counted
                        + " with a result"
                        + (all > counted
                                ? ", " + (all - counted) + " without: see the points"
                                : ""));
    }

    private static String of(RunSetup.Liquid liquid) {
        return liquid.name()
                + liquid.basis()
                        .map(basis -> ", " + Words.of(basis))
                        .orElseGet(() ->
                                String.format(
                                        Locale.ROOT,
                                        ", %.2f kg/m3 as typed",
                                        liquid.density().kilogramsPerCubicMetre()));
    }

    private static String of(Certificate certificate) {
        return certificate.serial()
                + ", certificate of "
                + certificate.date()
                + ", good until "
                + certificate.expiry();
    }

    /** At which legs, where it was not at all of those that have a catch that counts. */
    private static String where(SweepResult result, List<Integer> numbers) {
        List<Integer> caught = legs(result, leg -> !leg.progress().series().counted().isEmpty());
        return numbers.equals(caught) ? "" : ", at " + named(result, numbers);
    }

    /**
     * How the points as found stand, or those of the verification, as in {@code fail at points 1 to
     * 3; pass at point 4}; empty where there are none.
     */
    static Optional<String> standing(SweepResult result, boolean verifying) {
        Map<String, List<Integer>> standings = new LinkedHashMap<>();
        for (SweepResult.LegResult leg : result.legs()) {
            if (leg.leg().verifying() == verifying) {
                standings
                        .computeIfAbsent(
                                leg.standing().orElse("no verdict"), _ -> new ArrayList<>())
                        .add(leg.leg().number());
            }
        }
        List<String> parts = new ArrayList<>();
        standings.forEach((stands, legs) -> parts.add(stands + " at " + named(result, legs)));
        return parts.isEmpty() ? Optional.empty() : Optional.of(String.join("; ", parts));
    }

    private static List<Integer> legs(SweepResult result, Predicate<SweepResult.LegResult> which) {
        return result.legs().stream().filter(which).map(leg -> leg.leg().number()).toList();
    }

    /** As in {@code points 1 to 3, 5, verification 9}. */
    private static String named(SweepResult result, List<Integer> numbers) {
        List<Integer> verifying = legs(result, leg -> leg.leg().verifying());
        List<String> parts = new ArrayList<>();
        named("point", numbers.stream().filter(n -> !verifying.contains(n)).toList())
                .ifPresent(parts::add);
        named("verification", numbers.stream().filter(verifying::contains).toList())
                .ifPresent(parts::add);
        return String.join(", ", parts);
    }

    private static Optional<String> named(String kind, List<Integer> numbers) {
        if (numbers.isEmpty()) {
            return Optional.empty();
        }
        List<String> spans = new ArrayList<>();
        for (int from = 0, to = 0; from < numbers.size(); from = ++to) {
            while (to + 1 < numbers.size() && numbers.get(to + 1) == numbers.get(to) + 1) {
                to++;
            }
            String first = numbers.get(from).toString();
            spans.add(
                    from == to
                            ? first
                            : first + (to == from + 1 ? " and " : " to ") + numbers.get(to));
        }
        return Optional.of(kind + (numbers.size() == 1 ? " " : "s ") + String.join(", ", spans));
    }
}
