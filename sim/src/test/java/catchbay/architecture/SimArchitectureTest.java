package catchbay.architecture;

import static catchbay.architecture.HouseRules.banned;
import static catchbay.architecture.HouseRules.everywhere;
import static catchbay.architecture.HouseRules.outside;

import com.tngtech.archunit.core.domain.JavaClasses;

import org.junit.jupiter.api.Test;

import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

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

    /** The same, and the campaign, whose sweeps know nothing of each other. */
    private static final Set<String> THREAD_OWNERS =
            Stream.concat(
                            REAL_TIME_DEVICES.stream(),
                            Stream.of("catchbay.sim.campaign.FaultCampaign"))
                    .collect(Collectors.toUnmodifiableSet());

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
        Imported.assertExist(SIM, THREAD_OWNERS);
        banned(Ban.REAL_TIME, outside(REAL_TIME_DEVICES)).check(SIM);
        banned(Ban.THREAD, outside(THREAD_OWNERS)).check(SIM);
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
