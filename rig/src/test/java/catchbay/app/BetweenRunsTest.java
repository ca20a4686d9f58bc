package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.plan.Ways;
import catchbay.port.Computer;
import catchbay.port.Operator;
import catchbay.port.PortKind;
import catchbay.port.Source;
import catchbay.port.Supervisor;
import catchbay.port.Timekeeper;
import catchbay.run.BayContact;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Part;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.store.DataFolder;
import catchbay.store.RecordStore;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.LongFunction;

/** What whoever looks on is told while a person is awaited between two runs. */
@Timeout(60)
final class BetweenRunsTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final long SECOND = 1_000_000_000L;
    private static final long PATIENCE = 300 * SECOND;
    private static final int LOOKS_MAX = 10_000;

    @TempDir Path folder;

    private final PlayedBay bay = new PlayedBay();
    private final Person person = new Person();
    private final Clock clock = new Clock();
    private Path file;
    private DataFolder data;
    private RecordStore store;
    private StopSignal stop;

    @BeforeEach
    void open() throws Exception {
        file = folder.resolve("events.jsonl");
        data = DataFolder.open(folder.resolve("data"), ZonedDateTime.parse("2026-02-03T10:00:00Z"));
        store = data.openRecords();
        stop = StopSignal.listening(bay.time);
    }

    @AfterEach
    void close() throws Exception {
        stop.close();
        store.close();
        data.close();
    }

    /** Played time, which waits at each full second of a wait until its line is written. */
    private final class Clock implements Timekeeper {
        private boolean waitsForLines = true;
        private long wakings;

        @Override
        public long monotonicNanos() {
            return bay.nowNanos();
        }

        @Override
        public Instant wallTime() {
            return bay.time.wallTime();
        }

        @Override
        public String bootId() {
            return bay.time.bootId();
        }

        @Override
        public boolean movesOnlyInSleep() {
            return true;
        }

        @Override
        public void sleepUntil(long deadlineNanos) {
            long turnsInSecond = SECOND / RunLoop.TURN_NANOS;
            if (waitsForLines && wakings % turnsInSecond == 0) {
                awaitLines(1 + wakings / turnsInSecond);
            }
            wakings++;
            bay.time.sleepUntil(deadlineNanos);
        }
    }

    /** Not for ever: a line that is never told is a failure, and no test that hangs. */
    private void awaitLines(long count) {
        for (int i = 0; lines().size() < count; i++) {
            assertTrue(i < LOOKS_MAX, () -> count + " lines are due, there are " + lines());
            LockSupport.parkNanos(1_000_000);
        }
    }

    /** Answers what was asked after some time. */
    private final class Person implements Operator {
        private double answersAfter = 2.5;
        private LongFunction<RunInput> answer;
        private long dueNanos;

        private void asked(LongFunction<RunInput> input) {
            answer = input;
            dueNanos = bay.nowNanos() + (long) (answersAfter * SECOND);
        }

        @Override
        public void ask(Question question) {
            asked(
                    question == Question.SPEED_CHECKLIST
                            ? now -> new RunInput.SpeedConfirmed(now, "S. Tester")
                            : now -> new RunInput.Done(now, question));
        }

        @Override
        public void ask(ScaleTask task) {
            throw new AssertionError(task.words());
        }

        @Override
        public void ask(HuntTask task) {
            throw new AssertionError(task.words());
        }

        @Override
        public void ask(SweepTask task) {
            ask(Question.SWEEP_STEP);
        }

        @Override
        public void ask(CheckTask task) {
            asked(now -> new RunInput.ChecklistConfirmed(now, "A. Tester"));
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            if (answer != null && bay.nowNanos() >= dueNanos) {
                RunInput given = answer.apply(bay.nowNanos());
                answer = null;
                into.accept(given);
            }
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private interface Wait {
        void on(BetweenRuns people);
    }

    private List<String> lines() {
        try {
            String text = Files.exists(file) ? Files.readString(file) : "";
            // The last one may be half written.
            return text.substring(0, text.lastIndexOf('\n') + 1).lines().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void waits(LiveEvents events, Wait wait) throws Exception {
        RunLoop.Ports played = bay.ports();
        List<RunLoop.NamedSource> sources = new ArrayList<>(played.sources());
        sources.add(
                new RunLoop.NamedSource(
                        "pulses", (Source) AbsentPorts.of(PortKind.PULSES).open(null)));
        OpenBay open =
                new OpenBay(
                        new RunLoop.Ports(
                                clock, sources, played.outputs(), played.pulses(), person),
                        PlayedBay.setup(),
                        _ -> {
                            throw new AssertionError("no line is opened anew");
                        },
                        (Computer) AbsentPorts.of(PortKind.COMPUTER).open(null),
                        (Supervisor) AbsentPorts.of(PortKind.SUPERVISOR).open(null),
                        true,
                        _ -> Ways.of(PlayedBay.setup()),
                        ZoneId.of("UTC"),
                        data.traces(),
                        new Bookkeeping(data.traces(), store),
                        new Screen(
                                () -> new PrintStream(PrintStream.nullOutputStream()), false, 78),
                        events);
        open.ports().drain(_ -> {});
        wait.on(new BetweenRuns(open, stop));
    }

    private List<JsonNode> told(Wait wait) throws Exception {
        try (LiveEvents events = new LiveEvents(file)) {
            waits(events, wait);
        }
        List<JsonNode> told = new ArrayList<>();
        for (String line : lines()) {
            JsonNode moment = JSON.readTree(line);
            assertEquals("between-catches", moment.get("state").asText(), line);
            assertFalse(moment.has("run"), line);
            told.add(moment);
        }
        return told;
    }

    /** Begun, after one second and after two, and over. */
    private static void assertAwaited(List<JsonNode> told, int secondsMost, String words) {
        assertEquals(4, told.size(), told::toString);
        for (int second = 0; second < 3; second++) {
            JsonNode line = told.get(second);
            assertEquals(words, line.get("words").asText());
            assertEquals("the next catch", line.get("next").asText());
            assertEquals(second, line.get("state_seconds").asDouble(), 0.05);
            assertEquals(secondsMost - second, line.get("left_seconds").asDouble(), 0.05);
            assertTrue(line.get("left_at_most").asBoolean());
            assertTrue(line.get("awaits_person").asBoolean());
        }
        JsonNode over = told.getLast();
        assertEquals("what was awaited is there", over.get("words").asText());
        assertEquals(2.5, over.get("state_seconds").asDouble(), 0.05);
        assertFalse(over.get("awaits_person").asBoolean());
        assertFalse(over.has("next") || over.has("left_seconds"), over::toString);
    }

    @Test
    void aTaskIsToldAsItBeginsEverySecondAndWhenItIsDone() throws Exception {
        SweepTask task = new SweepTask.EmptyTank();
        List<JsonNode> told =
                told(people -> {
                    people.ofSweep("S-1");
                    people.beforeLeg(3);
                    assertTrue(people.done(task, PATIENCE));
                });
        assertAwaited(told, 300, task.words());
        for (JsonNode line : told) {
            assertEquals("S-1", line.get("sweep").asText());
            assertEquals(3, line.get("leg").asInt());
        }
    }

    @Test
    void theChecklistIsToldBeforeTheFirstCatch() throws Exception {
        CheckTask list = new CheckTask.Cautions(List.of("Gloves are worn."));
        List<JsonNode> told =
                told(people -> {
                    people.ofSweep("S-1");
                    assertTrue(
                            people.confirmed(List.of("Gloves are worn."), false, 300 * SECOND)
                                    .isPresent());
                });
        assertAwaited(told, 300, list.words());
        assertFalse(told.getFirst().has("leg"), "what comes first is not known yet");
    }

    @Test
    void whatIsToBeKnownOfSpeedFollowsTheChecklist() throws Exception {
        person.answersAfter = 0;
        clock.waitsForLines = false;
        List<JsonNode> told =
                told(people -> people.confirmed(List.of("Gloves are worn."), true, PATIENCE));
        // Nothing slows this one: only the newest moment is sure to be told.
        assertFalse(told.getLast().get("awaits_person").asBoolean());
        for (JsonNode line : told) {
            boolean speed = line.get("words").asText().startsWith("Speed is about to be sent");
            boolean list = line.get("words").asText().startsWith("Walk through the list");
            String next = line.path("next").asText();
            assertTrue(!speed || next.equals("the next catch"), line::toString);
            assertTrue(!list || next.equals("the checklist for speed"), line::toString);
        }
    }

    /** Of a long interval the last minute is for coming. */
    @Test
    void presenceIsTold() throws Exception {
        bay.standStill(1000);
        assertAwaited(
                told(people -> assertTrue(people.present(Part.Presence.whole(900 * SECOND)))),
                60,
                Question.PRESENCE.words());
    }

    /** A fifth of ten seconds is for coming. */
    @Test
    void whoeverDoesNotComeIsNoLongerAwaited() throws Exception {
        bay.standStill(1000);
        person.answersAfter = 1000;
        List<JsonNode> told =
                told(people -> assertFalse(people.present(Part.Presence.whole(10 * SECOND))));
        assertEquals("nobody answered", told.getLast().get("words").asText());
        assertFalse(told.getLast().get("awaits_person").asBoolean());
        assertFalse(told.getLast().has("leg") || told.getLast().has("sweep"));
    }

    @Test
    void aContactThatIsStillActiveIsTold() throws Exception {
        bay.input(0, now -> new RunInput.Contact(now, BayContact.EMERGENCY_STOP, true))
                .input(1.5, now -> new RunInput.Contact(now, BayContact.SPILL, true))
                .input(1.6, now -> new RunInput.Contact(now, BayContact.EMERGENCY_STOP, false))
                .input(3.2, now -> new RunInput.Contact(now, BayContact.SPILL, false));
        List<JsonNode> told = told(people -> assertTrue(people.cleared(PATIENCE)));
        List<String> words = told.stream().map(line -> line.get("words").asText()).toList();
        String emergency = "Contact emergency-stop is still active.";
        String spill = "Contact spill is still active.";
        assertEquals(
                List.of(emergency, emergency, spill, spill, "what was awaited is there"), words);
        assertEquals("the checklist", told.getFirst().get("next").asText());
        assertTrue(told.getFirst().get("awaits_person").asBoolean());
    }

    /** A pipe that nobody reads takes nothing; the wait ends as it would have. */
    @Test
    void whoeverLooksOnAndReadsNothingHoldsNobody() throws Exception {
        clock.waitsForLines = false;
        Path pipe = folder.resolve("look");
        assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
        person.answersAfter = 290;
        LiveEvents events = new LiveEvents(pipe);
        waits(events, people -> assertTrue(people.done(new SweepTask.EmptyTank(), PATIENCE)));
    }
}
