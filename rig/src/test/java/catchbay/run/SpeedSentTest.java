package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Optional;

/**
 * Speed pulses of which a bay tells what it sends: 36000 pulses/mile x 20 mph / 3600 s/h = 200/s.
 */
final class SpeedSentTest {

    private static final String NOT_COUNTED = "; they were not counted back.";

    private static Setups standing() {
        Setups setups = Setups.scaleOnly();
        setups.catchSeconds = 60;
        return setups;
    }

    private static Rehearsal uncounted(Setups setups) {
        Rehearsal bay = new Rehearsal(setups);
        bay.hertz.remove(PulseLine.SPEED);
        return bay;
    }

    private static double askedGallons(CatchResult result) {
        return result.comparison().asked().volume().usGallons();
    }

    private static String speedNote(CatchResult result) {
        List<String> notes =
                result.notes().stream().filter(note -> note.contains("speed pulses")).toList();
        assertEquals(1, notes.size(), notes::toString);
        return notes.getFirst();
    }

    /**
     * 15 US gal/lane-mile x 20 mph x 60 s / 3600 = 5 US gal at full speed throughout. Of a rise in
     * 30 steps of 0.1 s the step n sends n/30 of it: 0.1 s x (30 - 29 x 30 / 2 / 30) = 1.55 s of
     * full speed are lacking, 58.45 s are left.
     */
    @Test
    void aStandingCatchAsksForWhatTheRiseLeftOfIt() {
        Rehearsal bay = uncounted(standing());
        bay.rampSeconds = 3;
        CatchResult result = bay.result();
        assertEquals(15.0 * 20 * 58.45 / 3600, askedGallons(result), 1e-9);
        assertEquals(
                "set rate x distance from the speed pulses sent, computed from period x time and"
                        + " not counted back",
                result.askedBasis());
        assertEquals(
                "11690.0 speed pulses were sent, computed from period x time" + NOT_COUNTED,
                speedNote(result));
    }

    @Test
    void withoutNewsOfTheSpeedTheSetOneIsTakenAsBefore() {
        CatchResult result = uncounted(standing()).result();
        assertEquals(5, askedGallons(result), 1e-9);
        assertTrue(result.askedBasis().startsWith("set rate x set speed x "), result.askedBasis());
        assertTrue(result.notes().stream().noneMatch(note -> note.contains("speed pulses")));
    }

    /**
     * Of 200/s in 90.3 s, the flap's 0.3 s among them; the loop-back counts 200/s, or 202, as a
     * clock that is 1 % fast makes.
     */
    @Test
    void theLoopBackIsHeldAgainstWhatWasSent() {
        Rehearsal right = new Rehearsal(new Setups());
        right.rampSeconds = 0;
        CatchResult result = right.result();
        assertTrue(result.askedBasis().endsWith("the speed pulses delivered"), result.askedBasis());
        assertTrue(speedNote(result).endsWith("were sent, 200.000/s."), speedNote(result));

        Rehearsal fast = new Rehearsal(new Setups());
        fast.rampSeconds = 0;
        fast.hertz.put(PulseLine.SPEED, 202.0);
        String note = speedNote(fast.result());
        assertTrue(note.startsWith("18240.6 "), note);
        assertTrue(note.contains("where 18060.0 were sent"), note);
        assertTrue(note.contains("port.pulse_output.clock_hertz"), note);
    }

    @Test
    void aFlyingCatchWaitsForTheSpeed() {
        Setups setups = new Setups();
        setups.purgeSeconds = 1;
        setups.settleSlots = 0;
        Rehearsal bay = uncounted(setups);
        bay.rampSeconds = 8;
        bay.until("opening");
        assertFalse(bay.state.sensed().lines().sentSpeed().rising());
        assertEquals(200, bay.state.sensed().lines().sentSpeed().hertz(), 1e-9);
        CatchResult result = bay.result();
        assertTrue(
                speedNote(result).endsWith("200.000/s, computed from period x time" + NOT_COUNTED),
                speedNote(result));

        setups.settleLimitSeconds = 5;
        Rehearsal slow = uncounted(setups);
        slow.rampSeconds = 8;
        Outcome.Void late = assertInstanceOf(Outcome.Void.class, slow.outcome());
        assertEquals(Outcome.Cause.NOT_SETTLED, late.cause());
        assertTrue(late.reason().contains("still rising"), late.reason());
    }

