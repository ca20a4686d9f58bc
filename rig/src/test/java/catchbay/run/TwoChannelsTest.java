package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * Whole runs with a reference meter of two channels (the idea of ISO 6551 and API MPMS 5.5, from
 * memory): what they prove stands in the result, and where they part the catch is void.
 */
final class TwoChannelsTest {

    private static Setups flying() {
        Setups setups = new Setups();
        setups.twoChannels = true;
        return setups;
    }

    private static Setups standing() {
        Setups setups = Setups.display();
        setups.twoChannels = true;
        return setups;
    }

    private static String note(CatchResult result) {
        List<String> notes =
                result.notes().stream().filter(note -> note.startsWith("Both channels")).toList();
        assertEquals(1, notes.size(), () -> result.notes().toString());
        return notes.getFirst();
    }

    @Test
    void channelsThatAgreeSayHowManyPulsesEachGave() {
        for (Setups setups : List.of(flying(), standing())) {
            Rehearsal bay = new Rehearsal(setups);
            if (setups.window == RunSetup.Window.STANDING) {
                bay.reportedPerMinute = 5;
            }
            CatchResult result = bay.result();
            long first = bay.state.sensed().lines().reference().inside().pulses();
            long second = bay.state.sensed().lines().second().inside().pulses();
            assertTrue(Math.abs(first - second) <= 1, first + " and " + second);
            assertEquals(
                    "Both channels of the reference meter agree: "
                            + first
                            + " and "
                            + second
                            + " pulses, one of each in turn throughout, so none was missed or added"
                            + " on one of them alone.",
                    note(result));
        }
    }

    /** The second channel changes no figure: it only holds the first. */
    @Test
    void theAmountIsThatOfTheFirstChannel() {
        CatchResult one = new Rehearsal(new Setups()).result();
        CatchResult two = new Rehearsal(flying()).result();
        assertEquals(one.comparison().measured().volume(), two.comparison().measured().volume());
        assertEquals(one.count(), two.count());
        assertTrue(one.notes().stream().noneMatch(note -> note.contains("channel")));
    }

    private static Outcome.Void voided(Rehearsal bay) {
        Outcome outcome = bay.outcome();
        return assertInstanceOf(Outcome.Void.class, outcome, outcome.reason());
    }

    /** One edge of a line between two of its own, as noise makes it. */
    private static void stray(Rehearsal bay, PulseLine line) {
        long last = bay.state.sensed().lines().of(line).lastNanos();
        stray(bay, line, last + Math.round(0.1e9 / bay.hertz.get(line)));
    }

    private static void stray(Rehearsal bay, PulseLine line, long stamp) {
        PulseGate gate = bay.state.sensed().lines().of(line);
        bay.give(new RunInput.Edges(line, EdgeBatch.of(gate.inside().lastSequence() + 1, stamp)));
        bay.skipNumber(line);
    }

    @Test
    void onePulseTooManyOnEitherChannelEndsTheCatchEarly() {
        for (Setups setups : List.of(flying(), standing())) {
            for (PulseLine line : List.of(PulseLine.REFERENCE, PulseLine.REFERENCE_SECOND)) {
                Rehearsal bay = new Rehearsal(setups).until("catching").run(20);
                stray(bay, line);
                bay.run(1);
                RunState.Ended ended = assertInstanceOf(RunState.Ended.class, bay.state);
                Outcome.Void end = assertInstanceOf(Outcome.Void.class, ended.outcome());
                assertEquals(Cause.CHANNELS_PART, end.cause(), end.reason());
                String which = line == PulseLine.REFERENCE ? "first" : "second";
                assertTrue(
                        end.reason().contains("the " + which + " has one too many"), end.reason());
                assertTrue(end.reason().contains("s after the window's opening"), end.reason());
            }
        }
    }

    /** A pulse that nothing numbered. */
    @Test
    void onePulseTooFewOnEitherChannelEndsTheCatchEarly() {
        for (PulseLine line : List.of(PulseLine.REFERENCE, PulseLine.REFERENCE_SECOND)) {
            Rehearsal bay = new Rehearsal(flying()).until("catching").run(20);
            bay.missOne(line);
            bay.run(1);
            RunState.Ended ended = assertInstanceOf(RunState.Ended.class, bay.state);
            Outcome.Void end = assertInstanceOf(Outcome.Void.class, ended.outcome());
            assertEquals(Cause.CHANNELS_PART, end.cause(), end.reason());
            String which = line == PulseLine.REFERENCE ? "first" : "second";
            assertTrue(end.reason().contains("the " + which + " has one too few"), end.reason());
        }
    }

    @Test
    void edgesLostOnTheSecondChannelVoidTheCatchByTheirNumbers() {
        Rehearsal bay = new Rehearsal(flying()).until("catching").run(20);
        bay.skipNumber(PulseLine.REFERENCE_SECOND);
        Outcome.Void end = voided(bay);
        assertEquals(Cause.EDGES_LOST, end.cause(), end.reason());
    }

    @Test
    void aSecondChannelThatDiesWithinTheCatchIsNamed() {
        for (Setups setups : List.of(flying(), standing())) {
            Rehearsal bay = new Rehearsal(setups).until("catching").run(20);
            bay.hertz.remove(PulseLine.REFERENCE_SECOND);
            bay.run(2);
            RunState.Ended ended = assertInstanceOf(RunState.Ended.class, bay.state);
            Outcome.Void end = assertInstanceOf(Outcome.Void.class, ended.outcome());
            assertEquals(Cause.CHANNELS_PART, end.cause(), end.reason());
            assertTrue(
                    end.reason().contains("second channel of the reference meter gave nothing"),
                    end.reason());
        }
    }

    /** Even where the scale measures: a reference that lies cannot check it. */
    @Test
    void channelsThatPartVoidACatchByTheScaleToo() {
        Setups setups = flying();
        setups.measureBy = MeasureBy.SCALE;
        Rehearsal bay = new Rehearsal(setups).until("catching").run(20);
        stray(bay, PulseLine.REFERENCE_SECOND);
        assertEquals(Cause.CHANNELS_PART, voided(bay).cause());
    }

    /**
     * Noise on a second channel that settles the flow, or trails it, is no matter of the window.
     */
    @Test
    void channelsThatPartBeforeTheWindowAreNoMatter() {
        Rehearsal bay = new Rehearsal(flying()).until("settling").run(1);
        PulseGate gate = bay.state.sensed().lines().second();
        bay.give(
                new RunInput.Edges(
                        PulseLine.REFERENCE_SECOND,
                        EdgeBatch.of(gate.before().lastSequence() + 1, gate.lastNanos() + 1000)));
        bay.skipNumber(PulseLine.REFERENCE_SECOND);
        assertFalse(note(bay.result()).isEmpty());
    }

    /** Both channels alike: nothing tells, in a train that is uneven anyway. */
    @Test
    void whatComesOnBothChannelsAtOnceIsNotSeenByThem() {
        Setups setups = standing();
        Rehearsal bay = new Rehearsal(setups).until("catching").run(20);
        bay.reportedPerMinute = 5;
        stray(bay, PulseLine.REFERENCE, bay.now());
        stray(bay, PulseLine.REFERENCE_SECOND, bay.now());
        assertFalse(note(bay.result()).isEmpty());
    }
}
