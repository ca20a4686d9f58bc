package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Pressure;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.HuntReading.Answer;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.LongFunction;

/**
 * A hunt on lines played by head: the reference gives 1000 pulses/US gal, the truck's meter owes
 * 600; in a step 1 US gal/min flows, which is 16.67 pulses/s and 10.
 */
final class HuntMachineTest {

    private static final long SECOND = Setups.SECOND;
    private static final long TURN = SECOND / 100;
    private static final long REFERENCE_NANOS = 60_000_000;
    private static final long TRUCK_NANOS = 100_000_000;

    private final List<BayCommand> commands = new ArrayList<>();
    private final List<HuntTask> tasks = new ArrayList<>();
    private long now = 10 * SECOND;
    private long nextReference = Long.MAX_VALUE;
    private long nextTruck = Long.MAX_VALUE;
    private long references = 1;
    private long trucks = 1;
    private long referenceNanos = REFERENCE_NANOS;
    private LongFunction<Boolean> counted = stamp -> true;
    private HuntState state;

    private static Part part() {
        return new Part(
                "hunt",
                1,
                "A. Tester",
                Optional.of("A. Tester"),
                Optional.of(new Part.Presence(900 * SECOND, 900 * SECOND)),
                0,
                Optional.empty(),
                Volume.ZERO,
                Optional.empty());
    }

    private void begins(RangeEnd end, Setups setups) {
        state =
                HuntMachine.begin(
                        HuntSetup.of(end, setups.build(), HuntRules.USUAL, false, part()));
        turn();
    }

    /** Its scale would want weights all the time. */
    private static Setups bay() {
        Setups setups = new Setups();
        setups.scale = false;
        return setups;
    }

    private double hertz() {
        return commands.stream()
                .filter(BayCommand.GroundSpeed.class::isInstance)
                .map(BayCommand.GroundSpeed.class::cast)
                .reduce((one, other) -> other)
                .orElseThrow()
                .hertz();
    }

    private void takes(RunInput input) {
        HuntStep step = HuntMachine.step(state, input);
        state = step.state();
        commands.addAll(step.commands());
        step.task().ifPresent(tasks::add);
    }

