package catchbay.app;

import catchbay.metrology.ShuntTest;
import catchbay.metrology.WeightCheck;
import catchbay.port.PortException;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.record.DocumentException;
import catchbay.record.ScaleTestRules;
import catchbay.record.ScaleTestText;
import catchbay.record.ScaleTestText.Head;
import catchbay.record.ScaleTestText.Kind;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTask;
import catchbay.store.DataFolder;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;
import catchbay.store.RecordStore;
import catchbay.store.StoreException;

import java.io.IOException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Tries a scale where it stands, with a person's hands, and keeps what came out. Used once. */
final class ScaleTesting {

    /** What a test came to. */
    sealed interface Result {

        /** What it is. */
        Head head();

        /** The scale against check weights, and the unit it shows. */
        record Weights(Head head, WeightCheck check, MassUnit unit) implements Result {}

        /** What the hose carries, and the unit the scale shows. */
        record Shunt(Head head, ShuntTest test, MassUnit unit) implements Result {}

        /** It was broken off, for the reason given as a sentence. */
        record BrokenOff(Head head, String reason) implements Result {}
    }

    /**
     * A test, and what was told of the bay's computer: by its day a test counts.
     *
     * @param computer what it said, and what the records say of its clock
     */
    record Tried(Result result, BayComputer computer) {}

    /** What is done at the scale, between the first line of the file and the last. */
    private interface Course {
        Result with(ScaleReading scale, JournalFile file) throws ScaleReading.Ended, IOException;
    }

    private final Settings settings;
    private final Optional<String> by;

    /**
     * @param settings the bay's settings, with their scale chosen
     * @param by who answers for it
     */
    ScaleTesting(Settings settings, Optional<String> by) {
        this.settings = settings;
        this.by = by;
        by.ifPresent(who -> settings.refuseStrangers("--by", who));
    }

    /** Holds the scale against the check weights. */
    Tried weights() throws PortException, StoreException, IOException {
        return tested(
                Kind.WEIGHTS,
                (setup, head) -> {
                    ScaleTestRules rules = settings.scaleTest(setup, head.kind());
                    if (rules.weights().isEmpty()) {
                        throw new DocumentException(
                                settings.name()
                                        + ": no check weights are listed; add them under"
                                        + " [scale_test] (src/docs/settings.md)");
                    }
                    return (scale, file) -> weights(head, setup, rules, scale, file);
                });
    }

    private static Result weights(
            Head head, RunSetup setup, ScaleTestRules rules, ScaleReading scale, JournalFile file)
            throws ScaleReading.Ended, IOException {
        Mass before = read(scale, new ScaleTask.Empty(), "empty", file);
        List<Step> steps = rules.stacked() ? upAndDown(rules.weights()) : inTurn(rules.weights());
        double capacity = setup.scale().orElseThrow().capacity().kilograms();
        if (!rules.stacked() && steps.getLast().loads(before) > capacity) {
            steps = steps.subList(0, rules.weights().size());
        }
        for (Step step : steps) {
            refuseTooHeavy(step, before, capacity);
        }
        List<Mass> readings = new ArrayList<>();
        for (Step step : steps) {
            readings.add(read(scale, step.task, step.load.name(), file));
        }
        Mass after = read(scale, new ScaleTask.Empty(), "empty", file);
        WeightCheck check =
                WeightCheck.of(
                        before,
                        steps.stream().map(Step::load).toList(),
                        readings,
                        after,
                        fineness(setup),
                        rules.limit(),
                        setup.liquid().air());
        file.append(ScaleTestText.of(head, check));
        return new Result.Weights(head, check, setup.scale().orElseThrow().unit());
    }

    /** What stands on the scale when a person has done as asked. */
    private record Step(WeightCheck.Load load, ScaleTask task) {
        double loads(Mass empty) {
            return empty.kilograms() + load.mass().kilograms();
        }
    }

    /** Each weight alone, and all of them together. */
    private static List<Step> inTurn(List<WeightCheck.Load> weights) {
        List<WeightCheck.Load> loads = new ArrayList<>(weights);
        if (weights.size() > 1) {
            loads.add(WeightCheck.Load.together("all together", weights));
        }
        return loads.stream()
                .map(load -> new Step(load, new ScaleTask.Weight(load.name(), load.mass())))
                .toList();
    }

    /** One upon the other, and off again in the opposite order. */
    private static List<Step> upAndDown(List<WeightCheck.Load> weights) {
        List<Step> steps = new ArrayList<>();
        for (int i = 0; i < weights.size(); i++) {
            WeightCheck.Load added = weights.get(i);
            steps.add(new Step(upTo(i, weights), new ScaleTask.Add(added.name(), added.mass())));
        }
        for (int i = weights.size() - 1; i > 0; i--) {
            WeightCheck.Load gone = weights.get(i);
            steps.add(
                    new Step(
                            upTo(i - 1, weights), new ScaleTask.TakeOff(gone.name(), gone.mass())));
        }
        return steps;
    }

