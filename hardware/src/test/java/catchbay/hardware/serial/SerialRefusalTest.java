package catchbay.hardware.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.Timekeeper;
import catchbay.quantity.Mass;
import catchbay.sim.device.StandInScale;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;

/** Every refusal is one sentence that names the line and says what to do. */
@Timeout(60)
class SerialRefusalTest {

    @TempDir private Path folder;

    @Test
    void aLineThatIsNotThereIsMissing() {
        // Also where the last part of the path names something under /dev.
        for (String name : new String[] {"scale", "null", "tty"}) {
            Path path = folder.resolve(name);
            assertRefused(PortException.Kind.MISSING, path, "There is no serial line " + path);
        }
    }

    @Test
    void aLinkThatLeadsNowhereIsMissing() throws IOException {
        Path link = Files.createSymbolicLink(folder.resolve("scale"), Path.of("ttyGone"));
        assertRefused(
                PortException.Kind.MISSING,
                link,
                link + ": it is a link to ttyGone, and nothing is there. Check");
    }

    @Test
    void whatIsNoSerialLineIsUnfit() throws IOException {
        assertRefused(PortException.Kind.UNFIT, folder, "is not a serial line but a folder");
        assertRefused(
                PortException.Kind.UNFIT,
                Files.writeString(folder.resolve("file"), "kept"),
                "is not a serial line but a file");
        assertEquals("kept", Files.readString(folder.resolve("file")));
        assertRefused(PortException.Kind.UNFIT, Path.of("/dev/null"), "is not a serial line");
    }

    @Test
    void aLineHeldByThisProgramIsBusy() throws Exception {
        try (StandInScale device =
                        new StandInScale(StandInScale.Setting.polled(), () -> new Mass(1));
                SerialSource source =
                        SerialBench.open(
                                PortKind.SCALE, SerialBench.scale(device.path(), "sma-stream"))) {
            assertRefused(
                    PortException.Kind.BUSY, device.path(), "is open in this program already");
            assertEquals(0, source.counts().reconnects());
        }
    }

    @Test
    void aLineHeldByAnotherProgramIsBusy() throws Exception {
        try (StandInScale device =
                new StandInScale(StandInScale.Setting.polled(), () -> new Mass(1))) {
            // util-linux's flock holds the lock that serial programs put on a line (flock(2)),
            // until its input ends.
            Process other =
                    new ProcessBuilder(
                                    "flock",
                                    "--nonblock",
                                    device.path().toString(),
                                    "sh",
                                    "-c",
                                    "echo held; cat")
                            .redirectErrorStream(true)
                            .start();
            try {
                assertEquals("held", other.inputReader().readLine());
                assertRefused(
                        PortException.Kind.BUSY,
                        device.path(),
                        "flock (process " + other.pid() + ")");
            } finally {
                other.outputWriter().close();
                other.waitFor();
            }
            SerialBench.open(PortKind.SCALE, SerialBench.scale(device.path(), "sma-stream"))
                    .close();
        }
    }

    /** The kernel alone would let both read, and give each byte to one of them. */
    @Test
    void aLineReadByAnotherProgramWithoutALockIsBusy() throws Exception {
        try (StandInScale device =
                new StandInScale(StandInScale.Setting.polled(), () -> new Mass(1))) {
            Process other =
                    new ProcessBuilder(
                                    "sh",
                                    "-c",
                                    "exec 3<\"$0\"; echo open; exec cat",
                                    device.path() + "")
                            .start();
            try {
                assertEquals("open", other.inputReader().readLine());
                String holder = "is held by cat (process " + other.pid() + ")";
                SerialBench.await(
                        () -> other.info().command().orElse("").endsWith("cat"),
                        () -> "cat has not started");
                assertRefused(PortException.Kind.BUSY, device.path(), holder);
            } finally {
                other.outputWriter().close();
                other.waitFor();
            }
        }
    }

