package catchbay.hardware.temperature;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.rounds.RoundReader;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.port.Timekeeper;
import catchbay.quantity.Speed;
import catchbay.run.Doubts;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.function.Predicate;
import java.util.function.Supplier;

/**
 * The shipped port on a tree of files laid out like the kernel's (Linux documentation, w1_therm and
 * hwmon, from memory). Not proven on a Pi: there a file takes most of a second to read.
 */
final class KernelThermometersTest {

    private static final long PATIENCE_NANOS = 20_000_000_000L;
    private static final String SENSOR = "28-0123456789ab";

    @TempDir Path folder;

    private Path sensor(String number, String yesOrNo, int thousandths) throws IOException {
        Path file = Files.createDirectories(folder.resolve(number)).resolve("w1_slave");
        String bytes = "91 01 4b 46 7f ff 0c 10 2c ";
        return Files.writeString(
                file, bytes + ": crc=2c " + yesOrNo + "\n" + bytes + "t=" + thousandths + "\n");
    }

    private BenchSettings settings(Object... more) {
        BenchSettings settings = new BenchSettings(Map.of("folder", folder.toString()));
        for (int i = 0; i < more.length; i += 2) {
            settings = settings.with((String) more[i], more[i + 1]);
        }
        return settings;
    }

    private static PortProvider provider() {
        return ServiceLoader.load(PortProvider.class).stream()
                .map(ServiceLoader.Provider::get)
                .filter(found -> found.kind() == PortKind.TEMPERATURE && !found.simulated())
                .findFirst()
                .orElseThrow();
    }

    private static RoundReader open(Opening opening) throws PortException {
        return (RoundReader) provider().open(opening);
    }

    private static final class Opening implements PortOpening {

        private final PortSettings settings;
        private final Timekeeper time;
        private final RunSetup setup;
        private boolean simulated;

        Opening(PortSettings settings, Timekeeper time, TemperaturePlace... places) {
            this.settings = settings;
            this.time = time;
            Doubts usual = Doubts.USUAL;
            Doubts.Temperatures sensed =
                    new Doubts.Temperatures(
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            1,
                            Optional.empty(),
                            new Doubts.Sensors(Set.of(places), 0.5, 10_000_000_000L));
            Doubts doubts =
                    new Doubts(
                            usual.reference(),
                            usual.scale(),
                            usual.diverter(),
                            sensed,
                            usual.line(),
                            usual.speed(),
                            usual.salt(),
                            usual.scatter());
            this.setup =
                    new RunSetup(
                            "bench",
                            null,
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            null,
                            null,
                            null,
                            null,
                            null,
                            doubts,
                            null,
                            null,
                            null);
        }

        @Override
        public RunSetup setup() {
            return setup;
        }

        @Override
        public Speed usualSpeed() {
            return setup().asked().speed();
        }

        @Override
        public PortSettings settings() {
            return settings;
        }

        @Override
        public PortSettings settings(PortKind other) {
            return settings();
        }

        @Override
        public Timekeeper time() {
            return time;
        }

        @Override
        public void markSimulated() {
            simulated = true;
        }

        @Override
        public void tell(String found) {
            throw new AssertionError("a thermometer has nobody to end: " + found);
        }

        @Override
        public <T> T shared(Class<T> kind, Supplier<T> maker) {
            return maker.get();
        }
    }

    private static Timekeeper systemTime() throws PortException {
        return (Timekeeper) new SystemTime().open(null);
    }

    /** Drains until such a reading comes. */
    private static RunInput.Thermometer await(
            RoundReader source, Predicate<RunInput.Thermometer> such) {
        long deadline = System.nanoTime() + PATIENCE_NANOS;
        List<RunInput> seen = new ArrayList<>();
        while (System.nanoTime() < deadline) {
            source.drain(seen::add);
            for (RunInput input : seen) {
                if (input instanceof RunInput.Thermometer thermometer && such.test(thermometer)) {
                    return thermometer;
                }
            }
            Thread.onSpinWait();
        }
        throw new AssertionError("after 20 s: " + seen);
    }

    private static boolean shows(RunInput.Thermometer thermometer, double celsius) {
        return thermometer.reading() instanceof TemperatureReading.Shown shown
                && shown.temperature().celsius() == celsius;
    }

