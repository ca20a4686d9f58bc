package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Settings;
import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.Timekeeper;
import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** What the settings may say, and what is said of a chip that is not there. */
final class GpiochipPulsesTest {

    private static final BenchSettings GOOD =
            new BenchSettings(
                    Map.of("chip", "no-such-chip", "truck_line", 4, "truck_companion", 5));

    private static Object open(BenchSettings settings) throws PortException {
        Timekeeper time = (Timekeeper) new SystemTime().open(null);
        return new GpiochipPulses().open(new BenchOpening(settings, time));
    }

    private static void assertRefused(String sentence, BenchSettings settings) {
        assertEquals(
                sentence,
                assertThrows(IllegalArgumentException.class, () -> open(settings)).getMessage());
    }

    @Test
    void aLabelThatNoChipHasIsRefusedWithThoseThatExist() {
        PortException refused = assertThrows(PortException.class, () -> open(GOOD));
        assertEquals(PortException.Kind.MISSING, refused.kind());
        String sentence = refused.getMessage();
        assertTrue(
                sentence.startsWith("There is no GPIO chip labelled 'no-such-chip'; "), sentence);
        assertTrue(
                sentence.contains("name one of those that exist: ")
                        || sentence.contains("this computer has none at all: switch its driver on"),
                sentence);
    }

    @Test
    void aLineWithoutCompanionIsRefused() {
        Map<String, Object> values = new HashMap<>(GOOD.values());
        values.remove("truck_companion");
        assertRefused(
                "truck_companion: name a line of the chip that is used for nothing else; the kernel"
                        + " shows more lost edges when it is held as well",
                new BenchSettings(values));
    }

    @Test
    void aLineTakenTwiceIsRefused() {
        assertRefused(
                "feeder_companion: line 4 is already taken by truck_line; name another line",
                GOOD.with("feeder_line", 7).with("feeder_companion", 4));
    }

    @Test
    void noLineAtAllIsRefused() {
        assertRefused(
                "reference_line: no pulse line is named; give reference_line, truck_line or another"
                        + " with its companion, or set provider = \"none\"",
                new BenchSettings(Map.of("chip", "no-such-chip")));
    }

    /** With both of them the chip is what is lacking. */
    @Test
    void aReferenceWithTwoChannelsNeedsTwoLines() throws PortException {
        RunSetup setup =
                Settings.of(
                                "bay.toml",
                                Path.of("."),
                                """
                                [bay]
                                name = "Bay"
                                [reference]
                                serial = "METER-1"
                                date = 2026-01-01
                                expiry = 2027-01-01
                                channels = 2
                                points = [
                                    { flow_us_gal_per_min = 2.0, pulses_per_us_gal = 5990.0 },
                                    { flow_us_gal_per_min = 20.0, pulses_per_us_gal = 5998.0 },
                                ]
                                [liquid]
                                name = "brine"
                                density_kg_per_m3 = 1178
                                [trucks.T-1]
                                constant_pulses_per_us_gal = 3000
                                [asked]
                                rate_us_gal_per_lane_mile = 15
                                lanes = 1
                                speed_mph = 20
                                [reported]
                                source = "display"
                                [catch]
                                seconds = 60
                                """)
                        .setup(Optional.of("T-1"), LocalDate.of(2026, 2, 1));
        Timekeeper time = (Timekeeper) new SystemTime().open(null);
        BenchSettings one =
                new BenchSettings(
                        Map.of(
                                "chip", "no-such-chip",
                                "reference_line", 4,
                                "reference_companion", 5));
        String refused =
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new GpiochipPulses().open(new BenchOpening(one, time, setup)))
                        .getMessage();
        assertTrue(refused.startsWith("reference_second_line: the reference is said to"), refused);
        BenchSettings both =
                one.with("reference_second_line", 6).with("reference_second_companion", 7);
        assertThrows(
                PortException.class,
                () -> new GpiochipPulses().open(new BenchOpening(both, time, setup)));
    }

    @Test
    void anUnknownBiasIsRefused() {
        assertRefused(
                "truck_bias: the bias 'high' is not known; use as-is, up, down or off",
                GOOD.with("truck_bias", "high"));
    }

    @Test
    void aRateThatNoLineReachesIsRefused() {
        assertRefused(
                "truck_rate_max_hertz: must be from 1.0 to 20000.0, was 50000.0",
                GOOD.with("truck_rate_max_hertz", 50_000));
    }
}
