package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunSetup.Feedback;
import catchbay.seeded.Seeds;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * A run is a function of its inputs, and where the door cut its edges into batches is none of them.
 */
final class SameInputSameOutcomeTest {

    private static List<Setups> setups() {
        Setups ends = new Setups();
        ends.diverter = Optional.of(Feedback.ENDS);
        ends.reported = Setups.line();
        Setups standing = Setups.scaleOnly();
        standing.reference = true;
        standing.purgeSeconds = 5;
        return List.of(new Setups(), ends, standing);
    }

    /** A run by the book, or with a meter that bounces, drops a pulse, or loses numbers. */
    private static Rehearsal bay(RandomGenerator random, Setups setups) {
        Rehearsal bay = new Rehearsal(setups);
        bay.hertz.computeIfPresent(
                PulseLine.REFERENCE, (line, hertz) -> hertz * random.nextDouble(0.995, 1.005));
        if (random.nextInt(3) == 0) {
            bay.until("catching").run(random.nextDouble(1, 80));
            long last = bay.state.sensed().lines().reference().inside().lastSequence();
            bay.give(
                    new RunInput.Edges(
                            PulseLine.REFERENCE,
                            EdgeBatch.of(last + 1 + random.nextInt(2), bay.now())));
        }
        bay.outcome();
        return bay;
    }

    @Test
    void splittingEdgesNeverChangesTheOutcome() {
        Seeds.forSeeds(
                60,
                random -> {
                    Rehearsal bay = bay(random, setups().get(random.nextInt(3)));
                    List<RunInput> pieces = new ArrayList<>();
                    for (RunInput input : bay.inputs) {
                        if (input instanceof RunInput.Edges(PulseLine line, EdgeBatch batch)
                                && batch.size() > 1) {
                            int at = random.nextInt(1, batch.size());
                            pieces.add(new RunInput.Edges(line, part(batch, 0, at)));
                            pieces.add(new RunInput.Edges(line, part(batch, at, batch.size())));
                        } else {
                            pieces.add(input);
                        }
                    }
                    assertTrue(pieces.size() > bay.inputs.size());
                    RunState split = Rehearsal.replay(bay.setup, pieces);
                    assertEquals(
                            ((RunState.Ended) bay.state).outcome(),
                            ((RunState.Ended) split).outcome());
                    assertEquals(bay.state, split);
                });
    }

    private static EdgeBatch part(EdgeBatch batch, int from, int to) {
        long[] stamps = new long[to - from];
        for (int i = from; i < to; i++) {
            stamps[i - from] = batch.stampNanos(i);
        }
        return EdgeBatch.of(batch.firstSequence() + from, stamps);
    }

    @Test
    void theSameInputsGiveTheSameStates() {
        for (Setups setups : setups()) {
            Rehearsal bay = new Rehearsal(setups);
            bay.result();
            RunState one = RunMachine.begin(bay.setup);
            RunState other = RunMachine.begin(bay.setup);
            for (RunInput input : bay.inputs) {
                RunStep first = RunMachine.step(one, input);
                RunStep second = RunMachine.step(other, input);
                assertEquals(first, second);
                one = first.state();
                other = second.state();
            }
            assertEquals(bay.state, one);
        }
    }

    /** More turns than the loop took, each without news in between, change nothing. */
    @Test
    void anIdleTurnIsNoInput() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.result();
        RunState state = RunMachine.begin(bay.setup);
        int idle = 0;
        for (RunInput input : bay.inputs) {
            RunStep step = RunMachine.step(state, input);
            if (input instanceof RunInput.Turn && step.commands().isEmpty()) {
                RunStep again = RunMachine.step(step.state(), input);
                if (step.state() == state) {
                    idle++;
                    assertSame(state, again.state());
                }
            }
            state = step.state();
        }
        assertTrue(idle > 5_000, "idle turns: " + idle);
    }

    /** Inputs after the end, among them edges, find the very same state. */
    @Test
    void theEndTakesNothingIn() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.result();
        RunState end = bay.state;
        for (RunInput input : bay.inputs) {
            RunStep step = RunMachine.step(end, input);
            assertSame(end, step.state());
            assertEquals(List.of(), step.commands());
        }
    }
}
