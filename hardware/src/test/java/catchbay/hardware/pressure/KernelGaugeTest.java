package catchbay.hardware.pressure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.gpiochip.BenchOpening;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.RunInput;
import catchbay.signal.PressureReading;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;

/**
 * The shipped port on a tree of files laid out like the kernel's (ABI/testing/sysfs-bus-iio, from
 * memory). Not proven on a Pi.
 *
 * <p>A step of a common 16-bit converter at its range of 4.096 V is 0.125 mV (4096 / 32768): 9600
 * steps are 1200 mV, and over 100 ohm 12 mA, the middle of 4 to 20 mA.
 */
@Timeout(60)
final class KernelGaugeTest {

    @TempDir Path folder;

    private final BenchSettings settings =
            new BenchSettings(
                    Map.of(
                            "device",
                            "ads1115",
                            "channel",
                            "voltage1",
                            "signal",
                            "4-20mA",
                            "shunt_ohms",
                            100,
                            "range_to_bar",
                            4));

    private Path device(int number, String name) throws IOException {
        Path device = Files.createDirectories(folder.resolve("iio:device" + number));
        Files.writeString(device.resolve("name"), name + "\n");
        return device;
    }

    private Path converter(int number) throws IOException {
        Path device = device(number, "ads1115");
        Files.writeString(device.resolve("in_voltage1_raw"), "9600\n");
        Files.writeString(device.resolve("in_voltage1_scale"), "0.125000000\n");
        return device;
    }

    private Source open(BenchSettings with) throws Exception {
        return (Source) new KernelGauge().open(opening(with));
    }

    private BenchOpening opening(BenchSettings with) throws PortException {
        return new BenchOpening(
                with.with("folder", folder.toString()),
                (Timekeeper) new SystemTime().open(null),
                null);
    }

    private static void await(Source source, Predicate<PressureReading> such) throws Exception {
        PressureReading[] found = new PressureReading[1];
        while (found[0] == null) {
            source.drain(input -> {
                PressureReading reading = ((RunInput.CouplerPressure) input).reading();
                found[0] = such.test(reading) ? reading : found[0];
            });
            Thread.sleep(10);
        }
    }

    private static boolean shows(PressureReading reading, double kilopascals) {
        return reading instanceof PressureReading.Shown shown
                && Math.abs(shown.pressure().kilopascals() - kilopascals) < 1e-9;
    }

    private static boolean lacks(PressureReading reading, String reason) {
        return reading instanceof PressureReading.Missing missing
                && missing.reason().equals(reason);
    }

    private void assertRefused(String sentence, BenchSettings with) {
        assertEquals(
                sentence,
                assertThrows(IllegalArgumentException.class, () -> open(with)).getMessage());
    }

    private static String refusal(PortException.Kind kind, Throwable thrown) {
        PortException refused = assertInstanceOf(PortException.class, thrown);
        assertEquals(kind, refused.kind());
        return refused.getMessage();
    }

    private BenchSettings without(String key) {
        Map<String, Object> values = new HashMap<>(settings.values());
        values.remove(key);
        return new BenchSettings(values);
    }

    @Test
    void theConverterIsFoundByItsNameWhateverItsNumber() throws Exception {
        device(0, "bme280");
        Path device = converter(3);
        BenchOpening opening = opening(settings);
        try (Source gauge = (Source) new KernelGauge().open(opening)) {
            await(gauge, reading -> shows(reading, 200));
            Files.writeString(device.resolve("in_voltage1_raw"), "2400\n");
            await(
                    gauge,
                    reading ->
                            lacks(
                                    reading,
                                    "3.00 mA is below 3.6 mA: its wire is broken or it has failed"
                                            + " (NE 43)"));
            Files.delete(device.resolve("in_voltage1_raw"));
            await(
                    gauge,
                    reading ->
                            lacks(
                                    reading,
                                    "its file "
                                            + device.resolve("in_voltage1_raw")
                                            + " cannot be read"));
            Files.writeString(device.resolve("in_voltage1_raw"), "16000\n");
            await(gauge, reading -> shows(reading, 400));
        }
        assertTrue(opening.markedSimulated(), "files outside of the kernel's are no converter");
    }

