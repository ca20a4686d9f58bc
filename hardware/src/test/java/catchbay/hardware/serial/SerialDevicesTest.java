package catchbay.hardware.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.FileInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Trees of files laid out as Linux lays out its devices; not proven on a Pi. */
class SerialDevicesTest {

    @TempDir private Path folder;
    private Path scale;
    private Path truck;
    private SerialDevices devices;

    @BeforeEach
    void twoAdaptersOfWhichOneHasNoSerialNumber() throws IOException {
        scale = Files.createFile(folder.resolve("ttyUSB0"));
        truck = Files.createFile(folder.resolve("ttyUSB1"));
        Path names = folder.resolve("serial");
        link(names.resolve("by-id/usb-adapter-A1-if00-port0"), "../../ttyUSB0");
        link(names.resolve("by-path/usb-0:1.2:1.0-port0"), "../../ttyUSB0");
        link(names.resolve("by-path/usb-0:1.3:1.0-port0"), "../../ttyUSB1");
        link(names.resolve("by-id/usb-gone-if00-port0"), "../../ttyUSB7");
        devices = new SerialDevices(names, folder.resolve("proc"));
    }

    @Test
    void aBareNumberIsRefusedWithTheNamesThatStay() {
        assertEquals(
                "port: "
                        + scale
                        + " may be another device after the next plugging or start; name it by "
                        + folder.resolve("serial/by-id/usb-adapter-A1-if00-port0")
                        + " or "
                        + folder.resolve("serial/by-path/usb-0:1.2:1.0-port0")
                        + ", which leads to the same device",
                refusal(scale));
        assertTrue(refusal(truck).contains("by-path/usb-0:1.3:1.0-port0, which"), refusal(truck));
        assertFalse(refusal(truck).contains("by-id"), refusal(truck));
    }

    @Test
    void aBareNumberThatIsNotPluggedInIsRefusedToo() {
        String absent = refusal(folder.resolve("ttyACM3"));
        assertTrue(absent.contains("no lasting name leads to it now; there are"), absent);
        assertTrue(absent.contains("usb-adapter-A1-if00-port0 or"), absent);
        devices = new SerialDevices(folder.resolve("none"), folder);
        assertTrue(refusal(scale).contains("take its name from /dev/serial/by-id"));
    }

    @Test
    void lastingNamesLinksOfOnesOwnAndBuiltInLinesAreTaken() throws IOException {
        Path own = Files.createSymbolicLink(folder.resolve("ttyUSB9"), scale);
        for (Path port :
                List.of(
                        folder.resolve("serial/by-id/usb-adapter-A1-if00-port0"),
                        own,
                        folder.resolve("ttyAMA0"))) {
            assertEquals(port.toString(), settings(port).port());
        }
    }

    @Test
    void whoHasADeviceOpenIsSeenByItsOpenFiles() throws IOException {
        process(41, "terminal", 3, scale);
        process(42, "other", 3, truck);
        Files.createDirectories(folder.resolve("proc/sys"));
        assertEquals("[terminal (process 41)]", devices.othersHolding(scale).toString());
    }

    /** Another user's open files are hidden, but not its lock: proc_locks(5), proc_pid_fd(5). */
    @Test
    void whoHasADeviceLockedIsSeenByItsLock() throws IOException {
        process(43, "modem-manager", 3, truck);
        long number = (long) Files.getAttribute(scale, "unix:dev");
        Files.writeString(
                folder.resolve("proc/locks"),
                "1: POSIX  ADVISORY  WRITE 44 fe:00:2154629 0 EOF\n"
                        + String.format(
                                "2: FLOCK  ADVISORY  WRITE 43 %02x:%02x:%d 0 EOF\n",
                                number >> 8 & 0xfff,
                                number & 0xff,
                                (long) Files.getAttribute(scale, "unix:ino")));
        assertEquals("[modem-manager (process 43)]", devices.othersHolding(scale).toString());
    }

    /** Both are called java by the kernel. */
    @Test
    void anotherOfThisProgramIsToldFromOtherJavaPrograms() throws IOException {
        process(51, "java", 7, scale);
        Files.writeString(
                folder.resolve("proc/51/cmdline"), "java\0-cp\0x\0catchbay.app.Main\0catch\0");
        process(52, "java", 7, scale);
        Files.writeString(folder.resolve("proc/52/cmdline"), "java\0-jar\0other.jar\0");
        assertEquals(
                "[another catchbay (process 51), java (process 52)]",
                devices.othersHolding(scale).toString());
    }

    @Test
    void thisProgramIsNoOther() throws IOException {
        SerialDevices here = new SerialDevices(folder, Path.of("/proc"));
        try (FileInputStream open = new FileInputStream(scale.toFile())) {
            assertEquals(0, open.available());
            assertEquals("[]", here.othersHolding(scale.toRealPath()).toString());
        }
    }

    @Test
    void theGroupIsTheDevicesOwnWhereItMayUseIt() throws IOException {
        Files.setPosixFilePermissions(scale, PosixFilePermissions.fromString("rw-rw----"));
        PosixFileAttributes seen = Files.readAttributes(scale, PosixFileAttributes.class);
        assertEquals(
                SerialDevices.groupToJoin(seen.group().getName(), seen.permissions()),
                SerialDevices.group(scale));
        assertEquals(
                Optional.of("dialout"),
                SerialDevices.groupToJoin("dialout", PosixFilePermissions.fromString("rw-rw----")));
        for (String mode : List.of("rw-------", "rw-r-----", "rw-rw----")) {
            assertEquals(
                    Optional.empty(),
                    SerialDevices.groupToJoin(
                            mode.equals("rw-rw----") ? "root" : "dialout",
                            PosixFilePermissions.fromString(mode)));
        }
        assertTrue(SerialDevices.group(folder.resolve("absent")).isEmpty());
    }

    private void process(long number, String command, int handle, Path open) throws IOException {
        Path process = folder.resolve("proc/" + number);
        Files.createDirectories(process.resolve("fd"));
        Files.writeString(process.resolve("comm"), command + "\n");
        Files.createSymbolicLink(process.resolve("fd/" + handle), open);
    }

    private String refusal(Path port) {
        return assertThrows(IllegalArgumentException.class, () -> settings(port)).getMessage();
    }

    private SerialSettings settings(Path port) {
        return SerialSettings.of(new BenchSettings(Map.of("port", port.toString())), devices);
    }

    private static void link(Path name, String target) throws IOException {
        Files.createDirectories(name.getParent());
        Files.createSymbolicLink(name, Path.of(target));
    }
}