    @Test
    void speedIsConfirmedByItselfAndByName() {
        Rehearsal bay = uncounted(standing());
        bay.rampSeconds = 3;
        bay.answers = false;
        bay.run(1);
        bay.give(new RunInput.SpeedConfirmed(bay.now(), "too early"));
        assertEquals(Optional.empty(), bay.state.sensed().ledger().speedConfirmedBy());
        bay.commands();
        bay.give(new RunInput.ChecklistConfirmed(bay.now(), "a technician"));
        assertEquals(List.of(new BayCommand.Ask(Question.SPEED_CHECKLIST)), bay.commands());
        bay.give(new RunInput.ChecklistConfirmed(bay.now(), "somebody else"));
        bay.run(5);
        assertEquals("confirming", bay.state.key());
        assertEquals(List.of(), bay.commands(), "nothing is sent before that is confirmed");
        bay.give(new RunInput.SpeedConfirmed(bay.now(), "a foreman"));
        assertEquals("resting", bay.state.key());
        Ledger ledger = bay.state.sensed().ledger();
        assertEquals(Optional.of("a technician"), ledger.confirmedBy());
        assertEquals(Optional.of("a foreman"), ledger.speedConfirmedBy());
    }

    @Test
    void whoeverDoesNotConfirmTheSpeedEndsTheRun() {
        Rehearsal bay = uncounted(standing());
        bay.rampSeconds = 3;
        bay.answers = false;
        bay.run(1).give(new RunInput.ChecklistConfirmed(bay.now(), "a technician"));
        Outcome.Void ended = assertInstanceOf(Outcome.Void.class, bay.outcome());
        assertEquals(Outcome.Cause.NO_ANSWER, ended.cause());
    }

    @Test
    void anOperatorsFlowAsksForNoSpeed() {
        Rehearsal bay = new Rehearsal(Setups.display());
        bay.rampSeconds = 0;
        bay.result();
        assertEquals(Optional.empty(), bay.state.sensed().ledger().speedConfirmedBy());
    }

    @Test
    void onlySpeedAndFeederAreSent() {
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunInput.PulsesSent(0, PulseLine.TRUCK, 1, false));
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunInput.PulsesSent(0, PulseLine.SPEED, Double.NaN, false));
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunInput.PulsesSent(0, PulseLine.SPEED, -1, false));
        assertThrows(IllegalArgumentException.class, () -> new RunInput.SpeedConfirmed(0, " "));
    }

    /**
     * One ton a mile at 20 mph is 666.67 lb/min; over 0.5 lb a pulse and 60: 22.222 pulses/s. A
     * rise in 30 steps to that leaves 58.45 s of 60 s: 649.44 lb, at 10 US gal/ton 3.2472 US gal.
     */
    @Test
    void theFeederIsPlayedAtTheSaltsRate() {
        Setups setups = standing();
        setups.application = Setups.preWet(false, Optional.of(Mass.of(0.5, MassUnit.POUND)));
        setups.sendsFeeder = true;
        Rehearsal bay = uncounted(setups);
        bay.rampSeconds = 3;
        bay.until("catching");
        List<BayCommand> sent =
                bay.commands().stream()
                        .filter(c -> c instanceof BayCommand.Feeder feeder && feeder.hertz() > 0)
                        .toList();
        assertEquals(1, sent.size(), sent::toString);
        double hertz = ((BayCommand.Feeder) sent.getFirst()).hertz();
        assertEquals(2000.0 * 20 / 60 / 0.5 / 60, hertz, 1e-9);
        CatchResult result = bay.result();
        assertEquals(10.0 / 2000 * 2000 * 20 / 3600 * 58.45, askedGallons(result), 1e-9);
        assertTrue(result.askedBasis().contains("feeder pulses sent"), result.askedBasis());
        assertTrue(bay.commands().contains(new BayCommand.Feeder(0)));
    }

    @Test
    void aTestSpeedIsCalledSo() {
        Setups setups = Setups.display();
        setups.speedSource = RunSetup.SpeedSource.SATELLITE;
        CatchResult result = new Rehearsal(setups).result();
        assertTrue(
                result.askedBasis().startsWith("set rate x the controller's own test speed x "),
                result.askedBasis());
    }
}
