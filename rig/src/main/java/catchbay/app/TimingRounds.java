package catchbay.app;

import catchbay.metrology.StartStopError;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.port.PortException;
import catchbay.record.DocumentException;
import catchbay.record.SelfTestRules;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Figure;
import catchbay.record.SelfTestText.Head;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.signal.PulseCount;
import catchbay.store.StoreException;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/**
 * Finds the start-stop error of a bay's timing: rounds of one long catch and many short ones, each
 * kind beginning with an empty tank, so that both climb the same part of the scale.
 */
final class TimingRounds {

    private final SelfTestRules rules;

    TimingRounds(SelfTestRules rules) {
        this.rules = rules;
    }

    /** The setup of a long catch. */
    RunSetup longOne(RunSetup tried) {
        return lasting(tried, rules.timing().longNanos());
    }

    private RunSetup shortOne(RunSetup tried) {
        return lasting(tried, rules.timing().shortNanos());
    }

    private RunSetup lasting(RunSetup tried, long nanos) {
        RunSetup.Plan plan = tried.plan();
        return tried.with(
                tried.asked(),
                plan.with(plan.flowBy(), plan.measureBy(), rules.apart(plan))
                        .lasting(plan.purgeNanos(), nanos, plan.dripNanos(), plan.drainNanos()),
                tried.judgement());
    }

    /** Refuses a bay of which the error cannot be found, and one that has none. */
    void refuseUnfit(String settings, RunSetup tried) {
        if (tried.plan().window() == RunSetup.Window.STANDING) {
            throw new DocumentException(
                    settings
                            + ": catch.window is standing: flow starts and stops inside it, and"
                            + " nothing is cut out of it that could be timed wrongly");
        }
        if (tried.scale().isEmpty()) {
            throw new DocumentException(
                    settings
                            + ": the timing is found by weighing, and no scale is described; add"
                            + " the section [scale]");
        }
        RunSetup shortOne = shortOne(tried);
        RunSetup longOne = longOne(tried);
        refuseUnfit(
                "short",
                shortOne,
                longOne,
                "ask for more flow (--flow), plan fewer of them (self_tests.timing_short_catches),"
                        + " or a longer long catch (self_tests.timing_long_seconds).");
        refuseUnfit(
                "long",
                longOne,
                shortOne,
                "ask for less flow (--flow), or plan a shorter long catch"
                        + " (self_tests.timing_long_seconds).");
    }

    /** What goes for one kind of catch only comes of how long it lasts. */
    private static void refuseUnfit(String which, RunSetup one, RunSetup other, String mend) {
        List<String> problems = new ArrayList<>(SetupCheck.problems(one));
        problems.removeAll(SetupCheck.problems(other));
        if (!problems.isEmpty()) {
            // The advice behind what is wrong is that for a catch by itself.
            String wrong =
                    problems.stream()
                            .map(problem -> problem.replaceFirst(";.*", ""))
                            .collect(Collectors.joining("; "));
            throw new DocumentException(
                    String.format(
                            Locale.ROOT,
                            "the %s catches of %.1f s cannot be made: %s; %s",
                            which,
                            one.plan().catchNanos() / 1e9,
                            wrong,
                            mend));
        }
    }

    /** Catches all rounds. */
    SelfTesting.Result.Found found(TestCatches catches, OpenBay bay, Head head)
            throws TestCatches.Ended, PortException, StoreException, IOException {
        catches.confirm(bay.setup());
        List<StartStopError.Round> rounds = new ArrayList<>();
        for (int round = 1; round <= rules.timing().rounds(); round++) {
            StartStopError.Catch whole =
                    caught(catches, "round " + round + ", long", longOne(bay.setup()), true);
            List<StartStopError.Catch> shorts = new ArrayList<>();
            for (int i = 1; i <= rules.timing().shorts(); i++) {
                shorts.add(
                        caught(
                                catches,
                                "round " + round + ", short " + i,
                                shortOne(bay.setup()),
                                i == 1));
            }
            rounds.add(new StartStopError.Round(whole, shorts));
        }
        RunSetup.Scale scale = bay.setup().scale().orElseThrow();
        StartStopError error =
                StartStopError.of(rounds, scale.resolution(), rules.timing().limitSeconds());
        SelfTestText.Done done =
                new SelfTestText.Done(
                        head,
                        List.of(
                                Figure.of(
                                        KnownTests.diverter(bay.setup().diverter().orElseThrow()),
                                        Optional.empty(),
                                        Optional.of(scale.certificate().serial()),
                                        SelfTestText.Unit.SECONDS,
                                        error.seconds(),
                                        error.limitSeconds(),
                                        error.answer())),
                        catches.confirmedBy(),
                        sentence(error, bay.setup().reference()));
        return new SelfTesting.Result.Found(done, SelfTestText.of(done, error));
    }

    private static StartStopError.Catch caught(
            TestCatches catches, String as, RunSetup setup, boolean emptied)
            throws TestCatches.Ended, PortException, StoreException, IOException {
        CatchResult result = catches.caught(as, setup, emptied);
        return new StartStopError.Catch(
                result.windowNanos() / 1e9,
                result.netReading().orElseThrow(),
                result.count().map(TimingRounds::metered).orElse(OptionalDouble.empty()));
    }

    /** A count to the whole pulse is too coarse for a short catch. */
    private static OptionalDouble metered(PulseCount count) {
        return count instanceof PulseCount.DoubleTimed timed
                ? OptionalDouble.of(timed.pulses())
                : OptionalDouble.empty();
    }

    private static String sentence(StartStopError error, Optional<RunSetup.Reference> meter) {
        boolean metered = error.rounds().stream().allMatch(StartStopError.Round::metered);
        String flow =
                metered
                        ? "Changes of the flow were taken out by the reference meter"
                                + meter.map(one -> " (" + one.certificate().serial() + ").")
                                        .orElse(".")
                        : "The flow was taken as constant, since not every catch was counted"
                                + " between pulses.";
        Answer answer = error.answer();
        return switch (answer) {
            case PASSES -> "Catches by the scale are corrected by so much from now on. " + flow;
            case FAILS ->
                    String.format(
                            Locale.ROOT,
                            "More than %.3f s is a fault of the bay and is not corrected for: look"
                                    + " at the flap, its switch and what drips into the tank, then"
                                    + " test again. %s",
                            error.limitSeconds(),
                            flow);
            case CANNOT_TELL ->
                    "The rounds scatter too much to tell; steady the flow, catch longer or more"
                            + " rounds, or use a finer scale. What was known before stays. "
                            + flow;
        };
    }
}
