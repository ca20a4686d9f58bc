package catchbay.hardware.pwm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.app.Settings;
import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.gpiochip.BenchOpening;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.PulseOutput;
import catchbay.port.Timekeeper;
import catchbay.run.BayCommand;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Pulse outputs on a tree of files laid out as the kernel's (Linux documentation, Pulse Width
 * Modulation interface, from memory). Files take any value in any order.
 */
@Tag("not-proven-on-a-Pi")
final class KernelPwmTest {

    private static final PulseDivider NANOSECONDS = new PulseDivider(1e9, 0.05);
    private static final long STEP = PulseTrain.STEP_NANOS;

    @TempDir Path folder;
    private Path channel;
    private long nowNanos = 1_000_000_000L;

    private final Timekeeper time =
            new Timekeeper() {
                @Override
                public long monotonicNanos() {
                    return nowNanos;
                }

                @Override
                public Instant wallTime() {
                    return Instant.EPOCH;
                }

                @Override
                public String bootId() {
                    return "bench";
                }

                @Override
                public void sleepUntil(long deadlineNanos) {
                    nowNanos = Math.max(nowNanos, deadlineNanos);
                }
            };

    @BeforeEach
    void layOut() throws IOException {
        Path device = Files.createDirectories(folder.resolve("devices/timer-a.pwm"));
        Path chip = Files.createDirectories(folder.resolve("class/pwmchip3"));
        Files.createSymbolicLink(chip.resolve("device"), device);
        channel = Files.createDirectories(chip.resolve("pwm0"));
        for (String file : new String[] {"period", "duty_cycle", "enable"}) {
            Files.writeString(channel.resolve(file), "0\n");
        }
        Files.writeString(chip.resolve("export"), "");
    }

    private long shown(String file) throws IOException {
        return Long.parseLong(Files.readString(channel.resolve(file)).strip());
    }

    private KernelPulses pulses(PulseDivider divider, long rampNanos) throws PortException {
        PulseTrain train =
                new PulseTrain(PulseLine.SPEED, new PwmChannel(channel), divider, rampNanos);
        KernelPulses pulses = new KernelPulses(time, Map.of(PulseLine.SPEED, train));
        pulses.start();
        return pulses;
    }

    private static List<RunInput> told(PulseOutput output) throws PortException {
        List<RunInput> told = new ArrayList<>();
        output.drain(told::add);
        return told;
    }

    private RunInput sent(double hertz, boolean rising) {
        return new RunInput.PulsesSent(nowNanos, PulseLine.SPEED, hertz, rising);
    }

    /** 30000 pulses/mile x 25 mph / 3600 s/h = 208.333 pulses/s, 4.8 ms each: by hand. */
    @Test
    void aSpeedIsSentAsItsPeriod() throws Exception {
        try (PulseOutput output = pulses(NANOSECONDS, 0)) {
            output.perform(new BayCommand.GroundSpeed(30000.0 * 25 / 3600));
            assertEquals(4_800_000, shown("period"));
            assertEquals(2_400_000, shown("duty_cycle"));
            assertEquals(1, shown("enable"));
            assertEquals(List.of(sent(1e9 / 4_800_000, false)), told(output));
            assertEquals(List.of(), told(output), "each change is told once");
        }
    }

    @Test
    void aRateRisesInStepsThatAreToldAndFallsAtOnce() throws Exception {
        try (PulseOutput output = pulses(NANOSECONDS, 4 * STEP)) {
            output.perform(new BayCommand.GroundSpeed(200));
            assertEquals(0, shown("enable"), "nothing before the first step");
            assertEquals(List.of(sent(0, true)), told(output));
            long[] periods = {20_000_000, 10_000_000, 6_666_667, 5_000_000};
            for (int step = 0; step < periods.length; step++) {
                nowNanos += STEP - 1;
                assertEquals(List.of(), told(output), "not before its time");
                nowNanos += 1;
                assertEquals(List.of(sent(1e9 / periods[step], step < 3)), told(output));
                assertEquals(periods[step], shown("period"));
            }
            nowNanos += STEP;
            assertEquals(List.of(), told(output), "the rate asked for is reached");
            output.perform(new BayCommand.GroundSpeed(100));
            assertEquals(10_000_000, shown("period"));
            output.perform(new BayCommand.GroundSpeed(0));
            assertEquals(0, shown("enable"));
            assertEquals(0, shown("duty_cycle"));
            assertEquals(List.of(sent(100, false), sent(0, false)), told(output));
        }
    }

