package catchbay.architecture;

import static catchbay.architecture.HouseRules.banned;
import static catchbay.architecture.HouseRules.everywhere;
import static catchbay.architecture.HouseRules.inPureRooms;
import static catchbay.architecture.HouseRules.outside;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;

import org.junit.jupiter.api.Test;

import java.util.Set;

final class RigArchitectureTest {

    private static final String BASE = "catchbay";

    /** Classes of app that own a thread, each with a reason in its Javadoc. */
    private static final Set<String> THREAD_OWNERS =
            Set.of(
                    "catchbay.app.TerminalOperator",
                    "catchbay.app.DiskWatch",
                    "catchbay.app.LastWord",
                    "catchbay.app.LiveEvents",
                    "catchbay.app.Screen",
                    "catchbay.app.StopSignal",
                    "catchbay.app.ThreadedTraceLog");

    /**
     * The class that draws from a generator handed to it, and the command that seeds one by its
     * option.
     */
    private static final Set<String> CHANCE_OWNERS =
            Set.of("catchbay.metrology.Chance", "catchbay.app.BudgetCommand");

    private static final JavaClasses RIG = Imported.mainClasses();

    @Test
    void everySourceFileWasLookedAt() {
        Imported.assertComplete(RIG);
    }

    @Test
    void roomsSeeOnlyWhatTheyMay() {
        HouseRules.roomsSeeOnlyWhatTheyMay(BASE).check(RIG);
    }

    @Test
    void timeComesThroughItsPort() {
        banned(Ban.REAL_TIME, everywhere()).check(RIG);
    }

    @Test
    void nothingIsLeftToChance() {
        Imported.assertExist(RIG, CHANCE_OWNERS);
        banned(Ban.CHANCE, outside(CHANCE_OWNERS)).check(RIG);
        banned(Ban.CHANCE_MADE, everywhere()).check(RIG);
        banned(Ban.CHANCE_WITHOUT_SEED, everywhere()).check(RIG);
    }

    @Test
    void everyTextNamesItsLocale() {
        banned(Ban.DEFAULT_LOCALE, everywhere()).check(RIG);
    }

    @Test
    void pureRoomsGiveTheSameNumberOnEveryMachine() {
        banned(Ban.MACHINE_MATH, inPureRooms(BASE)).check(RIG);
        banned(Ban.MACHINE, inPureRooms(BASE)).check(RIG);
    }

    @Test
    void threadsHaveNamedOwnersInApp() {
        assertTrue(
                THREAD_OWNERS.stream().allMatch(name -> name.startsWith(BASE + ".app.")),
                "owners are in app");
        Imported.assertExist(RIG, THREAD_OWNERS);
        banned(Ban.THREAD, outside(THREAD_OWNERS)).check(RIG);
    }
}
