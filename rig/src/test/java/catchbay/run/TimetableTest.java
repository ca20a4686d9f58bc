package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Ask;
import catchbay.run.BayCommand.Divert;
import catchbay.run.BayCommand.Drain;
import catchbay.run.BayCommand.Feeder;
import catchbay.run.BayCommand.GroundSpeed;
import catchbay.run.BayCommand.SecureTrace;
import catchbay.run.BayCommand.Supply;
import catchbay.run.BayCommand.Way;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The course of a catch as a table: what came, where the run then stands, what it commanded. */
final class TimetableTest {

    /** 36000 pulses a mile at 20 mph. */
    private static final GroundSpeed SPEED =
            new GroundSpeed(36_000 * Speed.ofMilesPerHour(20).milesPerHour() / 3600);

    private static void expect(Rehearsal bay, String key, BayCommand... commands) {
        bay.until(key);
        assertEquals(List.of(commands), bay.commands(), "on the way to " + key);
    }

    private static BayCommand[] safe(boolean diverter, BayCommand... more) {
        List<BayCommand> commands = new ArrayList<>();
        if (diverter) {
            commands.add(new Divert(Way.BYPASS));
        }
        commands.addAll(
                List.of(new Drain(false), new Supply(false), new GroundSpeed(0), new Feeder(0)));
        commands.addAll(List.of(more));
        return commands.toArray(BayCommand[]::new);
    }

    private static double gallons(Volume volume) {
        return volume.usGallons();
    }