    @Test
    void aStopEndsTheRise() throws Exception {
        try (PulseOutput output = pulses(NANOSECONDS, 4 * STEP)) {
            output.perform(new BayCommand.GroundSpeed(200));
            nowNanos += STEP;
            told(output);
            output.makeSafe();
            assertEquals(0, shown("enable"));
            nowNanos += STEP;
            assertEquals(List.of(), told(output));
            assertEquals(0, shown("enable"));
        }
    }

    /** 1000 ticks/s: 300 pulses/s are 3.33 ticks, 3 of them are 333.3 pulses/s, 11 % off. */
    @Test
    void aRateTheClockDoesNotReachIsRefused() throws Exception {
        PulseDivider coarse = new PulseDivider(1000, 0.05);
        try (PulseOutput output = pulses(coarse, 0)) {
            String sentence =
                    assertThrows(
                                    PortException.class,
                                    () -> output.perform(new BayCommand.GroundSpeed(300)))
                            .getMessage();
            assertTrue(sentence.contains("300.0 pulses/s to within 0.05 %"), sentence);
            assertEquals(0, shown("enable"));
        }
        assertThrows(PortException.class, () -> coarse.period(1000), "one tick has no half");
        assertThrows(PortException.class, () -> NANOSECONDS.period(0.2), "above 32 bits");
    }

    /** 19.2 MHz / 208.3 Hz = 92174.7 ticks: 92175 of them last 4800781.25 ns, 208.2994 Hz. */
    @Test
    void whatIsToldIsTheRateOfWholeTicks() throws Exception {
        PulseDivider crystal = new PulseDivider(19.2e6, 0.05);
        assertEquals(4_800_782, crystal.period(208.3).nanos(), "rounded up, since drivers cut off");
        assertEquals(208.299430431, crystal.period(208.3).hertz(), 1e-9);
    }

    @Test
    void aFailureOnTheWayUpEndsThePulsesAndIsTold() throws Exception {
        PulseOutput output = pulses(NANOSECONDS, 4 * STEP);
        output.perform(new BayCommand.GroundSpeed(200));
        nowNanos += STEP;
        told(output);
        Files.delete(channel.resolve("period"));
        nowNanos += STEP;
        assertEquals(
                PortException.Kind.GONE,
                assertThrows(PortException.class, () -> told(output)).kind());
        assertEquals(0, shown("enable"));
        output.close();
    }

    @Test
    void aChannelThatCannotBeStoppedSendsNothingMore() throws Exception {
        PulseOutput output = pulses(NANOSECONDS, 0);
        Files.delete(channel.resolve("enable"));
        assertFalse(output.makeSafe(), "the hard-wired relay must know");
        assertThrows(PortException.class, () -> output.perform(new BayCommand.GroundSpeed(1)));
        output.close();
    }

    @Test
    void openingAndClosingLeaveNoPulses() throws Exception {
        Files.writeString(channel.resolve("enable"), "1\n");
        PulseOutput output = pulses(NANOSECONDS, 0);
        assertEquals(0, shown("enable"), "what an earlier program left");
        output.perform(new BayCommand.GroundSpeed(50));
        assertEquals(1, shown("enable"));
        output.perform(new BayCommand.Feeder(0));
        assertThrows(PortException.class, () -> output.perform(new BayCommand.Feeder(1)));
        output.close();
        assertEquals(0, shown("enable"));
    }

    @Test
    void theEndOfTheProgramStopsWhatTheRunDoesNot() throws Exception {
        KernelPulses output = pulses(NANOSECONDS, 0);
        output.perform(new BayCommand.GroundSpeed(50));
        output.end().come();
        assertEquals(0, shown("enable"));
        assertThrows(PortException.class, () -> output.perform(new BayCommand.GroundSpeed(50)));
        output.close();
    }

    private static RunSetup bay(String means) throws IOException {
        String text = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String line = "flow_by = \"ground-speed\"";
        assertTrue(text.contains(line));
        return Settings.of(
                        "bay.toml", Path.of("."), text.replace(line, "flow_by = \"" + means + "\""))
                .setup(Optional.of("T-12"), LocalDate.of(2026, 2, 1));
    }

    private BenchOpening opening(String means, String chip, Object... more) throws Exception {
        BenchSettings settings =
                new BenchSettings(Map.of("folder", folder.resolve("class").toString()))
                        .with("chip", chip);
        for (int i = 0; i < more.length; i += 2) {
            settings = settings.with((String) more[i], more[i + 1]);
        }
        return new BenchOpening(settings, (Timekeeper) new SystemTime().open(null), bay(means));
    }

    private PulseOutput open(Object... more) throws Exception {
        return (PulseOutput) new KernelPwm().open(opening("ground-speed", "timer-a.pwm", more));
    }

