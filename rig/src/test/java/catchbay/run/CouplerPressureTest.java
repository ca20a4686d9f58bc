package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Pressure;
import catchbay.signal.PressureReading;

import org.junit.jupiter.api.Test;

import java.util.Optional;

/** Whole runs with a gauge at the coupler. */
final class CouplerPressureTest {

    private int asked;

    private PressureReading swinging() {
        return new PressureReading.Shown(Pressure.ofPsi(asked++ % 2 == 0 ? 18 : 22));
    }

    private PressureReading breaking() {
        return asked++ == 60
                ? new PressureReading.Missing("its wire is broken")
                : new PressureReading.Shown(Pressure.ofPsi(20));
    }

    @Test
    void theResultTellsThePressureAndItsAmountsAreTheSame() {
        CatchResult without = new Rehearsal(new Setups()).result();
        Rehearsal bay = new Rehearsal(new Setups());
        bay.gauge = this::swinging;
        CatchResult result = bay.result();
        assertEquals(20, result.coupler().orElseThrow().mean().psi(), 0.1);
        assertEquals(18, result.coupler().orElseThrow().least().psi(), 1e-9);
        assertEquals(22, result.coupler().orElseThrow().most().psi(), 1e-9);
        assertTrue(
                result.notes().stream()
                        .anyMatch(note ->
                                note.matches(
                                        "The pressure at the coupler was (19.9|20.0|20.1) psi,"
                                                + " between 18.0 and 22.0 psi\\.")),
                result.notes().toString());
        assertEquals(without.byReference(), result.byReference());
        assertEquals(Optional.empty(), without.coupler());
        assertTrue(
                without.notes().stream().noneMatch(note -> note.contains("coupler")),
                without.notes().toString());
    }

    /** A minute after the beginning the window of 90 s is open. */
    @Test
    void aWireThatBreaksInTheWindowIsToldAndCostsNoAmount() {
        Rehearsal bay = new Rehearsal(new Setups());
        bay.gauge = this::breaking;
        CatchResult result = bay.result();
        assertEquals(Optional.empty(), result.coupler());
        assertTrue(
                result.notes()
                        .contains(
                                "The gauge at the coupler did not tell its pressure throughout the"
                                        + " window (last: its wire is broken); whether the bay"
                                        + " choked the truck is not known."),
                result.notes().toString());
    }
}
