package catchbay.architecture;

import static catchbay.architecture.HouseRules.banned;
import static catchbay.architecture.HouseRules.everywhere;
import static catchbay.architecture.HouseRules.outside;

import com.tngtech.archunit.core.domain.JavaClasses;

import org.junit.jupiter.api.Test;

import java.util.Set;

final class SimArchitectureTest {

    /**
     * Stand-in devices that live as processes of their own on the real clock, not in the virtual
     * bay.
     */
    private static final Set<String> REAL_TIME_DEVICES =
            Set.of(
                    "catchbay.sim.device.StandInLine",
                    "catchbay.sim.device.ScaleCommand",
                    "catchbay.sim.device.ControllerCommand");

    private static final JavaClasses SIM = Imported.mainClasses();

    @Test
    void everySourceFileWasLookedAt() {
        Imported.assertComplete(SIM);
    }

    @Test
    void theStandInBayKnowsTheProgramAndNothingElse() {
        HouseRules.onlyLibraries(Set.of("catchbay", "picocli")).check(SIM);
        HouseRules.neverSees("catchbay.hardware").check(SIM);
    }

    @Test
    void timeIsVirtual() {
        Imported.assertExist(SIM, REAL_TIME_DEVICES);
        banned(Ban.REAL_TIME, outside(REAL_TIME_DEVICES)).check(SIM);
        banned(Ban.THREAD, outside(REAL_TIME_DEVICES)).check(SIM);
    }

    @Test
    void chanceComesFromTheSeed() {
        banned(Ban.CHANCE_WITHOUT_SEED, everywhere()).check(SIM);
    }

    @Test
    void everyTextNamesItsLocale() {
        banned(Ban.DEFAULT_LOCALE, everywhere()).check(SIM);
    }
}
