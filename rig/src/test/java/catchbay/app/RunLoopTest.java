package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.run.BayCommand;
import catchbay.run.BayContact;
import catchbay.run.Outcome;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunState;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;

/** The loop as a timetable: what comes in when, and what it makes of it. */
final class RunLoopTest {

    private final PlayedBay bay = new PlayedBay();
    private final PlayedBay.MemoryTrace trace = new PlayedBay.MemoryTrace();
    private final List<String> states = new ArrayList<>();
    private RunState last;

    private Outcome run() {
        return new RunLoop(bay.ports(), trace, this::watch).run(PlayedBay.setup());
    }

    private void watch(RunState state, long nowNanos) {
        last = state;
        if (states.isEmpty() || !states.getLast().equals(state.key())) {
            states.add(state.key());
        }
    }

    private static PortException gone(String sentence) {
        return new PortException(PortException.Kind.GONE, sentence);
    }

    private Outcome.Void assertVoid(Outcome.Cause cause, Outcome outcome) {
        Outcome.Void ended = assertInstanceOf(Outcome.Void.class, outcome);
        assertEquals(cause, ended.cause(), ended.reason());
        assertEquals(1, bay.madeSafe);
        assertSafe(bay.performed);
        return ended;
    }

    /** The last word to every output is its safe one. */
    private static void assertSafe(List<BayCommand.Output> performed) {
        assertEquals(
                List.of(
                        new BayCommand.Drain(false),
                        new BayCommand.Supply(false),
                        new BayCommand.GroundSpeed(0),
                        new BayCommand.Feeder(0)),
                performed.subList(performed.size() - 4, performed.size()));
    }

    @Test
    void aCatchRunsThroughItsStates() {
        Outcome.Measured measured = assertInstanceOf(Outcome.Measured.class, run());
        assertEquals(
                List.of(
                        "confirming",
                        "resting",
                        "reading",
                        "catching",
                        "stilling",
                        "dripping",
                        "weighing",
                        "reading",
                        "comparing",
                        "ended"),
                states);
        assertEquals(
                List.of(
                        Question.CHECKLIST,
                        Question.TOTAL_BEFORE,
                        Question.START_FLOW,
                        Question.STOP_FLOW,
                        Question.TOTAL_AFTER),
                bay.asked);
        // The operator takes a tenth of a second to stop the flow after its two seconds.
        assertEquals(
                2.1 * PlayedBay.KILOGRAMS_PER_SECOND,
                measured.result().netReading().orElseThrow().kilograms(),
                0.011);
        assertEquals(5.0, measured.result().comparison().meterError().percent(), 0.3);
        assertEquals(1, bay.madeSafe);
        assertSafe(bay.performed);
    }

    @Test
    void theTraceHoldsInputsThenStateThenCommandsInOrder() {
        run();
        assertEquals(
                List.of(
                        "{\"at\":10000000000,\"turn\":1}",
                        "{\"at\":10000000000,\"state\":\"confirming\"}",
                        "{\"at\":10000000000,\"command\":\"drain\",\"open\":false}",
                        "{\"at\":10000000000,\"command\":\"supply\",\"on\":false}",
                        "{\"at\":10000000000,\"command\":\"ground-speed\",\"hertz\":0.0}",
                        "{\"at\":10000000000,\"command\":\"feeder\",\"hertz\":0.0}",
                        "{\"at\":10000000000,\"command\":\"ask\",\"question\":\"checklist\"}",
                        "{\"at\":10000000000,\"scale\":\"weight\",\"amount\":20.0,\"unit\":\"kg\","
                                + "\"net\":false,\"motion\":false}",
                        "{\"at\":10100000000,\"scale\":\"weight\",\"amount\":20.0,\"unit\":\"kg\","
                                + "\"net\":false,\"motion\":false}",
                        "{\"at\":10100000000,\"checklist\":\"A. Tester\"}",
                        "{\"at\":10100000000,\"state\":\"resting\"}"),
                trace.lines.subList(0, 11));
        List<String> inTrace =
                trace.lines.stream()
                        .filter(line -> line.contains("\"state\""))
                        .map(line -> line.replaceAll(".*\"state\":\"([a-z]+)\".*", "$1"))
                        .toList();
        assertEquals(states, inTrace);
        assertEquals(
                bay.performed.size() + bay.asked.size() + 1, // and one "secure-trace"
                trace.lines.stream().filter(line -> line.contains("\"command\"")).count());
    }