    /**
     * Error numbers of Linux, errno(3): those that a test as root cannot bring about are checked by
     * number.
     */
    @ParameterizedTest
    @CsvSource({
        "13, FORBIDDEN, group",
        "1, FORBIDDEN, group",
        "16, BUSY, fuser",
        "11, BUSY, fuser",
        "5, MISSING, plugged"
    })
    void errorsOfTheSystemBecomeSentences(int errorNumber, PortException.Kind kind, String mend) {
        PortException refusal = SerialWire.refusal("/dev/ttyUSB0", folder, errorNumber);
        assertEquals(kind, refusal.kind());
        assertTrue(refusal.getMessage().contains("/dev/ttyUSB0"), refusal.getMessage());
        assertTrue(refusal.getMessage().contains(mend), refusal.getMessage());
    }

    @Test
    void whoMayNotUseALineIsToldWhichGroupMay() throws IOException {
        String user = System.getProperty("user.name");
        String message = SerialWire.refusal("./scale", folder, 13).getMessage();
        assertTrue(message.contains("may not be used by the user " + user), message);
        String mend =
                SerialDevices.group(folder)
                        .map(group -> "usermod -aG " + group + " " + user)
                        .orElse("udev rule");
        assertTrue(message.contains(mend), message);
    }

    @Test
    void aRealLineInVirtualTimeIsRefused() throws IOException {
        Timekeeper virtual =
                new Timekeeper() {
                    @Override
                    public long monotonicNanos() {
                        return 0;
                    }

                    @Override
                    public Instant wallTime() {
                        return Instant.EPOCH;
                    }

                    @Override
                    public String bootId() {
                        return "virtual";
                    }

                    @Override
                    public boolean movesOnlyInSleep() {
                        return true;
                    }

                    @Override
                    public void sleepUntil(long deadlineNanos) {
                        throw new IllegalStateException("nobody waits here");
                    }
                };
        try (StandInScale device =
                new StandInScale(StandInScale.Setting.polled(), () -> new Mass(1))) {
            BenchSettings scale = SerialBench.scale(device.path(), "sma-poll");
            BenchSettings controller =
                    SerialBench.controller(device.path(), "(?<total>.*)").with("unit", "us_gal");
            assertVirtual(PortKind.SCALE, scale, virtual);
            assertVirtual(PortKind.CONTROLLER, controller, virtual);
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "baud; 9601; a speed of 9601 bits/s",
                "baud; 0; from 300",
                "data_bits; 9; from 7",
                "stop_bits; 0; from 1",
                "parity; mark; use none, even or odd",
                "port; ''; path of a serial device",
                "protocol; telex; use sma-poll",
                "poll_hertz; 0; from 0.2",
                "gone_seconds; 0; from 1"
            })
    void impossibleSettingsOfAScale(String key, String value, String words) {
        Object typed = value.matches("\\d+") ? (Object) Double.valueOf(value) : value;
        assertSetting(
                PortKind.SCALE,
                SerialBench.scale(folder, "sma-poll").with(key, typed),
                key + ": ",
                words);
    }

