package catchbay.architecture;

import static catchbay.architecture.HouseRules.banned;
import static catchbay.architecture.HouseRules.everywhere;
import static catchbay.architecture.HouseRules.outside;

import com.tngtech.archunit.core.domain.JavaClasses;

import org.junit.jupiter.api.Test;

import java.util.Set;

final class HardwareArchitectureTest {

    /** The only classes that may read the real clock or wait on it. */
    private static final Set<String> REAL_TIME_OWNERS =
            Set.of(
                    "catchbay.hardware.clock.SystemTimekeeper",
                    "catchbay.hardware.clock.LoopHealth",
                    "catchbay.hardware.relay.Heartbeat",
                    "catchbay.hardware.serial.SerialSource",
                    "catchbay.hardware.rounds.RoundReader",
                    "catchbay.hardware.computer.LinuxComputer",
                    "catchbay.hardware.computer.WatchedComputer",
                    "catchbay.hardware.systemd.ServiceNews");

    private static final JavaClasses HARDWARE = Imported.mainClasses();

    @Test
    void everySourceFileWasLookedAt() {
        Imported.assertComplete(HARDWARE);
    }

    @Test
    void adaptersKnowTheProgramAndTheirDriver() {
        HouseRules.onlyLibraries(
                        Set.of(
                                "catchbay",
                                "com.fazecast.jSerialComm",
                                "com.digitalpetri.modbus",
                                "com.pi4j"))
                .check(HARDWARE);
        HouseRules.neverSees("catchbay.sim").check(HARDWARE);
    }

    @Test
    void theRealClockHasNamedOwners() {
        Imported.assertExist(HARDWARE, REAL_TIME_OWNERS);
        banned(Ban.REAL_TIME, outside(REAL_TIME_OWNERS)).check(HARDWARE);
    }

    @Test
    void nothingIsLeftToChance() {
        banned(Ban.CHANCE, everywhere()).check(HARDWARE);
        banned(Ban.CHANCE_WITHOUT_SEED, everywhere()).check(HARDWARE);
    }

    @Test
    void everyTextNamesItsLocale() {
        banned(Ban.DEFAULT_LOCALE, everywhere()).check(HARDWARE);
    }
}