    @Test
    void aTurnThatChangesNothingLeavesNoLine() {
        List<Long> turns = new ArrayList<>();
        new RunLoop(bay.ports(), trace, (state, now) -> turns.add(now)).run(PlayedBay.setup());
        long lines = trace.lines.stream().filter(line -> line.contains("\"turn\"")).count();
        assertTrue(turns.size() > 300, turns.size() + " turns were made");
        assertTrue(lines < 12, lines + " of " + turns.size() + " turns are in the trace");
        for (int i = 1; i < turns.size(); i++) {
            assertEquals(RunLoop.TURN_NANOS, turns.get(i) - turns.get(i - 1));
        }
    }

    @Test
    void aPortThatFailsVoidsTheRunAndMakesTheOutputsSafe() {
        bay.at(
                1.5,
                into -> {
                    throw gone("The float's wire is cut; mend it.");
                });
        Outcome.Void ended = assertVoid(Outcome.Cause.PORT_FAILED, run());
        assertEquals("The float's wire is cut; mend it.", ended.reason());
        assertTrue(
                trace.lines.contains(
                        "{\"at\":11500000000,\"port_failed\":\"contacts\","
                                + "\"reason\":\"The float's wire is cut; mend it.\"}"),
                trace.lines::toString);
        assertEquals("ended", states.getLast());
    }

    /** Suspended, or starved: what fell silent meanwhile is not to blame. */
    @Test
    void aStandstillWhileLiquidFlowsIsNamed() {
        bay.at(1.5, into -> bay.standStill(4));
        Outcome.Void ended = assertVoid(Outcome.Cause.PORT_FAILED, run());
        assertTrue(
                ended.reason().startsWith("The program itself stood still for 4.0 s while liquid"),
                ended::reason);
    }

    @Test
    void aStandstillBeforeLiquidFlowsHarmsNothing() {
        bay.at(0.1, into -> bay.standStill(4));
        assertInstanceOf(Outcome.Measured.class, run());
    }

    @Test
    void whatAPortSaidBeforeItFailedStillCounts() {
        bay.at(
                1.5,
                into -> {
                    into.accept(new RunInput.Contact(bay.nowNanos(), BayContact.HIGH_LEVEL, true));
                    throw gone("The float's wire is cut; mend it.");
                });
        assertVoid(Outcome.Cause.HIGH_LEVEL, run());
    }

    @Test
    void aBugMakesTheOutputsSafeAndIsNotHidden() {
        IllegalStateException bug = new IllegalStateException("a driver's bug");
        bay.at(
                1.5,
                into -> {
                    throw bug;
                });
        assertSame(bug, assertThrows(IllegalStateException.class, this::run));
        assertEquals(1, bay.madeSafe);
    }

    @Test
    void aBugInTheOutputsMakesThemSafeToo() {
        bay.driver =
                new PlayedBay.Driver() {
                    @Override
                    public void perform(BayCommand.Switched command) {
                        throw new IllegalStateException("a driver's bug");
                    }
                };
        assertThrows(IllegalStateException.class, this::run);
        assertEquals(1, bay.madeSafe);
    }

    @Test
    void pulsesThatCannotBeStoppedLetTheWatchdogRelayGo() {
        bay.pulser =
                new PlayedBay.Pulser() {
                    @Override
                    public boolean makeSafe() {
                        return false;
                    }
                };
        run();
        assertEquals(1, bay.letGo);
    }

