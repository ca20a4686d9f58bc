package catchbay.plan;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.DecisionRule;
import catchbay.metrology.Repeatability;
import catchbay.plan.PointForecast.CatchTime;
import catchbay.plan.TestPlan.Aim;
import catchbay.plan.TestPlan.Length;
import catchbay.plan.TestPlan.Point;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.ExpectedCatch;
import catchbay.run.Judgement;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** One point of a plan: how long its catch must be, and what it then achieves. */
final class PointStudy {

    /**
     * The catch-size rule: a measure holds no less than one minute of delivery at the tested rate
     * (lesson on the verification of meters, US Army Quartermaster QM5096; UK SI 1987/51, part III,
     * asks the same).
     */
    static final long CATCH_NANOS_MIN = 60_000_000_000L;

    private static final long SECOND_NANOS = 1_000_000_000L;
    private static final long STEP_NANOS = 5 * SECOND_NANOS;

    /**
     * A longer catch must bring at least a twentieth; else it is not worth its time. Common
     * practice, no source.
     */
    private static final double WORTH_RATIO = 1.05;

    private final TestPlan plan;
    private final RunSetup bay;
    private final Point point;
    private final Optional<Volume> room;
    private final KnownEnds ends;
    private final Repeatability.Plan repeats;
    private final boolean verifying;
    private final Ways.Choice choice;
    private final Ways.Way way;
    private final RunSetup.Asked asked;
    private final FlowRate flow;
    private final Map<Long, Outcome> outcomes = new HashMap<>();
    private final List<String> refusals = new ArrayList<>();
    private final List<String> warnings = new ArrayList<>();

    /**
     * @param bay with what the plan puts in place of its settings
     * @param room what the tank holds
     * @param ends what hunts have found of the truck's range
     * @param verifying whether it is a point of the verification: as long as one of the others, and
     *     as often as the plan says, whatever that comes to
     */
    PointStudy(
            TestPlan plan,
            Ways bay,
            Point point,
            Optional<Volume> room,
            KnownEnds ends,
            boolean verifying) {
        this.plan = plan;
        this.verifying = verifying;
        this.point = point;
        this.room = room;
        this.ends = ends;
        // A flow that is written down lies in its band to the last digit; one by speed is found.
        FlowRate aim =
                switch (point.aim()) {
                    case Aim.AtFlow(FlowRate wanted) -> wanted;
                    case Aim.AtSpeed _ ->
                            SetupCheck.askedFlow(asked(bay.usual().asked(), point.aim()));
                };
        TestPlan.Measure measure =
                point.measure()
                        .or(() ->
                                plan.bands().stream()
                                        .filter(band -> band.holds(aim))
                                        .findFirst()
                                        .map(TestPlan.Band::measure))
                        .orElse(TestPlan.Measure.USUAL);
        this.choice =
                bay.at(
                        aim,
                        measure.by().orElse(bay.usual().plan().measureBy()),
                        measure.reference());
        this.way =
                switch (choice) {
                    case Ways.Choice.Found(Ways.Way found) -> found;
                    case Ways.Choice.None _ -> new Ways.Way(Optional.empty(), bay.usual());
                };
        this.bay = way.setup();
        this.repeats = plan.repeats().orElse(this.bay.repeats().plan());
        this.asked = asked(this.bay.asked(), point.aim());
        this.flow = SetupCheck.askedFlow(asked);
    }

    private static RunSetup.Asked asked(RunSetup.Asked bay, Aim aim) {
        return bay.at(speed(bay, aim));
    }

    /** The speed at which the set rate asks for a point's flow. */
    private static Speed speed(RunSetup.Asked asked, Aim aim) {
        return switch (aim) {
            case Aim.AtSpeed(Speed speed) -> speed;
            case Aim.AtFlow(FlowRate wanted) -> {
                Speed one = new Speed(1);
                double perMetre =
                        SetupCheck.askedFlow(
                                        new RunSetup.Asked(
                                                asked.application(), one, Optional.empty()))
                                .litresPerSecond();
                // A rate of 0 asks for nothing at any speed; the check of the setup says so.
                yield perMetre > 0 ? new Speed(wanted.litresPerSecond() / perMetre) : one;
            }
        };
    }

