package catchbay.hardware.computer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.Computer;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortProvider;
import catchbay.run.BayComputer;
import catchbay.run.BayComputer.ClockDoubt;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.function.Predicate;

/** Trees of files laid out as Linux lays out a board's; not proven on a Pi. */
@Timeout(60)
class WatchedComputerTest {

    private static final long PATIENCE_NANOS = 20_000_000_000L;

    @TempDir private Path root;
    private final MovableClock calendar = new MovableClock();
    private volatile boolean kernelSays;

    @ParameterizedTest
    @CsvSource({
        "sys/devices/platform/soc/soc:firmware, 50005, 327685",
        "sys/devices/platform/soc@107c000000/soc@107c000000:firmware, 0, 0",
        "sys/devices/platform/soc:firmware, 0x50000, 327680",
        "sys/devices/platform/soc/soc:firmware, fffff, 1048575"
    })
    void theFirmwaresFlagsAreFoundWhereverABoardHasThem(String folder, String text, int flags)
            throws IOException {
        write(folder + "/get_throttled", text + "\n");
        assertEquals(OptionalInt.of(flags), new LinuxFiles(root).powerFlags());
    }

    @Test
    void flagsThatAreNotThereOrUnreadableAreNotTold() throws IOException {
        assertEquals(OptionalInt.empty(), new LinuxFiles(root).powerFlags());
        write("sys/devices/platform/soc/soc:firmware/get_throttled", "throttled?\n");
        assertEquals(OptionalInt.empty(), new LinuxFiles(root).powerFlags());
    }

    @Test
    void underVoltageThatComesAndGoesIsSeen() throws Exception {
        String flags = "sys/devices/platform/soc/soc:firmware/get_throttled";
        write(flags, "0\n");
        try (Computer computer = watched()) {
            assertEquals(OptionalInt.of(0), computer.state().powerFlags());
            write(flags, "10001\n");
            await(computer, told -> told.powerFlags().equals(OptionalInt.of(0x10001)));
            write(flags, "10000\n");
            await(computer, told -> told.powerFlags().equals(OptionalInt.of(0x10000)));
        }
    }

    /** Any one of the three is enough; without them nobody knows what day it is. */
    @Test
    void aClockIsTrustedWhenABatteryOrATimeServerKeepsIt() throws Exception {
        assertDoubts(Set.of(ClockDoubt.UNSET));
        kernelSays = true;
        assertDoubts(Set.of());
        kernelSays = false;
        write("run/systemd/timesync/synchronized", "");
        assertDoubts(Set.of());
        Files.delete(root.resolve("run/systemd/timesync/synchronized"));
        Files.createDirectories(root.resolve("sys/class/rtc"));
        assertDoubts(Set.of(ClockDoubt.UNSET));
        Files.createDirectory(root.resolve("sys/class/rtc/rtc0"));
        assertDoubts(Set.of());
    }

    @Test
    void aClockThatLeapsIsDoubtedFromThenOn() throws Exception {
        kernelSays = true;
        try (Computer computer = watched()) {
            assertEquals(Optional.of(true), computer.state().clockTrusted());
            calendar.ahead = Duration.ofSeconds(-3600);
            await(
                    computer,
                    told -> told.clockDoubts().equals(Optional.of(Set.of(ClockDoubt.STEPPED))));
            calendar.ahead = Duration.ZERO;
            Thread.sleep(1200);
            assertEquals(Optional.of(false), computer.state().clockTrusted());
        }
    }

    @Test
    void aClockThatATimeServerBendsIsNotDoubted() throws Exception {
        kernelSays = true;
        try (Computer computer = watched()) {
            for (int i = 1; i <= 3; i++) {
                calendar.ahead = Duration.ofMillis(100 * i);
                Thread.sleep(1100);
            }
            assertEquals(Optional.of(Set.of()), computer.state().clockDoubts());
        }
    }

    /** Whatever this machine is, it can be asked. */
    @Test
    void thisMachineIsAskedByTheProgramsOwnProvider() throws Exception {
        PortProvider provider =
                ServiceLoader.load(PortProvider.class).stream()
                        .map(ServiceLoader.Provider::get)
                        .filter(found -> found.kind() == PortKind.COMPUTER)
                        .findFirst()
                        .orElseThrow();
        assertFalse(provider.simulated());
        try (Computer computer = (Computer) provider.open(null)) {
            assertTrue(computer.state().clockTrusted().isPresent());
        }
    }

    private void assertDoubts(Set<ClockDoubt> doubts) throws Exception {
        try (Computer computer = watched()) {
            assertEquals(Optional.of(doubts), computer.state().clockDoubts());
        }
    }

    private Computer watched() throws PortException {
        return new WatchedComputer(
                new LinuxFiles(root), () -> kernelSays, MonotonicClock.open(), calendar);
    }

    private static void await(Computer computer, Predicate<BayComputer> wanted)
            throws InterruptedException {
        long deadline = System.nanoTime() + PATIENCE_NANOS;
        while (!wanted.test(computer.state())) {
            assertTrue(System.nanoTime() < deadline, computer.state().toString());
            Thread.sleep(10);
        }
    }

    private void write(String place, String text) throws IOException {
        Files.createDirectories(root.resolve(place).getParent());
        Path fresh = Files.writeString(root.resolve("fresh"), text);
        Files.move(
                fresh,
                root.resolve(place),
                java.nio.file.StandardCopyOption.REPLACE_EXISTING,
                java.nio.file.StandardCopyOption.ATOMIC_MOVE);
    }

    /** The system's clock, set ahead by so much. */
    private static final class MovableClock extends Clock {

        private volatile Duration ahead = Duration.ZERO;

        @Override
        public Instant instant() {
            return Clock.systemUTC().instant().plus(ahead);
        }

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            throw new UnsupportedOperationException("one zone is enough");
        }
    }
}
