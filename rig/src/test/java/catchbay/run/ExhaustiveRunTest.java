package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup.Feedback;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.LongFunction;

/**
 * Every sequence of inputs from a small alphabet, from every state of a whole run: no exception,
 * the bay safe at every end, an idle turn is the same state, an ended run takes nothing in, and
 * nothing is measured that a run by the book would not have measured.
 */
final class ExhaustiveRunTest {

    private static final int DEPTH = 3;
    private static final long STEP_NANOS = 700_000_000L;

    private record Reached(RunState state, long nowNanos) {}

    private final Set<String> states = new TreeSet<>();
    private final Set<String> ends = new TreeSet<>();
    private long steps;

    private static List<LongFunction<RunInput>> alphabet() {
        List<LongFunction<RunInput>> alphabet = new ArrayList<>();
        alphabet.add(RunInput.Turn::new);
        alphabet.add(at -> new RunInput.Turn(at + 100 * Setups.SECOND));
        for (PulseLine line : List.of(PulseLine.REFERENCE, PulseLine.TRUCK)) {
            alphabet.add(at -> new RunInput.Edges(line, EdgeBatch.of(at, at - 9, at - 5, at)));
        }
        alphabet.add(at -> new RunInput.Edges(PulseLine.SPEED, EdgeBatch.of(3, at, at - 7)));
        for (BayContact contact :
                List.of(
                        BayContact.DIVERTER_TRIGGER,
                        BayContact.DIVERTER_AT_TANK,
                        BayContact.DIVERTER_AT_BYPASS)) {
            alphabet.add(at -> new RunInput.Contact(at, contact, true));
            alphabet.add(at -> new RunInput.Contact(at, contact, false));
        }
        alphabet.add(at -> new RunInput.Contact(at, BayContact.SPILL, true));
        alphabet.add(at -> weight(at, 20, false));
        alphabet.add(at -> weight(at, 80, false));
        alphabet.add(at -> weight(at, -1, true));
        alphabet.add(at -> new RunInput.Scale(at, new ScaleFrame.NoWeight("no weight")));
        alphabet.add(at -> new RunInput.Unread(at, "scale", 1, 20, "the status must be Z"));
        alphabet.add(at -> new RunInput.ControllerTotal(at, new Volume(0)));
        alphabet.add(at -> new RunInput.ChecklistConfirmed(at, "a technician"));
        alphabet.add(at -> new RunInput.Done(at, Question.START_FLOW));
        alphabet.add(at -> new RunInput.Done(at, Question.STOP_FLOW));
        alphabet.add(at -> new RunInput.TotalTyped(at, Volume.ofUsGallons(107.5)));
        alphabet.add(at -> new RunInput.SaltTyped(at, new Mass(0)));
        alphabet.add(at -> new RunInput.TraceDurable(at, at));
        alphabet.add(at -> new RunInput.StopPressed(at, "a technician"));
        return alphabet;
    }

    private static RunInput weight(long at, double kilograms, boolean net) {
        return new RunInput.Scale(
                at, new ScaleFrame.Weight(kilograms, MassUnit.KILOGRAM, net, false));
    }

    private static List<Setups> setups() {
        Setups ends = new Setups();
        ends.diverter = Optional.of(Feedback.ENDS);
        ends.reported = Setups.line();
        Setups byHand = Setups.display();
        byHand.purgeSeconds = 5;
        byHand.diverter = Optional.of(Feedback.TRIGGER);
        byHand.application = Setups.preWet(true, Optional.empty());
        return List.of(new Setups(), ends, byHand, Setups.scaleOnly());
    }

    @Test
    void everySequenceFromEveryState() {
        for (Setups setups : setups()) {
            for (Reached reached : everyStateOf(setups)) {
                explore(reached.state, reached.nowNanos, DEPTH);
            }
        }
        assertEquals(17, states.size(), states::toString);
        assertTrue(steps > 500_000, "steps taken: " + steps);
        assertTrue(ends.size() > 10, ends::toString);
    }

    /** Where a run by the book first stands in each state. */
    private static List<Reached> everyStateOf(Setups setups) {
        Rehearsal bay = new Rehearsal(setups);
        bay.result();
        List<Reached> reached = new ArrayList<>();
        RunState state = RunMachine.begin(bay.setup);
        reached.add(new Reached(state, Setups.SECOND));
        for (RunInput input : bay.inputs) {
            RunState next = RunMachine.step(state, input).state();
            if (!next.key().equals(state.key())) {
                reached.add(new Reached(next, input.atNanos()));
            }
            state = next;
        }
        return reached;
    }

    private void explore(RunState state, long now, int depth) {
        states.add(state.key());
        if (depth == 0) {
            return;
        }
        long at = now + STEP_NANOS;
        for (LongFunction<RunInput> letter : alphabet()) {
            RunInput input = letter.apply(at);
            RunStep step = step(state, input);
            steps++;
            assertEquals(step, RunMachine.step(state, input), "the same again");
            check(state, input, step);
            explore(step.state(), input.atNanos(), depth - 1);
        }
    }

    private static RunStep step(RunState state, RunInput input) {
        try {
            return RunMachine.step(state, input);
        } catch (RuntimeException bug) {
            throw new AssertionError(state.key() + " could not take " + input, bug);
        }
    }

    private void check(RunState state, RunInput input, RunStep step) {
        if (state instanceof RunState.Ended) {
            assertSame(state, step.state());
            assertTrue(step.commands().isEmpty());
            return;
        }
        if (input instanceof RunInput.Turn && step.state().equals(state)) {
            assertSame(state, step.state(), "an idle turn");
            assertTrue(step.commands().isEmpty());
        }
        if (step.state() instanceof RunState.Ended ended) {
            ends.add(ended.outcome().key());
            assertFalse(ended.outcome().reason().isBlank());
            OutcomeTest.assertSafe(state.sensed().setup(), step.commands());
        }
        if (step.state() instanceof RunState.Draining draining
                && !(state instanceof RunState.Draining)
                && draining.outcome() instanceof Outcome.Measured(CatchResult result)) {
            measuredByTheBook(state, result);
        }
    }

    /** A measured outcome came out of the comparison, of a whole window, with all its readings. */
    private static void measuredByTheBook(RunState state, CatchResult result) {
        assertTrue(state instanceof RunState.Comparing, state.key());
        Sensed sensed = state.sensed();
        assertTrue(result.windowNanos() >= sensed.plan().catchNanos(), "a whole window");
        assertTrue(
                sensed.setup().scale().isEmpty()
                        || sensed.ledger().tare().isPresent()
                                && sensed.ledger().gross().isPresent());
        assertTrue(sensed.ledger().durableNanos() >= ((RunState.Comparing) state).sinceNanos());
        assertTrue(sensed.ledger().confirmedBy().isPresent());
    }
}
