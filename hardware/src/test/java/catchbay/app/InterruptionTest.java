package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Interruptions.Work;
import catchbay.store.UnreliableFiles.Fault;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;
import java.util.List;

/**
 * Whatever goes wrong with whichever effect on the medium, while a catch, a series or a sweep runs:
 * the next start finds old or new and nothing between, and goes on working. Every effect of one
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

    @Test
    void aCatch() throws Exception {
        interrupted(Work.CATCH, 1);
    }

    /** The folder and the database are made, and the first trace begins. */
    @Test
    void theFirstCatchOfABay() throws Exception {
        List<String> effects = interruptions.undisturbed(Work.FIRST_CATCH);
        int begun = effects.indexOf("create traces/*.open.jsonl");
        assertTrue(begun > 6, effects::toString);
        for (Fault fault : Fault.values()) {
            for (int before = 0; before <= begun; before++) {
                assertEquals(
                        Interruptions.Left.NOTHING,
                        interruptions.at(Work.FIRST_CATCH, fault, before));
            }
        }
    }

    @Test
    void aSeries() throws Exception {
        interrupted(Work.SERIES, 9);
    }

    @Test
    void aSweep() throws Exception {
        interrupted(Work.SWEEP, 41);
    }

    private static void interrupted(Work work, int every) throws Exception {
        int effects = interruptions.undisturbed(work).size();
        for (Fault fault : Fault.values()) {
            Interruptions.Tally tally = new Interruptions.Tally();
            int first = fault.ordinal() * every / Fault.values().length;
            for (int before = first; before < effects; before += every) {
                tally.take(interruptions.at(work, fault, before));
            }
            assertTrue(tally.old() > 0 && tally.recorded() > 0, () -> work + ": " + tally);
            assertEquals(0, tally.untouched(), () -> work + ": every effect is reached");
        }
    }
}
