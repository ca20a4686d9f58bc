package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.record.ResultText;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseLine;
import catchbay.signal.StepMeasures;

import org.junit.jupiter.api.Test;

import java.util.Optional;

/**
 * Whole runs whose flow comes up as a second-order system's. Overshoot and peak time in closed
 * form: Ogata, Modern Control Engineering, chapter on transient response (from memory).
 */
final class FlowRiseTest {

    private static final double ZETA = 0.4;
    private static final double OMEGA = 2;
    private static final double DEAD = 0.8;

    private final Setups setups = new Setups();

    FlowRiseTest() {
        setups.guard = Optional.of(Guard.usual(Optional.of(new Mass(0.05))));
    }

    private static double flow(double seconds) {
        double t = Math.max(0, seconds - DEAD);
        double root = Math.sqrt(1 - ZETA * ZETA);
        return 1
                - Math.exp(-ZETA * OMEGA * t)
                        * (Math.cos(OMEGA * root * t) + ZETA / root * Math.sin(OMEGA * root * t));
    }

    /** A run whose meters follow the system, and come to this share of the asked flow. */
    private static Rehearsal rising(RunSetup setup, double share) {
        Rehearsal bay = new Rehearsal(setup).until("purging");
        double reference = bay.hertz.get(PulseLine.REFERENCE);
        double truck = bay.hertz.get(PulseLine.TRUCK);
        long asked = bay.now();
        while (bay.state instanceof RunState.Purging) {
            double now = share * flow((bay.now() - asked) / 1e9);
            bay.hertz.put(PulseLine.REFERENCE, reference * now);
            bay.hertz.put(PulseLine.TRUCK, truck * now);
            bay.turn();
        }
        return bay;
    }

    private static StepMeasures measures(CatchResult result) {
        return assertInstanceOf(
                        StepMeasures.Judged.Measured.class, result.rise().orElseThrow().judged())
                .measures();
    }

    private static String json(RunSetup setup, CatchResult result) {
        return ResultText.of(
                new ResultText.Provenance("run-1", "simulated", ResultText.Seal.SEALED, 4),
                setup,
                new Outcome.Measured(result));
    }

    @Test
    void theResultTellsHowTheFlowCameUp() {
        RunSetup setup = setups.build();
        CatchResult result = rising(setup, 1).result();
        StepMeasures measures = measures(result);
        double overshoot = Math.exp(-Math.PI * ZETA / Math.sqrt(1 - ZETA * ZETA));
        double peak = DEAD + Math.PI / (OMEGA * Math.sqrt(1 - ZETA * ZETA));
        assertEquals(overshoot, measures.overshoot().orElseThrow().above().value(), 0.01);
        assertEquals(peak, measures.overshoot().orElseThrow().peakNanos() / 1e9, 0.15);
        assertEquals(1, result.rise().orElseThrow().ofAsked().orElseThrow().value(), 0.01);
        assertEquals(Optional.of(true), result.rise().orElseThrow().followed());
        String note =
                result.notes().stream()
                        .filter(of -> of.startsWith("The flow"))
                        .findFirst()
                        .orElseThrow();
        assertTrue(
                note.matches(
                        "The flow followed in 4\\.\\d s, 25 % over, then steady within 0\\.\\d % at"
                                + " 100 % of what was asked\\."),
                note);
        String json = json(setup, result);
        assertTrue(json.contains("\"rise_by\":\"reference\",\"rise_dead_seconds\":1.0"), json);
        assertTrue(json.contains("\"rise_followed\":true"), json);
    }

    /** Four tenths of what is asked is no meter's error: the controller does something else. */
    @Test
    void aFlowThatComesToSomethingElseDidNotFollow() {
        setups.scale = false;
        CatchResult result = rising(setups.build(), 0.4).result();
        assertEquals(Optional.of(false), result.rise().orElseThrow().followed());
        assertTrue(
                result.notes().stream()
                        .anyMatch(note ->
                                note.startsWith(
                                        "The flow did not follow: it came to 40 % of what was"
                                                + " asked; it settled in 4.")),
                result.notes().toString());
    }

    /** What a person needs to open a valve is not the controller's. */
    @Test
    void aFlowStartedByHandHasNoDeadTime() {
        setups.flowBy = FlowBy.OPERATOR;
        setups.pulsesPerMile = Optional.empty();
        RunSetup setup = setups.build();
        Rehearsal bay = new Rehearsal(setup);
        bay.personSeconds = 7;
        CatchResult result = bay.result();
        StepMeasures measures = measures(result);
        assertTrue(measures.deadNanos().isEmpty());
        assertTrue(measures.settlingNanos().getAsLong() <= measures.resolutionNanos());
        assertTrue(json(setup, result).contains("\"rise_dead_seconds\":null"));
    }

    @Test
    void liquidThatFlowedAlreadyTellsNothing() {
        Rehearsal bay = new Rehearsal(setups.build()).until("confirming");
        CatchResult result = bay.flow(true).run(0.5).flow(false).result();
        assertTrue(
                result.notes()
                        .contains(
                                "How the flow came up is not known: liquid was flowing before it"
                                        + " was asked for."),
                result.notes().toString());
    }

    /** An earlier trace has neither guard nor part, and its result stays what it was. */
    @Test
    void withoutAGuardNothingIsTold() {
        CatchResult watched = rising(setups.build(), 1).result();
        setups.guard = Optional.empty();
        RunSetup setup = setups.build();
        CatchResult result = rising(setup, 1).result();
        assertEquals(Optional.empty(), result.rise());
        assertTrue(!json(setup, result).contains("rise_"));
        assertEquals(watched.comparison(), result.comparison());
    }

    /** A standing window's flow comes up inside it: there is no steady flow to hold it against. */
    @Test
    void aStandingCatchIsNotJudged() {
        setups.window = Window.STANDING;
        setups.purgeSeconds = 0;
        setups.settleSlots = 0;
        assertEquals(Optional.empty(), new Rehearsal(setups).result().rise());
    }
}
