package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Pressure;

import org.junit.jupiter.api.Test;

import java.util.Optional;

final class PressureSenseTest {

    private static final PressureReading LOST = new PressureReading.Missing("its wire is broken");

    private static PressureReading shown(double kilopascals) {
        return new PressureReading.Shown(new Pressure(kilopascals));
    }

    /** 120, 150 and 90 kPa have the mean 120 kPa. */
    @Test
    void onlyWhatComesWithinTheWindowCounts() {
        PressureSense.InWindow told =
                PressureSense.SILENT
                        .take(shown(500))
                        .opened()
                        .take(shown(120))
                        .take(shown(150))
                        .take(shown(90))
                        .closed()
                        .take(shown(700))
                        .inWindow()
                        .orElseThrow();
        assertEquals(120, told.mean().kilopascals(), 1e-12);
        assertEquals(90, told.least().kilopascals());
        assertEquals(150, told.most().kilopascals());
    }

    /** A pump that sucks makes less than the air around. */
    @Test
    void pressuresBelowTheAirsAreNotTakenForNone() {
        PressureSense.InWindow told =
                PressureSense.SILENT
                        .opened()
                        .take(shown(-20))
                        .take(shown(-10))
                        .closed()
                        .inWindow()
                        .orElseThrow();
        assertEquals(-20, told.least().kilopascals());
        assertEquals(-10, told.most().kilopascals());
    }

    @Test
    void oneMissingReadingMakesTheWindowUnknown() {
        PressureSense sense =
                PressureSense.SILENT.opened().take(shown(120)).take(LOST).take(shown(130)).closed();
        assertEquals(Optional.empty(), sense.inWindow());
        assertEquals("its wire is broken", sense.missing());
    }

    @Test
    void aReadingMissingBeforeTheWindowIsNoMatter() {
        assertTrue(
                PressureSense.SILENT
                        .take(LOST)
                        .opened()
                        .take(shown(120))
                        .closed()
                        .inWindow()
                        .isPresent());
    }

    @Test
    void nothingIsKnownOfAWindowThatIsOpenOrSilent() {
        assertEquals(Optional.empty(), PressureSense.SILENT.opened().take(shown(1)).inWindow());
        PressureSense silent = PressureSense.SILENT.opened().closed();
        assertEquals(Optional.empty(), silent.inWindow());
        assertFalse(silent.heard());
        assertTrue(PressureSense.SILENT.take(shown(1)).opened().closed().heard());
        assertTrue(PressureSense.SILENT.opened().take(LOST).heard());
    }
}