    private void turn() {
        takes(new RunInput.Turn(now));
        while (nextReference <= now) {
            takes(
                    new RunInput.Edges(
                            PulseLine.REFERENCE, EdgeBatch.of(references++, nextReference)));
            nextReference += referenceNanos;
        }
        while (nextTruck <= now) {
            if (counted.apply(nextTruck)) {
                takes(new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(trucks++, nextTruck)));
            }
            nextTruck += TRUCK_NANOS;
        }
        now += TURN;
    }

    private void passes(double seconds) {
        for (long until = now + (long) (seconds * SECOND); now < until; ) {
            turn();
        }
    }

    /** Liquid flows from now on, and the person says that it does. */
    private void flows() {
        nextReference = now + 1;
        nextTruck = now + 1;
        takes(new RunInput.Done(now, Question.HUNT_STEP));
    }

    private void untilRead() {
        int before = state.readings().size();
        for (int i = 0; i < 20_000 && state.readings().size() == before && !over(); i++) {
            turn();
        }
    }

    private boolean over() {
        return state.phase() instanceof HuntPhase.Ended;
    }

    private HuntReading read() {
        assertTrue(!state.readings().isEmpty(), () -> state.phase().toString());
        return state.readings().getLast();
    }

    private String reason() {
        HuntPhase.Ended ended = assertInstanceOf(HuntPhase.Ended.class, state.phase());
        return assertInstanceOf(HuntEnd.BrokenOff.class, ended.end()).reason();
    }

    private void safe(boolean asksToStop) {
        for (BayCommand safe :
                List.of(
                        new BayCommand.Divert(BayCommand.Way.BYPASS),
                        new BayCommand.Drain(false),
                        new BayCommand.Supply(false),
                        new BayCommand.GroundSpeed(0),
                        new BayCommand.Feeder(0))) {
            assertTrue(commands.contains(safe), safe::toString);
        }
        assertEquals(
                asksToStop,
                commands.getLast().equals(new BayCommand.Ask(Question.STOP_FLOW)),
                commands::toString);
    }

    // What a step shows
    // ---------------------------------------------------------------------------------------------

    @Test
    void aStepIsMeasuredAndTheNextIsAsked() {
        begins(RangeEnd.LOW, bay());
        HuntTask.SetValve first = assertInstanceOf(HuntTask.SetValve.class, tasks.getFirst());
        assertEquals(1, first.flow().perMinute(VolumeUnit.US_GALLON), 1e-9);
        assertEquals(2, first.most().perMinute(VolumeUnit.US_GALLON), 1e-9);
        flows();
        untilRead();
        HuntReading reading = read();
        MeasuredFlow flow = reading.flow().orElseThrow();
        assertEquals(1, flow.rate().perMinute(VolumeUnit.US_GALLON), 1e-6);
        // The certificate's 0.2 %; the evenness of the train leaves next to nothing.
        assertEquals(0.002, flow.expanded().value(), 0.0001);
        assertEquals(Answer.COUNTING, reading.answer());
        assertEquals(300, reading.meter().orElseThrow().due(), 0.01);
        assertEquals(300, reading.meter().get().pulses(), 1);
        assertEquals(30 * SECOND, reading.windowNanos());
        assertEquals(2, tasks.size(), "the next step");
        assertEquals(1.25, tasks.getLast().flow().perMinute(VolumeUnit.US_GALLON), 1e-6);
        assertTrue(
                commands.stream().noneMatch(c -> c instanceof BayCommand.Pulses p && p.hertz() > 0),
                "no speed is ever sent in a hunt for the low end");
    }

    @Test
    void aMeterWithoutPulsesIsSilent() {
        counted = stamp -> false;
        begins(RangeEnd.LOW, bay());
        flows();
        untilRead();
        assertEquals(Answer.SILENT, read().answer());
        assertEquals(30 * SECOND, read().meter().orElseThrow().silenceNanos());
    }

    @Test
    void aMeterThatLeavesPulsesOutDoesNotCount() {
        // One of three comes, evenly.
        counted = stamp -> (stamp / TRUCK_NANOS) % 3 == 0;
        begins(RangeEnd.LOW, bay());
        flows();
        untilRead();
        assertEquals(Answer.INTERMITTENT, read().answer());
        assertEquals(100, read().meter().orElseThrow().pulses(), 1);
    }

    @Test
    void aMeterWithALongGapDoesNotCount() {
        begins(RangeEnd.LOW, bay());
        flows();
        long stall = now + 30 * SECOND;
        counted = stamp -> stamp < stall || stamp > stall + SECOND / 2;
        untilRead();
        assertEquals(Answer.INTERMITTENT, read().answer());
        assertEquals(0.5 * SECOND, read().meter().orElseThrow().silenceNanos(), 0.2 * SECOND);
    }

    @Test
    void aFlowThatIsNotSteadyTellsNothing() {
        begins(RangeEnd.LOW, bay());
        flows();
        for (int i = 0; i < 12_000 && state.readings().isEmpty(); i++) {
            referenceNanos = (i / 200) % 2 == 0 ? REFERENCE_NANOS : REFERENCE_NANOS * 4 / 5;
            turn();
        }
        assertEquals(Answer.UNTOLD, read().answer());
        assertTrue(read().note().orElseThrow().contains("did not become steady"));
    }

    @Test
    void theHighEndSendsMoreAndMoreSpeedByItself() {
        begins(RangeEnd.HIGH, bay());
        assertTrue(tasks.isEmpty());
        // 5 US gal/min at 20 mph and 36000 pulses/mile.
        assertEquals(200, hertz(), 1e-9);
        referenceNanos = REFERENCE_NANOS / 5;
        nextReference = now;
        nextTruck = now;
        untilRead();
        assertEquals(Answer.FOLLOWS, read().answer());
        assertEquals(250, hertz(), 1e-9);
        untilRead();
        assertEquals(Answer.FALLS_SHORT, read().answer(), "no more comes");
        assertTrue(over());
        safe(false);
    }

    // What ends it
    // ---------------------------------------------------------------------------------------------

    private void stops(boolean asksToStop) {
        commands.clear();
        takes(new RunInput.Contact(now, BayContact.EMERGENCY_STOP, true));
        assertTrue(reason().startsWith("The emergency stop"), this::reason);
        safe(asksToStop);
    }

    @Test
    void anInterlockMakesItSafeWhateverItDoes() {
        begins(RangeEnd.LOW, bay());
        assertInstanceOf(HuntPhase.Setting.class, state.phase());
        stops(true);
        begins(RangeEnd.LOW, bay());
        flows();
        assertInstanceOf(HuntPhase.Settling.class, state.phase());
        stops(true);
        begins(RangeEnd.LOW, bay());
        flows();
        passes(20);
        assertInstanceOf(HuntPhase.Reading.class, state.phase());
        stops(true);
        begins(RangeEnd.HIGH, bay());
        stops(false);
    }

    @Test
    void aPersonStopsIt() {
        begins(RangeEnd.LOW, bay());
        flows();
        takes(new RunInput.StopPressed(now, "A. Tester"));
        assertTrue(reason().startsWith("Stopped by A. Tester"), this::reason);
        safe(true);
        HuntState ended = state;
        passes(1);
        assertEquals(ended, state, "it stays over");
    }

    @Test
    void aPersonWhoDoesNotAnswerEndsIt() {
        begins(RangeEnd.LOW, bay());
        passes(301);
        assertTrue(reason().startsWith("Nobody answered for 300 s"), this::reason);
        safe(true);
    }

    @Test
    void moreThanTwiceTheFlowAskedForIsARunawayWithASilentMeterToo() {
        counted = stamp -> false;
        begins(RangeEnd.LOW, bay());
        referenceNanos = REFERENCE_NANOS * 10 / 21;
        flows();
        passes(5);
        assertTrue(reason().startsWith("The truck puts out 2.1 times"), this::reason);
        safe(true);
    }

    @Test
    void soItIsWhileThePersonOpensTheValve() {
        begins(RangeEnd.LOW, bay());
        referenceNanos = REFERENCE_NANOS / 10;
        nextReference = now;
        passes(5);
        assertTrue(reason().contains("opens its valve fully"), this::reason);
    }

    @Test
    void pressureAboveItsLimitEndsIt() {
        Setups setups = bay();
        Guard usual = Guard.usual(Optional.empty());
        setups.guard =
                Optional.of(
                        new Guard(
                                usual.noFlowNanos(),
                                usual.runOutNanos(),
                                usual.runaway(),
                                usual.truckPulsesMissed(),
                                usual.leak(),
                                Optional.of(Pressure.ofPsi(60)),
                                Optional.empty(),
                                Optional.empty(),
                                usual.diskFreeBytesLeast(),
                                usual.runNanosMost()));
        begins(RangeEnd.HIGH, setups);
        takes(new RunInput.CouplerPressure(now, new PressureReading.Shown(Pressure.ofPsi(61))));
        assertTrue(reason().startsWith("The pressure at the coupler is 61"), this::reason);
        safe(false);
    }

    /** Nobody asked for a start: it must not set the run in motion on which the hunt stands. */
    @Test
    void aStrayStartOfTheFlowIsNothing() {
        begins(RangeEnd.LOW, bay());
        HuntState before = state;
        takes(new RunInput.Done(now, Question.START_FLOW));
        assertEquals(before, state);
    }

    @Test
    void whoFoundItIsAskedToStopTheFlowAndTheResultStands() {
        begins(RangeEnd.LOW, bay());
        flows();
        untilRead();
        referenceNanos = REFERENCE_NANOS * 4 / 5;
        takes(new RunInput.Done(now, Question.HUNT_STEP));
        untilRead();
        assertEquals(2, state.readings().size());
        assertInstanceOf(HuntPhase.Stopping.class, state.phase());
        assertEquals(new BayCommand.Ask(Question.STOP_FLOW), commands.getLast());
        commands.clear();
        takes(new RunInput.Contact(now, BayContact.SPILL, true));
        HuntPhase.Ended ended = assertInstanceOf(HuntPhase.Ended.class, state.phase());
        HuntEnd.Reached reached = assertInstanceOf(HuntEnd.Reached.class, ended.end());
        assertInstanceOf(HuntResult.LowEnd.class, reached.result());
        safe(true);
    }

    // What is refused before
    // ---------------------------------------------------------------------------------------------

    private static List<String> problems(RangeEnd end, Setups setups) {
        return HuntSetup.problems(end, setups.build(), HuntRules.USUAL);
    }

    @Test
    void onlyWhatTheBayCanSeeIsHuntedFor() {
        assertEquals(List.of(), problems(RangeEnd.LOW, bay()));
        assertEquals(List.of(), problems(RangeEnd.HIGH, bay()));
        Setups typed = Setups.display();
        assertTrue(problems(RangeEnd.LOW, typed).getFirst().startsWith("reported.source is not"));
        assertEquals(List.of(), problems(RangeEnd.HIGH, typed));
        Setups weighing = Setups.scaleOnly();
        weighing.reported = new RunSetup.Reported.MeterPulses();
        List<String> why = problems(RangeEnd.LOW, weighing);
        assertTrue(why.getFirst().startsWith("no reference meter is fitted"), why::toString);
        assertTrue(why.getLast().contains("add hunt.low_from_us_gal_per_min"), why::toString);
        Setups narrow = bay();
        narrow.referenceLowest = 5;
        assertTrue(problems(RangeEnd.LOW, narrow).getFirst().contains("set hunt.low_from above 0"));
    }

    /** A supply of the bay's own is throttled by hand; ground speed never is played. */
    @Test
    void theLowEndIsLookedForByHand() {
        for (FlowBy usual : FlowBy.values()) {
            Setups setups = bay();
            setups.flowBy = usual;
            HuntSetup hunt =
                    HuntSetup.of(RangeEnd.LOW, setups.build(), HuntRules.USUAL, false, part());
            assertEquals(
                    usual == FlowBy.SUPPLY ? FlowBy.SUPPLY : FlowBy.OPERATOR,
                    hunt.bay().plan().flowBy());
            assertTrue(hunt.byHand());
            assertTrue(hunt.task(new FlowRate(0.1), true).isPresent());
        }
    }
}
