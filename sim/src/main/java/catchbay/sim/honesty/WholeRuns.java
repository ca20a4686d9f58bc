package catchbay.sim.honesty;

import catchbay.metrology.Budget;
import catchbay.quantity.Volume;
import catchbay.run.CatchResult;
import catchbay.run.Doubts;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.sim.CatchRun;
import catchbay.sim.Scenario;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Whole runs of the stand-in bay by the program's own loop, in virtual time: the flow wanders, is
 * started and stopped, its valve follows late, pulses are uneven, the tank is filled through a
 * chute.
 */
final class WholeRuns {

    private final long seed;
    private final Map<String, Map<String, Score>> scores = new LinkedHashMap<>();
    private final Map<String, Integer> unmeasured = new LinkedHashMap<>();

    WholeRuns(long seed) {
        this.seed = seed;
    }

    /** By output, then by stratum. */
    Map<String, Map<String, Score>> scores() {
        return scores;
    }

    Score score(String output, String stratum) {
        return scores.computeIfAbsent(output, _ -> new LinkedHashMap<>())
                .computeIfAbsent(stratum, _ -> new Score());
    }

    /** Runs that ended without a result, by reason. */
    Map<String, Integer> unmeasured() {
        return unmeasured;
    }

    /** As many of each kind. */
    void play(int runs) {
        for (int i = 0; i < runs; i++) {
            Dice dice = Dice.of(seed * 1_000_003 + i);
            RunKind kind = RunKind.ALL.get(i % RunKind.ALL.size());
            CatchRun run = CatchRun.of(DrawnRun.of(kind, dice.split(), dice.split()));
            if (run.outcome() instanceof Outcome.Measured(CatchResult result)) {
                take(run, kind, result, dice.split());
            } else {
                unmeasured.merge(run.outcome().reason(), 1, Integer::sum);
            }
        }
    }

    private void take(CatchRun run, RunKind kind, CatchResult result, Dice dice) {
        double delivered = run.truth().litres();
        double counted = run.counted().litres();
        double asked = asked(run, result, dice).litres();
        double[] truths = {
            delivered, counted / delivered - 1, counted / asked - 1, delivered / asked - 1
        };
        Budget budget = result.comparison().budget();
        for (String stratum : strata(run.scenario(), kind)) {
            for (int o = 0; o < truths.length; o++) {
                String output = Study.OUTPUTS.get(o);
                score(output, stratum).take(budget.output(output), budget.inputs(), truths[o]);
            }
        }
    }

    private static List<String> strata(Scenario scenario, RunKind kind) {
        RunSetup setup = scenario.setup();
        List<String> strata = new ArrayList<>();
        strata.add("all");
        strata.add(kind.caught());
        strata.add(kind.application());
        strata.add(
                switch (setup.reported()) {
                    case RunSetup.Reported.MeterPulses _ -> "truck read by pulses";
                    case RunSetup.Reported.RunningLine _ -> "truck read by line";
                    case RunSetup.Reported.Display _ -> "truck read by display";
                    case RunSetup.Reported.Nothing _ -> "truck not read";
                });
        if (kind.measureBy() == RunSetup.MeasureBy.REFERENCE
                && setup.doubts().reference().dampingNanos() > 0) {
            strata.add((kind.window() + ", by a damped reference").toLowerCase(Locale.ROOT));
        }
        return strata;
    }

    /**
     * What was truly asked. The truck's speed and salt are what it says in the stand-in bay; how
     * far the road or the salt is off from that is drawn here, as it is stated.
     */
    private static Volume asked(CatchRun run, CatchResult result, Dice dice) {
        RunSetup setup = run.scenario().setup();
        Doubts doubts = setup.doubts();
        Application application = setup.asked().application();
        if (RunKind.of(setup).salt().told()) {
            return ((Application.PreWet) application)
                    .rate()
                    .on(run.salt())
                    .times(1 + dice.even(doubts.salt().value()));
        }
        if (setup.plan().flowBy() != RunSetup.FlowBy.GROUND_SPEED) {
            return result.comparison()
                    .asked()
                    .volume()
                    .times(1 + dice.even(doubts.speed().value()));
        }
        return switch (application) {
            case Application.Direct(var rate, double lanes) -> rate.over(run.travelled(), lanes);
            case Application.PreWet(var rate, var salt, _, _) ->
                    rate.on(salt.over(run.travelled()));
        };
    }
}
