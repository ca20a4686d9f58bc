package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.SweepTask;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a person types, and what the run makes of it. */
@Timeout(60)
final class TerminalOperatorTest {

    private static final long NOW = PlayedBay.START_NANOS;

    private final ByteArrayOutputStream shown = new ByteArrayOutputStream();
    private final PipedOutputStream keyboard = new PipedOutputStream();

    private TerminalOperator operator(InputStream in, VolumeUnit unit) {
        return operator(in, unit, List.of("The hose is coupled."), PlayedBay.setup());
    }

    private TerminalOperator operator(
            InputStream in, VolumeUnit unit, List<String> own, RunSetup setup) {
        return new TerminalOperator(
                new PlayedBay().time, unit, own, setup, in, new PrintStream(shown, true), true);
    }

    private TerminalOperator typing(String text) {
        return operator(
                new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)),
                VolumeUnit.US_GALLON);
    }

    private TerminalOperator atKeyboard() throws IOException {
        return operator(new PipedInputStream(keyboard), VolumeUnit.US_GALLON);
    }

    private void type(String text) throws IOException {
        keyboard.write(text.getBytes(StandardCharsets.UTF_8));
        keyboard.flush();
    }

    private static List<RunInput> drained(TerminalOperator operator) throws PortException {
        List<RunInput> inputs = new ArrayList<>();
        operator.drain(inputs::add);
        return inputs;
    }

    /** Drains until something comes. */
    private static RunInput awaited(TerminalOperator operator) throws Exception {
        List<RunInput> inputs = drained(operator);
        while (inputs.isEmpty()) {
            Thread.sleep(2);
            inputs = drained(operator);
        }
        assertEquals(1, inputs.size());
        return inputs.getFirst();
    }

    private void assertShown(String... lines) {
        assertEquals(List.of(lines), shown.toString(StandardCharsets.UTF_8).lines().toList());
    }

    @Test
    void theChecklistIsShownAndConfirmedByName() throws Exception {
        TerminalOperator operator = typing("  M. Example \n");
        operator.ask(Question.CHECKLIST);
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
        assertShown(
                "  [ ] The hose is coupled.",
                "  The line 'stop' ends the run at any time. It does not stop the truck.",
                "? Walk through the checklist; recirculation and every other outlet are shut. Type"
                        + " your name when all is so.");
    }

    /** A name in the air while the program began is no confirmation of what nobody has read. */
    @Test
    void atATerminalNothingIsAnsweredBeforeItIsAsked() throws Exception {
        TerminalOperator operator =
                new TerminalOperator(
                        new PlayedBay().time,
                        VolumeUnit.US_GALLON,
                        List.of("The hose is coupled."),
                        PlayedBay.setup(),
                        new PipedInputStream(keyboard),
                        new PrintStream(shown, true),
                        false);
        type("M. Early\n");
        Thread.sleep(100);
        operator.ask(Question.CHECKLIST);
        assertTrue(
                shown.toString(StandardCharsets.UTF_8)
                        .startsWith("! 'M. Early' was typed before the question"),
                shown::toString);
        assertEquals(List.of(), drained(operator));
        type("M. Example\n");
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
    }

    @Test
    void onlyEnterAloneSaysThatSomethingIsDone() throws Exception {
        TerminalOperator operator = atKeyboard();
        operator.ask(new SweepTask.EmptyTank());
        type("not yet\n");
        while (!shown.toString(StandardCharsets.UTF_8).contains("'not yet'")) {
            assertEquals(List.of(), drained(operator));
            Thread.sleep(2);
        }
        type("\n");
        assertEquals(new RunInput.Done(NOW, Question.SWEEP_STEP), awaited(operator));
    }

    /** A total that was typed too high shows itself at the next one, and is told of. */
    @Test
    void aTotalThatIsLessThanTheLastIsAskedForTwice() throws Exception {
        TerminalOperator operator = typing("1035.2\n1003.51\n1003.51\n");
        operator.ask(Question.TOTAL_AFTER);
        awaited(operator);
        operator.ask(Question.TOTAL_BEFORE);
        assertEquals(new RunInput.TotalTyped(NOW, Volume.ofUsGallons(1003.51)), awaited(operator));
        assertTrue(
                shown.toString(StandardCharsets.UTF_8)
                        .contains("! '1003.51': that is less than the 1035.2 typed last"),
                shown::toString);
    }

    /** A shop without a list of its own is shown the program's, whole. */
    @Test
    void theProgramsOwnListStandsWhereTheShopHasNone() {
        RunSetup setup = PlayedBay.setup();
        operator(InputStream.nullInputStream(), VolumeUnit.US_GALLON, List.of(), setup)
                .ask(Question.CHECKLIST);
        List<String> boxes =
                shown.toString(StandardCharsets.UTF_8)
                        .lines()
                        .filter(line -> line.startsWith("  [ ] "))
                        .map(line -> line.substring(6))
                        .toList();
        assertEquals(Cautions.ofCatch(setup), boxes);
    }

    /** What is confirmed once for several runs is shown as it was given, and nothing with it. */
    @Test
    void cautionsAreOneList() throws Exception {
        TerminalOperator operator = typing("M. Example\n");
        assertEquals(List.of("The hose is coupled."), operator.ownChecklist());
        operator.ask(new CheckTask.Cautions(List.of("There is liquid in the catch tank.")));
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
        assertShown(
                "  [ ] There is liquid in the catch tank.",
                "  The line 'stop' ends it at any time. It stops nothing but the bay.",
                "? Walk through the list. Type your name when all is so; only then does anything"
                        + " move.");
        operator.ask(new CheckTask.Cautions(List.of("There is liquid in the catch tank.")));
        PortException closed = assertThrows(PortException.class, () -> awaited(operator));
        assertTrue(
                closed.getMessage().contains("\"Walk through the list. Type"), closed::getMessage);
    }

    /** Where the bay's own supply is opened by hand nobody looks for a truck. */
    @Test
    void theBaysOwnSupplyIsCalledSo() {
        RunSetup setup = PlayedBay.setup();
        RunSetup.Truck truck = setup.truck();
        RunSetup supply =
                setup.ofBayItself(
                        new RunSetup.Truck(
                                RunSetup.Truck.BAY_SUPPLY,
                                truck.constant(),
                                truck.control(),
                                truck.debounceNanos()),
                        setup.asked(),
                        setup.plan());
        TerminalOperator operator =
                operator(InputStream.nullInputStream(), VolumeUnit.US_GALLON, List.of(), supply);
        operator.ask(Question.START_FLOW);
        operator.ask(Question.STOP_FLOW);
        assertShown(
                "? Open the bay's own supply now, then press Enter.",
                "",
                "? Shut the bay's own supply now, then press Enter.");
    }

    @Test
    void aFlowIsSetByHandAndAnEnterSaysSo() throws Exception {
        TerminalOperator operator = atKeyboard();
        HuntTask task =
                new HuntTask.SetValve(
                        FlowRate.perMinute(1.25, VolumeUnit.US_GALLON),
                        true,
                        FlowRate.perMinute(2.5, VolumeUnit.US_GALLON));
        operator.ask(task);
        type("\n");
        assertEquals(new RunInput.Done(NOW, Question.HUNT_STEP), awaited(operator));
        assertShown(
                "? The controller stays in manual. Open the valve slowly until about 1.25 US"
                        + " gal/min flow by the screen (more than 2.50, and the bay stops), then"
                        + " press Enter.");
        operator.ask(
                new HuntTask.SetSpeed(
                        FlowRate.perMinute(10, VolumeUnit.US_GALLON), Speed.ofMilesPerHour(40)));
        type("stop\n");
        assertInstanceOf(RunInput.StopPressed.class, awaited(operator));
    }

    @Test
    void nobodyConfirmsTheChecklist() throws Exception {
        TerminalOperator operator = atKeyboard();
        operator.ask(Question.CHECKLIST);
        type("\nM. Example\n");
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
        assertTrue(
                shown.toString(StandardCharsets.UTF_8)
                        .contains("! '': give a person's name. Type it again."),
                shown::toString);
    }

    @Test
    void totalsAreInTheDisplaysUnit() throws Exception {
        TerminalOperator operator =
                operator(
                        new ByteArrayInputStream("12.5\n".getBytes(StandardCharsets.UTF_8)),
                        VolumeUnit.IMPERIAL_GALLON);
        operator.ask(Question.TOTAL_BEFORE);
        assertEquals(
                new RunInput.TotalTyped(NOW, Volume.of(12.5, VolumeUnit.IMPERIAL_GALLON)),
                awaited(operator));
        assertShown(
                "? Nothing flows. Type the total that the truck's display shows now. [Imp gal]");
    }

    @Test
    void whatIsNoNumberIsAskedAgain() throws Exception {
        TerminalOperator operator = typing("12,5\n-3\nNaN\n1e3\n0x1p3\n7d\n.\n 12.50 \n");
        operator.ask(Question.TOTAL_AFTER);
        assertEquals(new RunInput.TotalTyped(NOW, Volume.ofUsGallons(12.5)), awaited(operator));
        List<String> refusals =
                shown.toString(StandardCharsets.UTF_8)
                        .lines()
                        .filter(line -> line.startsWith("!"))
                        .toList();
        assertEquals(7, refusals.size());
        assertEquals(
                "! '12,5': that is not a number of at least 0; use digits and a point, as in 12.5."
                        + " Type it again.",
                refusals.getFirst());
    }

    /** Whatever is typed against a run that stands out must not keep it. */
    @Test
    void onlyEnterAloneKeepsARun() throws Exception {
        TerminalOperator operator = typing("no\n");
        operator.ask(Question.KEEP_RUN);
        assertThrows(PortException.class, () -> awaited(operator), "it waits for another line");
        String refusal = "! 'no': that is neither Enter alone nor 'stop'. Type it again.";
        assertTrue(shown.toString(StandardCharsets.UTF_8).contains(refusal), shown::toString);
    }

    @Test
    void saltIsInTons() throws Exception {
        TerminalOperator operator = typing("0.4\n");
        operator.ask(Question.SALT_REPORTED);
        assertEquals(
                new RunInput.SaltTyped(NOW, Mass.of(0.4, MassUnit.SHORT_TON)), awaited(operator));
    }

    @Test
    void anAnswerTypedAheadWaitsForItsQuestion() throws Exception {
        TerminalOperator operator = typing("M. Example\n12.5\n");
        Thread.sleep(50);
        assertEquals(List.of(), drained(operator));
        operator.ask(Question.CHECKLIST);
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
        assertEquals(List.of(), drained(operator), "the next line belongs to the next question");
        operator.ask(Question.TOTAL_BEFORE);
        assertEquals(new RunInput.TotalTyped(NOW, Volume.ofUsGallons(12.5)), awaited(operator));
    }

    @Test
    void aBareEnterTypedTooEarlyStartsNoFlow() throws Exception {
        TerminalOperator operator = atKeyboard();
        operator.ask(Question.TOTAL_BEFORE);
        type("12.5\n\n\n");
        assertEquals(new RunInput.TotalTyped(NOW, Volume.ofUsGallons(12.5)), awaited(operator));
        Thread.sleep(50);
        operator.ask(Question.START_FLOW);
        assertEquals(List.of(), drained(operator));
        type("\n");
        assertEquals(new RunInput.Done(NOW, Question.START_FLOW), awaited(operator));
    }

    @Test
    void stopIsHeardBehindAnythingTypedBefore() throws Exception {
        TerminalOperator operator = atKeyboard();
        type("what now\nstop\n");
        assertEquals(
                new RunInput.StopPressed(NOW, "the operator at the terminal"), awaited(operator));
        operator.ask(Question.CHECKLIST);
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "what now"), awaited(operator));
        type(" STOP \n");
        assertEquals(
                new RunInput.StopPressed(NOW, "the operator at the terminal"), awaited(operator));
    }

    @Test
    void aStuckKeyNeitherFillsTheHeapNorHidesTheStop() throws Exception {
        TerminalOperator operator = typing("\n".repeat(1000) + "x".repeat(3_000_000) + "\nstop\n");
        assertEquals(
                new RunInput.StopPressed(NOW, "the operator at the terminal"), awaited(operator));
        String refused = shown.toString(StandardCharsets.UTF_8);
        assertTrue(
                refused.startsWith("! 64 lines are waiting for their questions; '' is not taken."),
                refused);
        assertTrue(
                refused.contains("'" + "x".repeat(200) + "' is not taken."),
                "and it was cut at 200");
    }

    @Test
    void aTerminalThatClosesEndsTheRunOnceAnAnswerIsAwaited() throws Exception {
        TerminalOperator operator = typing("M. Example\n12.5");
        operator.ask(Question.CHECKLIST);
        assertEquals(new RunInput.ChecklistConfirmed(NOW, "M. Example"), awaited(operator));
        assertEquals(List.of(), drained(operator));
        operator.ask(Question.TOTAL_BEFORE);
        assertEquals(
                new RunInput.TotalTyped(NOW, Volume.ofUsGallons(12.5)),
                awaited(operator),
                "a last line needs no line feed");
        operator.ask(Question.STOP_FLOW);
        PortException closed = assertThrows(PortException.class, () -> awaited(operator));
        assertEquals(
                "The terminal closed before this was answered: \"Stop the truck's liquid flow now,"
                        + " then press Enter.\" Keep it open until the end.",
                closed.getMessage());
    }

    /** Where rows of how the run stands are above it, its line is not the end of theirs. */
    @Test
    void theMostUrgentQuestionStandsByItself() throws Exception {
        typing("").ask(Question.STOP_FLOW);
        assertShown("", "? Stop the truck's liquid flow now, then press Enter.");
    }

    @Test
    void speedIsConfirmedByNameOnItsOwn() throws Exception {
        TerminalOperator operator = typing("M. Example\n");
        operator.ask(Question.SPEED_CHECKLIST);
        assertEquals(new RunInput.SpeedConfirmed(NOW, "M. Example"), awaited(operator));
        assertTrue(
                shown.toString(StandardCharsets.UTF_8).contains("conveyor, auger and spinner may"),
                "what may happen is said");
    }

    @Test
    void aTestSpeedIsToBeSetByHandWhereNoneCanBeSent() {
        assertEquals(Optional.empty(), TerminalOperator.testSpeed(PlayedBay.setup()));
        String satellite =
                PlayedBay.SETTINGS.replace(
                        "[trucks.T-12]", "[trucks.T-12]\nspeed_source = \"satellite\"");
        assertEquals(
                Optional.of("The controller's own test speed is set to 30.0 mph, by hand."),
                TerminalOperator.testSpeed(PlayedBay.setup(satellite)));
    }
}