    PointForecast forecast() {
        long nanos = catchNanos();
        Optional<Budget> budget = budget(nanos);
        if (outcome(nanos) instanceof Outcome.Measured) {
            warnIfShort(nanos);
        } else {
            refusals.add(at() + outcome(nanos).reason());
        }
        int runs = verifying ? plan.verification().repeats() : runs(budget);
        Optional<Ratio> mean = budget.map(known -> expanded(known, runs));
        boolean met = mean.filter(found -> found.value() <= plan.wanted().value()).isPresent();
        if (mean.isPresent() && !met) {
            warnUnmet(mean.get(), budget.orElseThrow());
        }
        mean.ifPresent(this::warnIfNothingPasses);
        refusals.addAll(ends.refusals(flow));
        CatchTime time = time(nanos);
        boolean certified =
                bay.reference()
                        .filter(meter ->
                                flow.compareTo(meter.curve().lowest()) >= 0
                                        && flow.compareTo(meter.curve().highest()) <= 0)
                        .isPresent();
        return new PointForecast(
                point,
                way,
                flow,
                asked.speed(),
                flow.during(nanos),
                flow.during(time.purgeNanos() + time.settleNanos() + time.travelNanos() + nanos),
                certified
                        ? Optional.of(
                                ExpectedCatch.pulsesPerSecond(
                                                bay.reference().orElseThrow().curve(), flow)
                                        * nanos
                                        / 1e9)
                        : Optional.empty(),
                budget.map(known -> expanded(known, 1)),
                mean,
                runs,
                met,
                time,
                refusals,
                warnings);
    }

    private String at() {
        return "At " + Figures.flow(flow) + ": ";
    }

    // How long
    // ---------------------------------------------------------------------------------------------------------

    private long catchNanos() {
        return switch (plan.length()) {
            case Length.Fixed(long nanos) -> nanos;
            case Length.AtLeast(Optional<Long> pulses, Optional<Volume> volume) ->
                    wholeSeconds(
                            Math.max(
                                    pulses.map(this::nanosFor).orElse(0.0),
                                    volume.map(this::nanosFor).orElse(0.0)));
            case Length.Derived(long nanosMax) -> derived(nanosMax);
        };
    }

    private double nanosFor(long pulses) {
        return bay.reference()
                .map(meter -> pulses * 1e9 / ExpectedCatch.pulsesPerSecond(meter.curve(), flow))
                .orElse(0.0);
    }

    private double nanosFor(Volume volume) {
        return flow.litresPerSecond() > 0 ? volume.litres() * 1e9 / flow.litresPerSecond() : 0;
    }

    private static long wholeSeconds(double nanos) {
        double seconds = Math.max(1, Math.ceil(nanos / 1e9 - 1e-9));
        return (long) Math.min(seconds, RunSetup.DURATION_NANOS_MAX / 1e9) * SECOND_NANOS;
    }

    /**
     * The shortest that meets what is wanted with the fewest repeats, or as good as the longest.
     */
    private long derived(long nanosMax) {
        long fits =
                room.map(holds -> (long) Math.min(nanosFor(holds), RunSetup.DURATION_NANOS_MAX))
                        .orElse(nanosMax);
        long most = Math.min(nanosMax, fits) / STEP_NANOS * STEP_NANOS;
        if (most <= CATCH_NANOS_MIN || budget(most).isEmpty()) {
            return Math.max(SECOND_NANOS, Math.min(nanosMax, Math.min(fits, CATCH_NANOS_MIN)));
        }
        double best = expanded(budget(most).orElseThrow(), repeats.runs()).value();
        double aim = best <= plan.wanted().value() ? plan.wanted().value() : best * WORTH_RATIO;
        long tooShort = CATCH_NANOS_MIN - STEP_NANOS;
        long enough = most;
        while (enough - tooShort > STEP_NANOS) {
            long middle = (tooShort + enough) / 2 / STEP_NANOS * STEP_NANOS;
            middle = middle <= tooShort ? tooShort + STEP_NANOS : middle;
            boolean good =
                    budget(middle)
                            .filter(known -> expanded(known, repeats.runs()).value() <= aim)
                            .isPresent();
            tooShort = good ? tooShort : middle;
            enough = good ? middle : enough;
        }
        return enough;
    }

    // What it achieves
    // -------------------------------------------------------------------------------------------------

    private Outcome outcome(long nanos) {
        return switch (choice) {
            case Ways.Choice.Found _ ->
                    outcomes.computeIfAbsent(nanos, known -> ExpectedCatch.of(setup(known)));
            case Ways.Choice.None(String sentence) -> new Outcome.Refused(sentence);
        };
    }

    private RunSetup setup(long nanos) {
        return bay.with(asked, bay.plan().lasting(nanos, dripNanos()), bay.judgement());
    }

    private Optional<Budget> budget(long nanos) {
        return outcome(nanos) instanceof Outcome.Measured measured
                ? Optional.of(measured.result().comparison().budget().only(Comparison.OF_REPEATS))
                : Optional.empty();
    }

    /** Of the mean of so many such catches of one day: by the model that means are made by. */
    private Ratio expanded(Budget budget, int runs) {
        Budget mean =
                Budget.ofMean(Collections.nCopies(runs, new Budget.Repeat(bay.day(), budget)));
        return new Ratio(mean.output(Comparison.METER_ERROR).expanded());
    }

