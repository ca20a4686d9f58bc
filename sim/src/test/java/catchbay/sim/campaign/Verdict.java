package catchbay.sim.campaign;

import catchbay.run.CatchResult;
import catchbay.run.Outcome;
import catchbay.sim.Bounds;
import catchbay.sim.CatchRun;
import catchbay.sim.Fault;
import catchbay.sim.FaultKind;
import catchbay.sim.Outlook;
import catchbay.sim.Scenario;
import catchbay.sim.World;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * What one run came to, held against its world's truth.
 *
 * @param run the run
 * @param end a word for the table: how it ended, and when accepted whether rightly
 * @param complaints what must not be, each as a sentence; empty when all is well
 */
record Verdict(CatchRun run, String end, List<String> complaints) {

    /** The most that the bound of a catch of 5 US gal or more may be, as a ratio. */
    static final double BOUND_MAX = 0.005;

    static Verdict of(CatchRun run) {
        Scenario scenario = run.scenario();
        List<String> complaints = new ArrayList<>();
        if (!run.world().outputsSafe()) {
            complaints.add("outputs are not at their safe levels after the end");
        }
        if (stillFlows(run.world())) {
            complaints.add("liquid still flows half a minute after the end");
        }
        String end =
                switch (run.outcome()) {
                    case Outcome.Measured(CatchResult result) -> accepted(run, result, complaints);
                    case Outcome.Void(var cause, var reason) -> {
                        if (!causes(scenario).contains(cause)) {
                            complaints.add("false alarm " + cause + ": " + reason);
                        }
                        yield "void";
                    }
                    case Outcome.Interrupted _ when powerIsCut(scenario) -> "void";
                    case Outcome.Stopped _, Outcome.Refused _, Outcome.Interrupted _ -> {
                        complaints.add("nobody asked for the end " + run.outcome());
                        yield run.outcome().key();
                    }
                };
        return new Verdict(run, end, complaints);
    }

    /**
     * Plays the world on: the outputs stay as they are, and the person does what was last asked.
     */
    private static boolean stillFlows(World world) {
        long end = world.nowNanos();
        world.advance(end + 40 * SECOND);
        return world.truth().deliveredBetween(end + 30 * SECOND, end + 40 * SECOND).litres() > 0;
    }

    private static final long SECOND = 1_000_000_000L;

    private static boolean powerIsCut(Scenario scenario) {
        return scenario.options().faults().stream()
                .anyMatch(fault -> fault.kind() == FaultKind.POWER_CUT);
    }

    /** Of the planned amount: a catch that was cut short is promised nothing. */
    private static final double WHOLE_SHARE = 0.5;

    private static Set<Outcome.Cause> causes(Scenario scenario) {
        Set<Outcome.Cause> causes = EnumSet.noneOf(Outcome.Cause.class);
        for (Fault fault : scenario.options().faults()) {
            causes.addAll(fault.kind().causes());
        }
        return causes;
    }

    private static String accepted(CatchRun run, CatchResult result, List<String> complaints) {
        Scenario scenario = run.scenario();
        double truth = run.truth().litres();
        double error = result.comparison().measured().volume().litres() / truth - 1;
        double bound = Bounds.of(scenario, run.truth()).measured();
        boolean whole = truth >= WHOLE_SHARE * scenario.planned().litres();
        if (whole && Bounds.promised(run.truth()) && bound > BOUND_MAX) {
            complaints.add("its bound is " + bound);
        }
        List<Fault> unseen = new ArrayList<>();
        boolean reportSpoilt = false;
        for (Fault fault : scenario.options().faults()) {
            Outlook outlook = Outlook.of(fault, scenario);
            if (outlook.fatal() && run.touchedBy(fault)) {
                complaints.add("accepted in spite of " + fault.text());
            }
            if (outlook.effect() == Outlook.Effect.MEASURED && !outlook.detectable()) {
                unseen.add(fault);
            }
            // An instrument that is wrong unseen may also end a standing window before the flow
            // does.
            reportSpoilt |= outlook.effect() != Outlook.Effect.COURSE && !outlook.detectable();
        }
        double reportedOff =
                Math.abs(result.comparison().reported().volume().litres() - run.counted().litres());
        boolean wrongReport = reportedOff > Bounds.reported(scenario, run.truth()).litres();
        if (wrongReport && !reportSpoilt) {
            complaints.add(
                    String.format(
                            Locale.ROOT,
                            "accepted a report that is off by %.4f L of %.3f L",
                            reportedOff,
                            run.counted().litres()));
        }
        if (Math.abs(error) <= bound) {
            return wrongReport ? "accepted, report wrong unseen" : "accepted, right";
        }
        if (unseen.isEmpty()) {
            complaints.add(
                    String.format(
                            Locale.ROOT,
                            "accepted %.3f %% off the truth of %.3f L, its bound is %.3f %%",
                            error * 100,
                            truth,
                            bound * 100));
        }
        return "accepted, wrong unseen";
    }

    /** How the run counts for one of its faults. */
    String endFor(Fault fault) {
        if (end.endsWith("unseen")) {
            Outlook outlook = Outlook.of(fault, run.scenario());
            boolean measured = outlook.effect() == Outlook.Effect.MEASURED;
            boolean reported = outlook.effect() == Outlook.Effect.REPORTED;
            boolean culprit =
                    !outlook.detectable() && (measured || reported && end.contains("report"));
            return culprit ? end : "accepted, wrong by another";
        }
        return end;
    }

    /** The verdict as a person wants it: the seed, what was drawn, and what is wrong. */
    String report() {
        Scenario scenario = run.scenario();
        StringBuilder text = new StringBuilder(scenario.name());
        complaints.forEach(complaint -> text.append("\n  ").append(complaint));
        text.append("\n  ended: ").append(run.outcome().reason());
        for (Fault fault : scenario.options().faults()) {
            Outlook outlook = Outlook.of(fault, scenario);
            text.append("\n  fault: ")
                    .append(fault.text())
                    .append(" -> ")
                    .append(outlook.sentence());
        }
        return text.append("\n  setup: ")
                .append(scenario.setup())
                .append("\n  ")
                .append(scenario.options().banner().replace("\n", "\n  "))
                .toString();
    }
}
