package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.record.DocumentException;
import catchbay.record.SweepText;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Optional;

/** What is known of the sweeps in a data folder. */
final class KnownSweepsTest {

    private static KnownSweeps.Found sweep(String name, boolean done) {
        return new KnownSweeps.Found(
                name,
                new SweepText.Kept(
                        name,
                        "TRUCK-1",
                        "",
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        true,
                        3,
                        done,
                        Optional.empty(),
                        List.of()));
    }

    /** Between the look for the sweep to go on with and the lock another program may end it. */
    @Test
    void aSweepThatHasChangedSinceItWasLookedForIsNotGoneOnWith() {
        KnownSweeps.Found looked = new KnownSweeps(List.of(sweep("A", false))).toResume("A");
        assertEquals(looked, new KnownSweeps(List.of(sweep("A", false))).unchanged(looked));
        KnownSweeps since = new KnownSweeps(List.of(sweep("A", true)));
        DocumentException refused =
                assertThrows(DocumentException.class, () -> since.unchanged(looked));
        assertEquals(
                "sweep A was gone on with by another program while this one began; see catchbay"
                        + " history --sweeps, and begin again",
                refused.getMessage());
    }

    @Test
    void onlyASweepThatWasInterruptedIsGoneOnWith() {
        KnownSweeps known = new KnownSweeps(List.of(sweep("B", true), sweep("A", false)));
        assertEquals("A", known.toResume("A").kept().sweep());
        assertThrows(DocumentException.class, () -> known.toResume("B"));
    }
}