    /** As many as their scatter and what is wanted take. */
    private int runs(Optional<Budget> budget) {
        Optional<Integer> forScatter = Repeatability.runsFor(repeats, bay.doubts().scatter().run());
        int least = forScatter.orElse(repeats.runsMax());
        if (forScatter.isEmpty()) {
            warnings.add(
                    "even "
                            + repeats.runsMax()
                            + " repeats are expected to scatter too much for the "
                            + Figures.percent(repeats.wanted())
                            + " wanted of their agreement; allow more of them, or more scatter.");
        }
        return budget.map(known -> runs(known, least)).orElse(least);
    }

    /** The fewest from the least on that meet what is wanted; the least where none does. */
    private int runs(Budget budget, int least) {
        for (int runs = least; runs <= repeats.runsMax(); runs++) {
            if (expanded(budget, runs).value() <= plan.wanted().value()) {
                return runs;
            }
        }
        return least;
    }

    private void warnIfShort(long nanos) {
        if (nanos < CATCH_NANOS_MIN) {
            warnings.add(
                    "a catch of "
                            + Figures.seconds(nanos)
                            + " holds less than the one minute of delivery that published practice"
                            + " asks of a catch; lengthen it where the tank has room.");
        }
    }

    private void warnUnmet(Ratio mean, Budget budget) {
        int most = verifying ? Repeatability.RUNS_MAX : repeats.runsMax();
        warnings.add(
                "the meter error will be known to "
                        + Figures.percent(mean)
                        + (verifying ? " when it is verified" : "")
                        + ", not to the "
                        + Figures.percent(plan.wanted())
                        + " wanted, and "
                        + most
                        + " repeats would reach "
                        + Figures.percent(expanded(budget, most))
                        + (verifying ? " (verification.repeats)" : "")
                        + "; "
                        + largest(budget)
                        + " is the most of it.");
    }

    private static String largest(Budget budget) {
        return "'"
                + budget.output(Comparison.METER_ERROR).rows().stream()
                        .max(Comparator.comparingDouble(Budget.Row::contribution))
                        .orElseThrow()
                        .name()
                + "'";
    }

    /** A guard band as wide as the tolerance leaves nothing to pass in. */
    private void warnIfNothingPasses(Ratio mean) {
        Judgement judgement = bay.judgement();
        DecisionRule rule = judgement.rule();
        Optional<Ratio> limit = judgement.tolerance().upper();
        if (judgement.on() == Judgement.On.METER
                && limit.isPresent()
                && rule.guard() * mean.value() >= limit.get().value()) {
            warnings.add(
                    "an uncertainty of "
                            + Figures.percent(mean)
                            + " leaves nothing of the tolerance of "
                            + Figures.percent(limit.get())
                            + " to pass in; no truck can pass here.");
        }
    }

    // What it takes
    // ----------------------------------------------------------------------------------------------------

    private long dripNanos() {
        return plan.tank()
                .dripNanos()
                .or(() -> room.flatMap(DripTime::publishedNanos))
                .orElse(bay.plan().dripNanos());
    }

    private CatchTime time(long nanos) {
        RunSetup.Plan course = bay.plan();
        boolean flying = course.window() == RunSetup.Window.FLYING;
        long scaleRest = bay.scale().map(RunSetup.Scale::restNanos).orElse(0L);
        long purge =
                plan.flush()
                        .purge()
                        .map(volume -> flushNanos("purge", volume))
                        .orElse(course.purgeNanos());
        long slots = course.settleSlotNanos() * course.settleSlots();
        long settle =
                plan.flush().settle().map(volume -> flushNanos("settle", volume)).orElse(slots);
        long still = Math.max(course.silenceNanos(), scaleRest);
        return new CatchTime(
                purge,
                flying ? Math.max(settle, scaleRest) : 0,
                flying ? 2 * ExpectedCatch.travelNanos(bay) : 0,
                nanos,
                dripNanos(),
                flying ? scaleRest : 2 * still + scaleRest,
                answers() * plan.times().answerNanos());
    }

    /** How long so much runs off, which may not be longer than a catch's own purge may. */
    private long flushNanos(String key, Volume volume) {
        double seconds = nanosFor(volume) / 1e9;
        if (seconds > RunSetup.PURGE_SECONDS_MAX) {
            refusals.add(
                    at()
                            + "catch."
                            + key
                            + " of "
                            + Figures.gallons(volume)
                            + " would run off for longer than the "
                            + RunSetup.PURGE_SECONDS_MAX
                            + " s that it may before a catch; let less run off.");
        }
        return Math.round(Math.min(seconds, RunSetup.PURGE_SECONDS_MAX) * 1e9);
    }

    /** How many questions a person answers in one catch. */
    private int answers() {
        int display = bay.reported() instanceof RunSetup.Reported.Display ? 2 : 0;
        int valve = bay.plan().flowBy() == RunSetup.FlowBy.OPERATOR ? 2 : 0;
        boolean salt =
                asked.application() instanceof RunSetup.Application.PreWet preWet
                        && preWet.saltReported();
        return display + valve + (salt ? 1 : 0);
    }
}
