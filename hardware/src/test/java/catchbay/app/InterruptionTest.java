package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.store.UnreliableFiles.Fault;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;

/**
 * Whatever goes wrong with whichever effect on the medium, while a catch, a series or a sweep runs:
 * the next start finds old or new and nothing between, and goes on working. Every effect of a
 * catch, and a sample of the others' that differs from fault to fault; {@code src/kills} takes them
 * all.
 */
final class InterruptionTest {

    @TempDir static Path folder;

    private static Interruptions interruptions;

    @BeforeAll
    static void onAVirtualBay() throws Exception {
        interruptions = new Interruptions(folder);
    }

    /** Each effect from the making of the folder to the compressed trace. */
    @Test
    void aFirstCatch() throws Exception {
        interrupted(Interruptions.Work.FIRST_CATCH, 1);
    }

    @Test
    void aSeries() throws Exception {
        interrupted(Interruptions.Work.SERIES, 5);
    }

    @Test
    void aSweep() throws Exception {
        interrupted(Interruptions.Work.SWEEP, 11);
    }

    private static void interrupted(Interruptions.Work work, int every) throws Exception {
        int effects = interruptions.undisturbed(work).size();
        assertTrue(effects > 20, () -> work + " has " + effects + " effects");
        for (Fault fault : Fault.values()) {
            Interruptions.Tally tally = new Interruptions.Tally();
            for (int before = fault.ordinal() % every; before < effects; before += every) {
                tally.take(interruptions.at(work, fault, before));
            }
            assertTrue(tally.old() > 0 && tally.recorded() > 0, () -> work + " " + tally);
            assertEquals(0, tally.untouched(), () -> work + ": every effect is reached");
        }
    }
}