    /** (raw + offset) x scale, from files that stand for all channels: (600 + 200) x 2.5 mV. */
    @Test
    void scaleAndOffsetMayStandForAllChannels() throws Exception {
        Path device = device(0, "mcp3208");
        Files.writeString(device.resolve("label"), "bay-gauges\n");
        Files.writeString(device.resolve("in_voltage0-voltage1_raw"), "600\n");
        Files.writeString(device.resolve("in_voltage-voltage_scale"), "2.5\n");
        Files.writeString(device.resolve("in_voltage_scale"), "77\n");
        Files.writeString(device.resolve("in_voltage_offset"), "200\n");
        BenchSettings differential =
                settings.with("device", "bay-gauges").with("channel", "voltage0-voltage1");
        try (Source gauge = open(differential)) {
            await(gauge, reading -> shows(reading, 400));
        }
    }

    @Test
    void aDividedVoltage() throws Exception {
        converter(0);
        BenchSettings voltage = settings.with("signal", "0-10V").with("divider_ratio", 4);
        try (Source gauge = open(voltage)) {
            await(gauge, reading -> shows(reading, 192));
        }
    }

    @Test
    void aConverterThatIsNotThereIsRefusedWithThoseThatAre() throws Exception {
        assertEquals(
                "There is no converter called 'ads1115' in "
                        + folder
                        + "; there is none at all: load its driver.",
                refusal(
                        PortException.Kind.MISSING,
                        assertThrows(PortException.class, () -> open(settings))));
        device(0, "bme280");
        device(1, "mcp3208");
        assertEquals(
                "There is no converter called 'ads1115' in "
                        + folder
                        + "; name one of those that exist: bme280, mcp3208.",
                refusal(
                        PortException.Kind.MISSING,
                        assertThrows(PortException.class, () -> open(settings))));
    }

    @Test
    void twoOfTheSameNameAreRefusedUnlessLabelsTellThemApart() throws Exception {
        converter(0);
        Path second = converter(1);
        assertEquals(
                "2 converters are called 'ads1115', and which one is meant cannot be told; give"
                        + " them labels in the device tree, or take one of them away.",
                refusal(
                        PortException.Kind.UNFIT,
                        assertThrows(PortException.class, () -> open(settings))));
        Files.writeString(second.resolve("label"), "coupler\n");
        try (Source gauge = open(settings.with("device", "coupler"))) {
            await(gauge, reading -> shows(reading, 200));
        }
    }

    @Test
    void aChannelThatIsNotThereOrNoVoltageIsRefused() throws Exception {
        Path device = converter(0);
        assertEquals(
                "The converter has no channel voltage7 ("
                        + device.resolve("in_voltage7_raw")
                        + "); name one of its own under [port.pressure].",
                refusal(
                        PortException.Kind.MISSING,
                        assertThrows(
                                PortException.class,
                                () -> open(settings.with("channel", "voltage7")))));
        Files.writeString(device.resolve("in_voltage1_scale"), "wide\n");
        assertEquals(
                "The channel voltage1 cannot be read as a voltage ("
                        + device.resolve("in_voltage1_scale")
                        + " holds no number); check that it has a scale, and its wires to the"
                        + " computer.",
                refusal(
                        PortException.Kind.UNFIT,
                        assertThrows(PortException.class, () -> open(settings))));
        for (String none : List.of("0", "-2.5")) {
            Files.writeString(device.resolve("in_voltage1_scale"), none + "\n");
            String sentence = assertThrows(PortException.class, () -> open(settings)).getMessage();
            assertTrue(sentence.contains(", and no scale is that); check"), sentence);
        }
    }

    @Test
    void settingsThatSayTooLittleOrTooMuchAreRefused() throws Exception {
        converter(0);
        assertRefused("device: is missing", without("device"));
        assertRefused(
                "channel: the channel '../in' is not known; use voltage0 or another number, or"
                        + " voltage0-voltage1 between two pins",
                settings.with("channel", "../in"));
        assertRefused(
                "signal: the signal '0-20mA' is not known; use 4-20mA or 0-10V",
                settings.with("signal", "0-20mA"));
        assertRefused(
                "shunt_ohms: say over how many ohms the current makes its voltage",
                without("shunt_ohms"));
        assertRefused(
                "divider_ratio: say how many times the voltage at the converter the gauge's is",
                settings.with("signal", "0-10V"));
        assertRefused(
                "range_to_psi: say which pressure the upper end of the signal is, here or as"
                        + " range_to_kpa or range_to_bar",
                without("range_to_bar"));
        assertRefused(
                "range_to_bar: it is given in another unit too; keep one of them",
                settings.with("range_to_psi", 60));
        assertRefused(
                "range_to_psi: the upper end of the range must be above the lower one",
                settings.with("range_from_kpa", 400));
        assertRefused(
                "shunt_ohms: must be from 1.0 to 1000.0, was 0.0", settings.with("shunt_ohms", 0));
    }
}