    @Test
    void flyingWithTrigger() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.hertz.put(PulseLine.TRUCK, 5.0 / 60 * 630);
        expect(bay, "confirming", safe(true, new Ask(Question.CHECKLIST)));
        expect(bay, "purging", SPEED);
        expect(bay, "settling");
        expect(bay, "opening", new Divert(Way.TANK));
        expect(bay, "catching");
        expect(bay, "closing", new Divert(Way.BYPASS));
        expect(bay, "trailing");
        expect(bay, "dripping", new GroundSpeed(0));
        expect(bay, "weighing");
        expect(bay, "comparing", new SecureTrace());
        expect(bay, "draining", new Drain(true));
        expect(bay, "ended", safe(true));
        CatchResult result = bay.result();
        RunState.Ended ended = (RunState.Ended) bay.state;
        // From trigger to trigger: each 0.3 s after its command, the second one turn late.
        double seconds = result.windowNanos() / 1e9;
        assertEquals(90.3, seconds, 0.021);
        assertEquals(
                Optional.of(new CatchResult.Travel(Setups.nanos(0.3), Setups.nanos(0.3))),
                result.travel());
        assertInstanceOf(PulseCount.DoubleTimed.class, result.count().orElseThrow());
        assertEquals(
                seconds / 12, gallons(result.comparison().measured().volume()), seconds * 1e-9);
        assertEquals(
                seconds / 12 * 1.05,
                gallons(result.comparison().reported().volume()),
                seconds * 1e-8);
        assertEquals(seconds / 12, gallons(result.comparison().asked().volume()), seconds * 1e-8);
        assertEquals("set rate x distance from the speed pulses delivered", result.askedBasis());
        assertEquals(0, result.disagreement().orElseThrow().value(), 0.005);
        ConstantAdvice.Enter advice = assertInstanceOf(ConstantAdvice.Enter.class, result.advice());
        assertEquals(630, advice.constant().value());
        assertEquals(List.of(), result.notes());
        assertEquals("a technician", ended.sensed().ledger().confirmedBy().orElseThrow());
    }

    /**
     * With end switches only, the window lies midway between leaving (0.1 s) and arriving (0.5 s).
     */
    @Test
    void flyingWithEndSwitches() {
        Setups setups = new Setups();
        setups.diverter = Optional.of(Feedback.ENDS);
        Rehearsal bay = new Rehearsal(setups);
        expect(bay, "confirming", safe(true, new Ask(Question.CHECKLIST)));
        expect(bay, "purging", SPEED);
        expect(bay, "settling");
        expect(bay, "opening", new Divert(Way.TANK));
        long commanded = ((RunState.Opening) bay.state).commandedNanos();
        expect(bay, "catching");
        RunState.Catching catching = (RunState.Catching) bay.state;
        assertEquals(0.3e9, catching.openNanos() - commanded, 1);
        assertEquals(90e9, catching.untilNanos() - catching.openNanos());
        expect(bay, "closing", new Divert(Way.BYPASS));
        commanded = ((RunState.Closing) bay.state).commandedNanos();
        expect(bay, "trailing");
        assertEquals(0.3e9, ((RunState.Trailing) bay.state).closeNanos() - commanded, 1);
        CatchResult result = bay.result();
        assertEquals(
                Optional.of(new CatchResult.Travel(Setups.nanos(0.4), Setups.nanos(0.4))),
                result.travel());
        double seconds = result.windowNanos() / 1e9;
        assertEquals(
                seconds / 12, gallons(result.comparison().measured().volume()), seconds * 1e-9);
    }

    @Test
    void standingWithDisplayTypedRestToRest() {
        Rehearsal bay = new Rehearsal(Setups.display());
        expect(bay, "confirming", safe(false, new Ask(Question.CHECKLIST)));
        expect(bay, "resting");
        expect(bay, "reading", new Ask(Question.TOTAL_BEFORE));
        expect(bay, "catching", new Ask(Question.START_FLOW));
        assertEquals(Long.MAX_VALUE, ((RunState.Catching) bay.state).untilNanos());
        expect(bay, "stilling", new Ask(Question.STOP_FLOW));
        expect(bay, "dripping");
        expect(bay, "weighing");
        expect(bay, "reading", new Ask(Question.TOTAL_AFTER));
        expect(bay, "comparing", new SecureTrace());
        expect(bay, "draining", new Drain(true));
        expect(bay, "ended", safe(false));
        CatchResult result = bay.result();
        assertInstanceOf(PulseCount.Whole.class, result.count().orElseThrow());
        // The person stops the flow a second after being asked; what is asked runs as long.
        double seconds = 91.02;
        assertEquals(seconds / 12, gallons(result.comparison().asked().volume()), 0.01);
        assertEquals(seconds / 12, gallons(result.comparison().measured().volume()), 0.01);
        assertEquals(seconds / 12, gallons(result.comparison().reported().volume()), 0.02);
        assertTrue(result.askedBasis().contains("from start to stop"), result.askedBasis());
        assertEquals(Optional.empty(), result.travel());
        assertTrue(result.notes().toString().contains("whole pulse"), result.notes().toString());
    }

    @Test
    void standingWithScaleOnly() {
        Rehearsal bay = new Rehearsal(Setups.scaleOnly());
        expect(bay, "confirming", safe(false, new Ask(Question.CHECKLIST)));
        expect(bay, "resting");
        expect(bay, "catching", SPEED);
        expect(bay, "stilling", new GroundSpeed(0));
        expect(bay, "dripping");
        expect(bay, "weighing");
        expect(bay, "comparing", new SecureTrace());
        expect(bay, "draining", new Drain(true));
        expect(bay, "ended", safe(false));
        CatchResult result = bay.result();
        assertEquals(Optional.empty(), result.byReference());
        assertEquals(Optional.empty(), result.count());
        double caught = bay.caughtLitres();
        assertEquals(90.0 / 12, caught / 3.785411784, 0.01);
        // Two readings, each to half a step of 0.05 kg, of a liquid of 8 kg/L.
        assertEquals(caught, result.comparison().measured().volume().litres(), 0.05 / 8);
        assertEquals(90.0 / 12, gallons(result.comparison().reported().volume()), 0.01);
        assertEquals(90.0 / 12, gallons(result.comparison().asked().volume()), 0.01);
    }

    /**
     * A standing catch with a purge and a diverter: the flow is stopped before the diverter goes.
     */
    @Test
    void standingWithPurgeAndDiverterByHand() {
        Setups setups = Setups.display();
        setups.diverter = Optional.of(Feedback.TRIGGER);
        setups.purgeSeconds = 10;
        Rehearsal bay = new Rehearsal(setups);
        expect(bay, "confirming", safe(true, new Ask(Question.CHECKLIST)));
        expect(bay, "starting", new Ask(Question.START_FLOW));
        expect(bay, "purging");
        expect(bay, "resting", new Ask(Question.STOP_FLOW));
        expect(bay, "reading", new Divert(Way.TANK), new Ask(Question.TOTAL_BEFORE));
        expect(bay, "catching", new Ask(Question.START_FLOW));
        expect(bay, "stilling", new Ask(Question.STOP_FLOW));
        expect(bay, "dripping", new Divert(Way.BYPASS));
        CatchResult result = bay.result();
        assertEquals(0, result.comparison().meterError().value(), 0.003);
        assertEquals(0, result.comparison().controlError().value(), 0.003);
    }

    @Test
    void standingByTheBaysSupply() {
        Setups setups = Setups.scaleOnly();
        setups.flowBy = FlowBy.SUPPLY;
        setups.pulsesPerMile = Optional.empty();
        setups.purgeSeconds = 5;
        Rehearsal bay = new Rehearsal(setups);
        expect(bay, "confirming", safe(false, new Ask(Question.CHECKLIST)));
        expect(bay, "purging", new Supply(true));
        expect(bay, "resting", new Supply(false));
        expect(bay, "catching", new Supply(true));
        expect(bay, "stilling", new Supply(false));
        assertEquals(0, bay.result().comparison().meterError().value(), 0.003);
    }

    /** Salt that the controller reports, typed after the totals: 0.5 t asks 5 US gal. */
    @Test
    void preWetWithSaltReported() {
        Setups setups = Setups.display();
        setups.application = Setups.preWet(true, Optional.empty());
        Rehearsal bay = new Rehearsal(setups);
        bay.until("weighing").commands();
        expect(bay, "reading", new Ask(Question.TOTAL_AFTER));
        // 7.6 gal are far from the 5 asked: the total is asked for again.
        bay.run(1.2);
        assertEquals(List.of(new Ask(Question.TOTAL_AGAIN)), bay.commands());
        bay.run(1.2);
        assertEquals(List.of(new Ask(Question.SALT_REPORTED)), bay.commands());
        expect(bay, "comparing", new SecureTrace());
        CatchResult result = bay.result();
        assertEquals(5.0, gallons(result.comparison().asked().volume()), 1e-12);
        assertEquals("pre-wet rate x salt that the controller reports", result.askedBasis());
    }

    @Test
    void noSaltIsAskedAgain() {
        Setups setups = Setups.display();
        setups.application = Setups.preWet(true, Optional.empty());
        Rehearsal bay = new Rehearsal(setups);
        bay.saltTons = 0;
        bay.until("weighing").until("reading").run(4).commands();
        bay.run(2);
        assertTrue(bay.commands().contains(new Ask(Question.SALT_REPORTED)));
        bay.saltTons = 0.5;
        assertEquals(5.0, gallons(bay.result().comparison().asked().volume()), 1e-12);
    }

    /** Flying pre-wet, first with feeder pulses of 0.2 kg each, then with the set rate. */
    @Test
    void preWetByFeederPulsesOrSetRate() {
        Setups setups = new Setups();
        setups.application = Setups.preWet(false, Optional.of(new Mass(0.2)));
        Rehearsal fed = new Rehearsal(setups);
        double saltPerSecond = MassUnit.SHORT_TON.kilograms() * 20 / 3600;
        fed.hertz.put(PulseLine.FEEDER, saltPerSecond * 0.9 / 0.2);
        CatchResult byFeeder = fed.result();
        double set = byFeeder.windowNanos() / 1e9 / 18;
        assertEquals(set * 0.9, gallons(byFeeder.comparison().asked().volume()), 1e-6);
        assertEquals("pre-wet rate x feeder pulses x their constant", byFeeder.askedBasis());
        CatchResult bySet = new Rehearsal(setups).result();
        assertEquals(set, gallons(bySet.comparison().asked().volume()), 1e-6);
        assertTrue(bySet.askedBasis().contains("set salt rate x distance"), bySet.askedBasis());
    }

    @Test
    void flyingWithARunningTotal() {
        Setups setups = new Setups();
        setups.reported = Setups.line();
        Rehearsal bay = new Rehearsal(setups);
        bay.reportedPerMinute = 5.1;
        CatchResult result = bay.result();
        assertEquals(0.02, result.comparison().meterError().value(), 1e-6);
        // Lag from 0 to 0.5 s evenly at both ends, 0.315 L/s: a triangle of +-0.158 L, / sqrt 6;
        // each end is read between two totals, which leaves sqrt(1/2) of it at least.
        double lag = 0.5 / Math.sqrt(6) * 5 * 3.785411784 / 60;
        double term = Rehearsal.termLitres(result.comparison().reported(), "lag");
        assertTrue(term >= lag * Math.sqrt(0.5) && term <= lag * 1.001, term + " of " + lag);
    }

    /**
     * The scale measures what the reference cannot: the reference then is no check, and no
     * obstacle.
     */
    @Test
    void measuredByScaleBeyondTheReference() {
        Setups setups = new Setups();
        setups.measureBy = MeasureBy.SCALE;
        setups.referenceLowest = 6;
        CatchResult result = new Rehearsal(setups).result();
        assertEquals(Optional.empty(), result.byReference());
        assertEquals(Optional.empty(), result.disagreement());
        assertTrue(result.notes().toString().contains("not checked against the reference"));
    }

    /** Nothing purged, dripped or drained, no proof of steadiness: the course is only shorter. */
    @Test
    void zeroLengths() {
        Setups setups = new Setups();
        setups.purgeSeconds = 0;
        setups.dripSeconds = 0;
        setups.drainSeconds = 0;
        setups.settleSlots = 0;
        Rehearsal bay = new Rehearsal(setups);
        assertEquals(0, bay.result().comparison().meterError().value(), 1e-6);
        assertEquals(
                List.of(
                        "idle",
                        "confirming",
                        "purging",
                        "settling",
                        "opening",
                        "catching",
                        "closing",
                        "trailing",
                        "dripping",
                        "weighing",
                        "comparing",
                        "ended"),
                bay.course);
        Setups standing = Setups.scaleOnly();
        standing.dripSeconds = 0;
        standing.drainSeconds = 0;
        assertEquals(0, new Rehearsal(standing).result().comparison().meterError().value(), 0.003);
    }

    /** A display needs its lag before it is read, at both ends. */
    @Test
    void theDisplaysLagIsWaitedFor() {
        Setups setups = Setups.display();
        setups.reported =
                new Reported.Display(Volume.ofUsGallons(0.01), 8 * Setups.SECOND, new Ratio(1));
        setups.purgeSeconds = 5;
        setups.dripSeconds = 0;
        Rehearsal bay = new Rehearsal(setups);
        bay.until("resting");
        long asked = bay.now();
        bay.until("reading");
        // A second for the person to stop, then eight for the display.
        assertTrue(bay.now() - asked >= 9 * Setups.SECOND);
        bay.until("stilling");
        asked = bay.now();
        bay.until("reading");
        assertTrue(bay.now() - asked >= 9 * Setups.SECOND);
    }

    /**
     * What the purge left in the chute comes into the tank when the flap turns: the tare waits for
     * it as long as the gross waits for the drip.
     */
    @Test
    void theTareWaitsForWhatThePurgeLeftInTheChute() {
        Setups setups = Setups.display();
        setups.diverter = Optional.of(Feedback.TRIGGER);
        setups.purgeSeconds = 5;
        setups.dripSeconds = 10;
        Rehearsal bay = new Rehearsal(setups).until("resting").run(8).spill(0.5);
        bay.until("reading");
        double litreKilograms = bay.setup.liquid().density().kilogramsPerCubicMetre() / 1000;
        assertEquals(
                bay.startKilograms + 0.5 * litreKilograms,
                bay.state.sensed().ledger().tare().orElseThrow().kilograms(),
                setups.resolutionKilograms);
    }
}