    @Test
    void settingsOfAScaleThatDoNotGoTogether() {
        BenchSettings poll = SerialBench.scale(folder, "sma-poll");
        assertSetting(
                PortKind.SCALE,
                poll.with("baud", 300).with("poll_hertz", 5),
                "poll_hertz: ",
                "take 767 ms at 300 bits/s, too long for 5.0 times a second");
        BenchSettings pattern = SerialBench.scale(folder, "pattern");
        assertSetting(PortKind.SCALE, pattern, "pattern: ", "is missing");
        assertSetting(
                PortKind.SCALE,
                pattern.with("pattern", "(?<weight>.*)"),
                "pattern: ",
                "no unit is set");
        assertSetting(
                PortKind.SCALE,
                pattern.with("pattern", "(?<weight>.*").with("unit", "kg"),
                "pattern: ",
                "not closed");
        assertSetting(
                PortKind.SCALE,
                pattern.with("pattern", "(?<weight>.*)").with("unit", "st"),
                "unit: ",
                "unknown mass");
        assertSetting(
                PortKind.SCALE,
                pattern.with("pattern", "(?<weight>.*)").with("unit", "lb"),
                "unit: ",
                "the line's unit is lb and the scale's is kg");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "station; 0; from 1",
                "table; coils; use holding or input",
                "register; 70000; from 0",
                "number; bcd; use int16, uint16",
                "word_order; middle; use high-first or low-first",
                "factor; 0; from 1.0E-6",
                "unit_value; 3; unit_register and unit_value",
                "motion_bit; 3; add state_register",
                "state_register; 3; none of its bits is named",
                "unit_register; 200; cannot be had by one question",
                "poll_hertz; 26; from 0.2"
            })
    void impossibleSettingsOfRegisters(String key, String value, String words) {
        Object typed = value.matches("\\d+") ? (Object) Double.valueOf(value) : value;
        BenchSettings settings = registers().with(key, typed);
        if (key.equals("unit_register")) {
            settings = settings.with("unit_value", 1);
        }
        assertRefusedSetting(settings, words);
    }

    @Test
    void settingsOfRegistersThatDoNotGoTogether() {
        BenchSettings state = registers().with("state_register", 2).with("motion_bit", 1);
        assertRefusedSetting(state.with("stable_bit", 2), "keep one of them");
        assertRefusedSetting(
                registers().with("number", "int16").with("word_order", "low-first"),
                "has no order of registers");
        assertRefusedSetting(
                new BenchSettings(Map.of("port", "./x", "protocol", "modbus")),
                "registers carry no unit");
    }

    private BenchSettings registers() {
        return SerialBench.scale(folder, "modbus")
                .with("unit", "kg")
                .with("number", "int32")
                .with("register", 0);
    }

    private static void assertRefusedSetting(BenchSettings settings, String words) {
        String message =
                assertThrows(
                                IllegalArgumentException.class,
                                () -> SerialBench.open(PortKind.SCALE, settings))
                        .getMessage();
        assertTrue(message.contains(words), message);
    }

    @Test
    void impossibleSettingsOfAController() {
        BenchSettings settings = SerialBench.controller(folder, "T (?<total>[0-9.]+)");
        assertSetting(PortKind.CONTROLLER, settings, "pattern: ", "no unit is set");
        assertSetting(
                PortKind.CONTROLLER, settings.with("unit", "gal"), "unit: ", "unknown volume unit");
        assertSetting(
                PortKind.CONTROLLER,
                settings.with("unit", "us_gal").with("pattern", "x"),
                "pattern: ",
                "(?<total>");
    }

    private static void assertVirtual(PortKind kind, BenchSettings settings, Timekeeper virtual) {
        PortException refusal =
                assertThrows(
                        PortException.class,
                        () ->
                                SerialBench.provider(kind)
                                        .open(SerialBench.opening(settings, virtual)));
        assertEquals(PortException.Kind.UNFIT, refusal.kind());
        assertTrue(
                refusal.getMessage().contains("set provider = \"system\""), refusal.getMessage());
    }

    private static void assertRefused(PortException.Kind kind, Path path, String words) {
        PortException refusal =
                assertThrows(
                        PortException.class,
                        () ->
                                SerialBench.open(
                                                PortKind.SCALE,
                                                SerialBench.scale(path, "sma-stream"))
                                        .close());
        assertEquals(kind, refusal.kind(), refusal.getMessage());
        assertTrue(refusal.getMessage().contains(words), refusal.getMessage());
        assertTrue(refusal.getMessage().contains(path.toString()), refusal.getMessage());
    }

    private static void assertSetting(
            PortKind kind, BenchSettings settings, String key, String words) {
        String message =
                assertThrows(IllegalArgumentException.class, () -> SerialBench.open(kind, settings))
                        .getMessage();
        assertTrue(message.startsWith(key), message);
        assertTrue(message.contains(words), message);
    }
}