    private static WeightCheck.Load upTo(int last, List<WeightCheck.Load> weights) {
        WeightCheck.Load first = weights.getFirst();
        return last == 0
                ? first
                : WeightCheck.Load.together(
                        first.name() + " to " + weights.get(last).name(),
                        weights.subList(0, last + 1));
    }

    private static void refuseTooHeavy(Step step, Mass empty, double capacity)
            throws ScaleReading.Ended {
        if (step.loads(empty) > capacity) {
            throw new ScaleReading.Ended(
                    String.format(
                            Locale.ROOT,
                            "%s of %.3f kg, on the %.3f kg that the scale shows already, is more"
                                    + " than the %.3f kg that it may carry; choose other weights.",
                            step.load.name(),
                            step.load.mass().kilograms(),
                            empty.kilograms(),
                            capacity));
        }
    }

    /** Finds what the hose carries of the tank. */
    Tried shunt() throws PortException, StoreException, IOException {
        return tested(
                Kind.SHUNT,
                (setup, head) -> {
                    ScaleTestRules rules = settings.scaleTest(setup, head.kind());
                    return (scale, file) -> {
                        Mass off = read(scale, new ScaleTask.Hose(false), "hose off", file);
                        Mass on = read(scale, new ScaleTask.Hose(true), "hose on", file);
                        Mass again = read(scale, new ScaleTask.Hose(false), "hose off", file);
                        ShuntTest test =
                                ShuntTest.of(off, on, again, fineness(setup), rules.shuntLimit());
                        file.append(ScaleTestText.of(head, test));
                        return new Result.Shunt(head, test, setup.scale().orElseThrow().unit());
                    };
                });
    }

    private static WeightCheck.Reading fineness(RunSetup setup) {
        return new WeightCheck.Reading(
                setup.scale().orElseThrow().resolution(), setup.doubts().scale().repeatability());
    }

    private static Mass read(ScaleReading scale, ScaleTask task, String load, JournalFile file)
            throws ScaleReading.Ended, IOException {
        Mass shown = scale.after(task);
        file.append(ScaleTestText.reading(load, shown));
        return shown;
    }

    /** What is done for a bay with this setup and a test with this head. */
    private interface Plan {
        Course of(RunSetup setup, Head head);
    }

    private Tried tested(Kind kind, Plan plan) throws PortException, StoreException, IOException {
        Optional<String> truck = settings.anyTruck();
        settings.takeAnyReference();
        RunSetup provisional = settings.setup(truck, LocalDate.EPOCH);
        if (provisional.scale().isEmpty()) {
            throw new DocumentException(
                    settings.name() + ": no scale is described; add the section [scale]");
        }
        try (BayPorts bay = BayPorts.withTime(settings, provisional)) {
            Instant now = bay.time().wallTime();
            LocalDate day = LocalDate.ofInstant(now, settings.zone());
            RunSetup setup = settings.setup(truck, day);
            try (DataFolder folder = DataFolder.open(settings.data(), now.atZone(settings.zone()));
                    RecordStore store = folder.openRecords()) {
                RunLoop.Ports ports = bay.openScale(setup);
                BayComputer clock = new Bookkeeping(folder.traces(), store).clock(bay.time(), now);
                JournalFolder tests = folder.scaleTests();
                Head head =
                        new Head(
                                FreeName.at(now, kind.name().toLowerCase(Locale.ROOT), tests::has),
                                kind,
                                TraceLine.Origin.of(bay.simulated()),
                                setup.bay(),
                                setup.scale().orElseThrow().certificate().serial(),
                                day,
                                by);
                Result result = run(plan.of(setup, head), head, setup, ports, tests);
                return new Tried(result, clock.and(bay.computer().state()));
            }
        }
    }

    private static Result run(
            Course course, Head head, RunSetup setup, RunLoop.Ports ports, JournalFolder tests)
            throws IOException {
        try (StopSignal stop = StopSignal.listening(ports.time());
                JournalFile file = tests.begin(head.name(), ScaleTestText.begun(head))) {
            try {
                return course.with(new ScaleReading(ports.endedBy(stop), setup), file);
            } catch (ScaleReading.Ended ended) {
                file.append(ScaleTestText.ended(ended.getMessage()));
                return new Result.BrokenOff(head, ended.getMessage());
            }
        }
    }
}
