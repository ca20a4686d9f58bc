package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** The interlocks as a table; that each acts, and how, stands in {@link OutcomeTest}. */
final class InterlockTest {

    private static final Path PAGE = Path.of("../src/docs/operating/interlocks.md");

    @Test
    void theManualHasEachRowInItsOrder() throws IOException {
        List<String> rows =
                Files.readAllLines(PAGE).stream()
                        .filter(line -> line.startsWith("| `"))
                        .map(String::strip)
                        .toList();
        assertEquals(Interlock.values().length, rows.size());
        for (Interlock lock : Interlock.values()) {
            String row = rows.get(lock.ordinal());
            String end =
                    " | "
                            + lock.needs()
                            + " | "
                            + lock.within()
                            + " | "
                            + (lock.acknowledged() ? "yes" : "no")
                            + " |";
            assertTrue(row.startsWith("| `" + lock.cause().key() + "` | "), row);
            assertTrue(row.endsWith(end), () -> row + " does not end in" + end);
        }
    }

    @Test
    void aGuardedCatchWithoutAFaultIsMeasured() {
        Rehearsal bay = new Rehearsal(GuardEndings.guarded());
        bay.result();
    }

    @Test
    void aGuardChangesNoAmount() {
        CatchResult plain = new Rehearsal(new Setups()).result();
        CatchResult guarded = new Rehearsal(GuardEndings.guarded()).result();
        assertEquals(plain.comparison(), guarded.comparison());
    }

    @Test
    void aPartOfASweepAsksNobodyButWhetherSomebodyIsThere() {
        Rehearsal bay = new Rehearsal(GuardEndings.part(20, 10, Optional.empty()));
        bay.heldLitres = 10;
        bay.until("emptying");
        assertEquals(List.of(), asked(bay.commands()));
        assertEquals(Optional.of("A. Tester"), bay.state.sensed().ledger().confirmedBy());
        assertEquals(Optional.of("S. Tester"), bay.state.sensed().ledger().speedConfirmedBy());
        bay.result();
        List<Question> asked = asked(bay.commands());
        assertEquals(List.of(Question.PRESENCE), asked.stream().distinct().toList());
        // In 150 s: 12 s before the 40 s are over that were left, then 48 s after each answer.
        assertEquals(3, asked.size());
        assertEquals(
                List.of(
                        "idle",
                        "confirming",
                        "emptying",
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
    }

    @Test
    void theDrainIsShutBeforeLiquidFlows() {
        Rehearsal bay = new Rehearsal(GuardEndings.part(20, 10, Optional.empty()));
        bay.heldLitres = 10;
        List<BayCommand> until = bay.until("purging").commands();
        int shut = until.lastIndexOf(new BayCommand.Drain(false));
        int flow = until.size() - 1;
        assertTrue(
                until.get(flow) instanceof BayCommand.GroundSpeed(double hertz) && hertz > 0,
                until::toString);
        assertTrue(until.indexOf(new BayCommand.Drain(true)) < shut);
        assertTrue(shut < flow, until::toString);
    }

    @Test
    void theAttendantsButtonShowsThatSomebodyIsThere() {
        Rehearsal bay = new Rehearsal(GuardEndings.part(0, 0, Optional.empty()));
        bay.answers = false;
        for (int at = 20; at < 200; at += 30) {
            bay.contactIn(at, BayContact.ATTENDANT, true);
            bay.contactIn(at + 1, BayContact.ATTENDANT, false);
        }
        bay.result();
    }

    @Test
    void aPersonWhoStopsIsNoInterlock() {
        Rehearsal bay = new Rehearsal(GuardEndings.guarded()).until("catching");
        bay.give(new RunInput.StopPressed(bay.now(), "A. Tester"));
        assertInstanceOf(Outcome.Stopped.class, bay.outcome());
    }

    /** Found by the fault campaign: an empty tank that its scale showed a step heavier was void. */
    @Test
    void anEmptyTankIsEmptiedWhateverItsScaleWandersBy() {
        Rehearsal bay = new Rehearsal(GuardEndings.part(20, 0, Optional.empty()));
        bay.until("emptying").run(5);
        bay.startKilograms += 0.05;
        bay.result();
    }

    /**
     * Found by the fault campaign: seconds of pulses that a reader told all at once passed for a
     * flow of a multiple of the asked one.
     */
    @Test
    void pulsesThatAreToldLateAreNoRunaway() {
        Guard usual = GuardEndings.guard();
        Setups setups = new Setups();
        setups.guard =
                Optional.of(
                        new Guard(
                                usual.noFlowNanos(),
                                usual.runOutNanos(),
                                new Ratio(1.5),
                                usual.truckPulsesMissed(),
                                usual.leak(),
                                usual.pressureMost(),
                                usual.liquidLeast(),
                                usual.liquidMost(),
                                usual.diskFreeBytesLeast(),
                                usual.runNanosMost()));
        // Wherever the stall lies between two looks.
        for (double before = 3; before < 5; before += 0.5) {
            Rehearsal bay = new Rehearsal(setups).until("catching").run(before);
            bay.readerStands = true;
            bay.run(1.9);
            bay.readerStands = false;
            bay.result();
        }
    }

    /** A catch that did not settle was just stopped; the next one begins in the same moment. */
    @Test
    void whatRunsOutOfTheCatchBeforeIsNotUncommanded() {
        Rehearsal bay = new Rehearsal(GuardEndings.guarded());
        bay.answers = false;
        bay.until("confirming").flow(true).run(4).flow(false).run(10);
        bay.until("confirming");
    }

    @Test
    void aTankThatWasLeftAsItIsIsNoLeak() {
        Rehearsal bay = new Rehearsal(GuardEndings.part(0, 10, Optional.of(new Mass(20.4))));
        bay.result();
    }

    /** A short interval has a short notice, a long one a minute. */
    @Test
    void anAttendantIsRemindedInTime() {
        assertEquals(12 * Setups.SECOND, new Part.Presence(60 * Setups.SECOND, 0).noticeNanos());
        assertEquals(60 * Setups.SECOND, new Part.Presence(1800 * Setups.SECOND, 0).noticeNanos());
    }

    @Test
    void whatIsNoInterlockIsNotFound() {
        assertFalse(Interlock.of(Outcome.Cause.NOT_SETTLED).isPresent());
        assertEquals(Optional.of(Interlock.LEAK), Interlock.of(Outcome.Cause.LEAK));
    }

    private static List<Question> asked(List<BayCommand> commands) {
        return commands.stream()
                .filter(BayCommand.Ask.class::isInstance)
                .map(command -> ((BayCommand.Ask) command).question())
                .toList();
    }
}