    /** 4000 pulses/mile x 20 mph / 3600 s/h = 22.22 pulses/s, 45 ms each: by hand. */
    @Test
    void theChipIsFoundByItsDevice() throws Exception {
        try (PulseOutput output = open("speed_channel", 0, "ramp_seconds", 0)) {
            output.perform(new BayCommand.GroundSpeed(4000.0 * 20 / 3600));
            assertEquals(45_000_000, shown("period"));
        }
    }

    @Test
    void twoChipsOfOneNameAreRefused() throws Exception {
        Path device = Files.createDirectories(folder.resolve("devices/other/timer-a.pwm"));
        Path chip = Files.createDirectories(folder.resolve("class/pwmchip5"));
        Files.createSymbolicLink(chip.resolve("device"), device);
        String sentence =
                assertThrows(PortException.class, () -> open("speed_channel", 0)).getMessage();
        assertTrue(sentence.startsWith("Two PWM chips have the device name"), sentence);
    }

    @Test
    void aFolderOfOnesOwnMarksTheRunAsSimulated() throws Exception {
        BenchOpening opening = opening("ground-speed", "timer-a.pwm", "speed_channel", 0);
        ((PulseOutput) new KernelPwm().open(opening)).close();
        assertTrue(opening.markedSimulated());
    }

    @Test
    void whatSomebodyElseSwitchedOnIsEndedAndTold() throws Exception {
        Files.writeString(channel.resolve("enable"), "1\n");
        BenchOpening opening = opening("ground-speed", "timer-a.pwm", "speed_channel", 0);
        ((PulseOutput) new KernelPwm().open(opening)).close();
        assertEquals(0, shown("enable"));
        assertEquals(1, opening.told().size(), opening.told()::toString);
        assertTrue(
                opening.told()
                        .getFirst()
                        .startsWith("The channel of the speed pulses (" + channel + ") was"),
                opening.told()::toString);
        BenchOpening quiet = opening("ground-speed", "timer-a.pwm", "speed_channel", 0);
        ((PulseOutput) new KernelPwm().open(quiet)).close();
        assertEquals(List.of(), quiet.told());
    }

    @Test
    void whatIsNotThereIsRefused() {
        String sentence =
                assertThrows(
                                PortException.class,
                                () ->
                                        new KernelPwm()
                                                .open(
                                                        opening(
                                                                "operator",
                                                                "timer-b.pwm",
                                                                "speed_channel",
                                                                0)))
                        .getMessage();
        assertTrue(sentence.endsWith("name one of those that exist: timer-a.pwm."), sentence);
        assertThrows(
                PortException.class,
                () -> open("speed_channel", 1),
                "a channel that does not appear");
        assertThrows(IllegalArgumentException.class, () -> open());
        assertThrows(
                IllegalArgumentException.class,
                () -> open("speed_channel", 0, "feeder_channel", 0));
    }

    @Test
    void aSpeedThatCannotBeSentIsRefusedBeforeAnythingIs() throws Exception {
        Files.writeString(channel.resolve("enable"), "7\n");
        assertThrows(
                IllegalArgumentException.class,
                () -> open("feeder_channel", 0),
                "no speed channel");
        assertThrows(
                PortException.class,
                () -> open("speed_channel", 0, "clock_hertz", 1010.0, "error_max_percent", 0.0001));
        assertEquals(7, shown("enable"), "nothing was touched");
        try (PulseOutput output =
                (PulseOutput)
                        new KernelPwm()
                                .open(opening("operator", "timer-a.pwm", "feeder_channel", 0))) {
            assertFalse(told(output).iterator().hasNext());
        }
    }

    @Test
    void aFeederThatNoChannelSendsIsRefused() throws Exception {
        String text =
                Files.readString(Path.of("../src/examples/full-bay.toml"))
                        .replace(
                                "rate_us_gal_per_lane_mile = 15\nlanes = 1\nspeed_mph = 20",
                                "rate_us_gal_per_ton = 10\nsalt_tons_per_mile = 1\n"
                                        + "speed_mph = 20\nfeeder_lb_per_pulse = 0.5\n"
                                        + "send_feeder = true");
        RunSetup setup =
                Settings.of("bay.toml", Path.of("."), text)
                        .setup(Optional.of("T-12"), LocalDate.of(2026, 2, 1));
        BenchOpening speedOnly = opening("ground-speed", "timer-a.pwm", "speed_channel", 0);
        BenchOpening opening = new BenchOpening(speedOnly.settings(), speedOnly.time(), setup);
        String sentence =
                assertThrows(IllegalArgumentException.class, () -> new KernelPwm().open(opening))
                        .getMessage();
        assertTrue(sentence.startsWith("feeder_channel: asked.send_feeder is true;"), sentence);
    }
}