    @Test
    void sensorsAreReadByTheirNumberAndByTheirFile() throws Exception {
        sensor(SENSOR, "YES", 25062);
        Path monitor = Files.writeString(folder.resolve("temp1_input"), "4500\n");
        Opening opening =
                new Opening(
                        settings("reference", SENSOR, "room", monitor.toString()),
                        systemTime(),
                        TemperaturePlace.REFERENCE,
                        TemperaturePlace.ROOM);
        try (RoundReader source = open(opening)) {
            RunInput.Thermometer reference =
                    await(source, t -> t.place() == TemperaturePlace.REFERENCE);
            assertTrue(shows(reference, 25.062), reference.toString());
            long now = opening.time().monotonicNanos();
            assertTrue(now - reference.atNanos() < PATIENCE_NANOS && now > reference.atNanos());
            await(source, t -> t.place() == TemperaturePlace.ROOM && shows(t, 4.5));
        }
        assertTrue(opening.simulated, "files outside of the kernel's are no sensors");
    }

    @Test
    void whatHappensToASensorIsSeen() throws Exception {
        Path file = sensor(SENSOR, "YES", 25062);
        Opening opening =
                new Opening(settings("tank", SENSOR), systemTime(), TemperaturePlace.TANK);
        try (RoundReader source = open(opening)) {
            await(source, t -> shows(t, 25.062));
            sensor(SENSOR, "NO", 25062);
            assertTrue(missing(await(source, t -> !shows(t, 25.062))).contains("CRC"));
            Files.delete(file);
            await(source, t -> missing(t).contains("cannot be read"));
            sensor(SENSOR, "YES", 7000);
            await(source, t -> shows(t, 7));
        }
    }

    private static String missing(RunInput.Thermometer thermometer) {
        return thermometer.reading() instanceof TemperatureReading.Missing(String reason)
                ? reason
                : "";
    }

    @Test
    void closingStopsTheReader() throws Exception {
        sensor(SENSOR, "YES", 25062);
        RoundReader source =
                open(new Opening(settings("tank", SENSOR), systemTime(), TemperaturePlace.TANK));
        await(source, t -> true);
        source.close();
        source.drain(last -> {});
        assertTrue(
                Thread.getAllStackTraces().keySet().stream()
                        .noneMatch(thread -> thread.getName().equals("thermometers")));
    }

    @Test
    void aSensorThatIsNotThereIsNamedBesideThoseThatAre() throws Exception {
        sensor(SENSOR, "YES", 25062);
        Files.createDirectories(folder.resolve("w1_bus_master1"));
        PortException refused =
                assertThrows(
                        PortException.class,
                        () ->
                                open(
                                        new Opening(
                                                settings("room", "28-00000000000f"),
                                                systemTime(),
                                                TemperaturePlace.ROOM)));
        assertEquals(PortException.Kind.MISSING, refused.kind());
        assertTrue(refused.getMessage().contains("28-00000000000f"), refused.getMessage());
        assertTrue(
                refused.getMessage().endsWith("there are " + SENSOR + "."), refused.getMessage());
    }

    @Test
    void settingsThatDoNotFitAreRefused() throws Exception {
        sensor(SENSOR, "YES", 25062);
        Timekeeper time = systemTime();
        assertRefused(
                "truck_meter: is missing",
                new Opening(settings("tank", SENSOR), time, TemperaturePlace.TRUCK_METER));
        assertRefused("names no thermometer", new Opening(settings("tank", SENSOR), time));
        assertRefused(
                "the file that holds its reading",
                new Opening(settings("tank", "a\0b"), time, TemperaturePlace.TANK));
    }

    @Test
    void oneSensorForTwoPlacesIsRefused() throws Exception {
        sensor(SENSOR, "YES", 25062);
        assertRefused(
                "it is the thermometer of",
                new Opening(
                        settings("tank", SENSOR).with("room", SENSOR),
                        systemTime(),
                        TemperaturePlace.TANK,
                        TemperaturePlace.ROOM));
    }

    private static void assertRefused(String words, Opening opening) {
        IllegalArgumentException refused =
                assertThrows(IllegalArgumentException.class, () -> open(opening));
        assertTrue(refused.getMessage().contains(words), refused.getMessage());
    }

    /** A sensor in real time cannot tell of a window in virtual time. */
    @Test
    void aRunOfItsOwnTimeIsRefused() throws Exception {
        sensor(SENSOR, "YES", 25062);
        Timekeeper virtual =
                new Timekeeper() {
                    @Override
                    public long monotonicNanos() {
                        return 5;
                    }

                    @Override
                    public Instant wallTime() {
                        return Instant.EPOCH;
                    }

                    @Override
                    public void sleepUntil(long nanos) {
                        throw new UnsupportedOperationException();
                    }

                    @Override
                    public String bootId() {
                        return "virtual";
                    }
                };
        PortException refused =
                assertThrows(
                        PortException.class,
                        () ->
                                open(
                                        new Opening(
                                                settings("tank", SENSOR),
                                                virtual,
                                                TemperaturePlace.TANK)));
        assertEquals(PortException.Kind.UNFIT, refused.kind());
        assertTrue(refused.getMessage().contains("[port.temperature]"), refused.getMessage());
    }
}