    /** The watchdog relay's heartbeat hears of each turn, after all that is done in it. */
    @Test
    void theOutputsHearOfEveryTurnButTheLast() {
        List<String> heard = new ArrayList<>();
        bay.driver =
                new PlayedBay.Driver() {
                    @Override
                    public void turn() {
                        heard.add("turn");
                    }
                };
        new RunLoop(bay.ports(), trace, (state, now) -> heard.add("watched"))
                .run(PlayedBay.setup());
        for (int i = 0; i < heard.size(); i++) {
            assertEquals(i % 2 == 0 ? "watched" : "turn", heard.get(i));
        }
        assertEquals("watched", heard.getLast());
    }

    @Test
    void aHeartbeatThatFailsVoidsTheRun() {
        bay.driver =
                new PlayedBay.Driver() {
                    @Override
                    public void turn() throws PortException {
                        throw gone("The heartbeat's line has gone.");
                    }
                };
        Outcome.Void ended = assertVoid(Outcome.Cause.PORT_FAILED, run());
        assertEquals("The heartbeat's line has gone.", ended.reason());
    }

    @Test
    void anOutputThatFailsVoidsTheRun() {
        bay.driver =
                new PlayedBay.Driver() {
                    @Override
                    public void perform(BayCommand.Switched command) throws PortException {
                        if (command instanceof BayCommand.Supply) {
                            throw new PortException(
                                    PortException.Kind.UNFIT,
                                    "The supply's relay does not answer; check it.");
                        }
                    }
                };
        Outcome.Void ended = assertVoid(Outcome.Cause.PORT_FAILED, run());
        assertEquals("The supply's relay does not answer; check it.", ended.reason());
        assertEquals(List.of("ended"), states, "in the very turn in which it failed");
        // What comes after it in the same step is done all the same.
        assertEquals(new BayCommand.Feeder(0), bay.performed.get(3));
        assertTrue(
                trace.lines.contains(
                        "{\"at\":10000000000,\"port_failed\":\"outputs\","
                                + "\"reason\":\"The supply's relay does not answer; check it.\"}"),
                trace.lines::toString);
    }

    @Test
    void aTraceThatCannotBeWrittenVoidsTheRun() {
        bay.at(1.5, into -> trace.fails = "The disk is full; make room.");
        Outcome.Void ended = assertVoid(Outcome.Cause.TRACE_FAILED, run());
        assertEquals("The disk is full; make room.", ended.reason());
    }

    @Test
    void theOperatorStopsItAtAnyTime() {
        bay.input(1.5, at -> new RunInput.StopPressed(at, "A. Tester"));
        Outcome.Stopped stopped = assertInstanceOf(Outcome.Stopped.class, run());
        assertEquals("A. Tester", stopped.by());
        assertSafe(bay.performed);
        assertEquals(1, bay.madeSafe);
        assertEquals(1_500_000_000L, bay.nowNanos() - PlayedBay.START_NANOS);
        assertEquals(
                Question.STOP_FLOW,
                bay.asked.getLast(),
                "the truck still pumps, so he is told to stop it");
    }

    @Test
    void theEndBearsTheStampOfWhatEndedIt() {
        bay.input(1.5, at -> new RunInput.StopPressed(at - 3_000_000, "A. Tester"));
        RunLoop loop = new RunLoop(bay.ports(), trace, this::watch);
        loop.run(PlayedBay.setup());
        assertEquals(PlayedBay.START_NANOS + 1_497_000_000L, loop.endedNanos());
        assertTrue(
                trace.lines.contains("{\"at\":11497000000,\"state\":\"ended\"}"),
                trace.lines::toString);
    }

    @Test
    void nothingThatComesAfterTheEndIsTaken() {
        bay.at(
                1.5,
                into -> {
                    into.accept(new RunInput.StopPressed(bay.nowNanos(), "A. Tester"));
                    into.accept(new RunInput.Contact(bay.nowNanos(), BayContact.SPILL, true));
                });
        assertInstanceOf(Outcome.Stopped.class, run());
        assertFalse(
                trace.lines.stream().anyMatch(line -> line.contains("spill")),
                trace.lines::toString);
        assertInstanceOf(RunState.Ended.class, last);
    }
}
