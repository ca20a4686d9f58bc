package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.quantity.Pressure;
import catchbay.quantity.Speed;
import catchbay.run.BayCommand;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.PressureReading;

import org.junit.jupiter.api.Test;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.TreeMap;
import java.util.function.Supplier;

final class StandInPortsTest {

    private static final long SECOND = 1_000_000_000L;

    private static final class Opening implements PortOpening {
        private final RunSetup setup;
        private final Map<String, Object> values;
        private final Map<String, Object> shared = new TreeMap<>();
        private Timekeeper time;

        Opening(RunSetup setup, Map<String, Object> values) {
            this.setup = setup;
            this.values = values;
        }

        @Override
        public RunSetup setup() {
            return setup;
        }

        @Override
        public Speed usualSpeed() {
            return setup.asked().speed();
        }

        @Override
        public PortSettings settings() {
            return new SettingsOf(values);
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
            throw new AssertionError("a stand-in says so itself, before it is opened");
        }

        @Override
        public void tell(String found) {
            throw new AssertionError("a stand-in finds nothing: " + found);
        }

        @Override
        public <T> T shared(Class<T> kind, Supplier<T> maker) {
            return kind.cast(shared.computeIfAbsent(kind.getName(), _ -> maker.get()));
        }
    }

    private static Map<PortKind, PortProvider> providers() {
        Map<PortKind, PortProvider> providers = new EnumMap<>(PortKind.class);
        for (PortProvider provider : ServiceLoader.load(PortProvider.class)) {
            if (provider.simulated()) {
                providers.put(provider.kind(), provider);
            }
        }
        return providers;
    }

    /** Who started the program is no part of a bay, and so has none. */
    @Test
    void everyKindHasAStandIn() {
        assertEquals(EnumSet.complementOf(EnumSet.of(PortKind.SUPERVISOR)), providers().keySet());
        for (PortProvider provider : providers().values()) {
            assertEquals(
                    provider.kind() == PortKind.TIME ? "virtual" : "stand-in", provider.name());
        }
    }

    @Test
    void thePortsShareOneWorldThatMovesOnlyInSleep() throws PortException {
        Map<PortKind, PortProvider> providers = providers();
        Opening opening = new Opening(Setups.ordinary(1).setup(), Map.of());
        opening.time = (Timekeeper) providers.get(PortKind.TIME).open(opening);
        Outputs outputs = (Outputs) providers.get(PortKind.OUTPUTS).open(opening);
        PulseOutput sender = (PulseOutput) providers.get(PortKind.PULSE_OUTPUT).open(opening);
        Source pulses = (Source) providers.get(PortKind.PULSES).open(opening);
        Source scale = (Source) providers.get(PortKind.SCALE).open(opening);
        Source contacts = (Source) providers.get(PortKind.CONTACTS).open(opening);
        Source controller = (Source) providers.get(PortKind.CONTROLLER).open(opening);
        Operator operator = (Operator) providers.get(PortKind.OPERATOR).open(opening);
        Timekeeper time = opening.time;
        long start = time.monotonicNanos();

        List<RunInput> inputs = new ArrayList<>();
        contacts.drain(inputs::add);
        assertEquals(7, inputs.size(), "every contact is read once at the beginning");
        assertTrue(inputs.stream().allMatch(input -> input.atNanos() == start));
        inputs.clear();
        sender.perform(new BayCommand.GroundSpeed(22.2));
        operator.ask(Question.CHECKLIST);
        pulses.drain(inputs::add);
        scale.drain(inputs::add);
        assertEquals(List.of(), inputs, "no time has passed");
        time.sleepUntil(start + 10 * SECOND);
        assertEquals(start + 10 * SECOND, time.monotonicNanos());
        pulses.drain(inputs::add);
        assertTrue(
                inputs.stream().mapToLong(input -> ((RunInput.Edges) input).batch().size()).sum()
                        > 300);
        inputs.clear();
        scale.drain(inputs::add);
        assertEquals(100, inputs.size());
        inputs.clear();
        controller.drain(inputs::add);
        assertEquals(List.of(), inputs, "the ordinary truck sends no total");
        operator.drain(inputs::add);
        assertTrue(inputs.getFirst() instanceof RunInput.ChecklistConfirmed);
        outputs.close();
        StandInBay bay = opening.shared(StandInBay.class, () -> null);
        assertTrue(bay.at(time.monotonicNanos()).outputsSafe());
    }

    /**
     * Beside a clock that runs by itself the world is played up to that clock's time when it is
     * looked at.
     */
    @Test
    void besideAnotherClockTheWorldCatchesUpWhenLookedAt() throws PortException {
        long[] now = {123_456_789_000L};
        Opening opening = new Opening(Setups.ordinary(1).setup(), Map.of("seed", 4));
        opening.time =
                new Timekeeper() {
                    @Override
                    public long monotonicNanos() {
                        return now[0];
                    }

                    @Override
                    public Instant wallTime() {
                        return Instant.EPOCH;
                    }

                    @Override
                    public String bootId() {
                        return "test";
                    }

                    @Override
                    public boolean movesOnlyInSleep() {
                        return false;
                    }

                    @Override
                    public void sleepUntil(long deadlineNanos) {
                        now[0] = deadlineNanos;
                    }
                };
        Outputs outputs = (Outputs) providers().get(PortKind.OUTPUTS).open(opening);
        Source scale = (Source) providers().get(PortKind.SCALE).open(opening);
        List<RunInput> inputs = new ArrayList<>();
        scale.drain(inputs::add);
        now[0] += 5 * SECOND;
        outputs.perform(new BayCommand.Supply(true));
        scale.drain(inputs::add);
        assertEquals(50, inputs.size());
        assertEquals(123_456_789_000L + 5 * SECOND, inputs.getLast().atNanos());
        now[0] += 200 * SECOND;
        PortException full = assertThrows(PortException.class, () -> scale.drain(inputs::add));
        assertEquals(PortException.Kind.OVERFLOW, full.kind());
    }

    @Test
    void theGaugeShowsItsPressureOnceASecond() throws PortException {
        Map<PortKind, PortProvider> providers = providers();
        Opening opening = new Opening(Setups.ordinary(1).setup(), Map.of("coupler_kpa", 150.0));
        opening.time = (Timekeeper) providers.get(PortKind.TIME).open(opening);
        providers.get(PortKind.OUTPUTS).open(opening);
        Source gauge = (Source) providers.get(PortKind.PRESSURE).open(opening);
        List<RunInput> told = new ArrayList<>();
        long began = opening.time.monotonicNanos();
        for (int i = 0; i < 30; i++) {
            gauge.drain(told::add);
            opening.time.sleepUntil(opening.time.monotonicNanos() + SECOND / 10);
        }
        PressureReading shown = new PressureReading.Shown(new Pressure(150));
        assertEquals(
                List.of(
                        new RunInput.CouplerPressure(began, shown),
                        new RunInput.CouplerPressure(began + SECOND, shown),
                        new RunInput.CouplerPressure(began + 2 * SECOND, shown)),
                told);
    }

    @Test
    void calendarTimeFollowsAndBendsByItself() throws PortException {
        Opening opening =
                new Opening(
                        Setups.ordinary(1).setup(),
                        Map.of(
                                "start", "2025-11-30T23:59:50Z",
                                "wall_drift_ppm", 100.0,
                                "wall_step_s", -3600.0,
                                "wall_step_after_s", 60.0));
        Timekeeper time = (Timekeeper) providers().get(PortKind.TIME).open(opening);
        Instant start = Instant.parse("2025-11-30T23:59:50Z");
        assertEquals(start, time.wallTime());
        assertTrue(!time.bootId().isBlank());
        long began = time.monotonicNanos();
        time.sleepUntil(began + 50 * SECOND);
        assertEquals(start.plusNanos(50_005_000_000L), time.wallTime());
        time.sleepUntil(began + 100 * SECOND);
        assertEquals(start.plusNanos(100_010_000_000L).minusSeconds(3600), time.wallTime());
        time.sleepUntil(began);
        assertEquals(began + 100 * SECOND, time.monotonicNanos(), "time never goes back");
        Opening wrong = new Opening(Setups.ordinary(1).setup(), Map.of("start", "yesterday"));
        assertThrows(
                IllegalArgumentException.class, () -> providers().get(PortKind.TIME).open(wrong));
    }

    @Test
    void optionsComeFromTheSeedUnlessTheSectionSaysOtherwise() {
        RunSetup setup = Setups.ordinary(1).setup();
        assertEquals(
                SimOptions.drawn(9, setup),
                OptionSheet.read(new SettingsOf(Map.of("seed", 9)), setup, setup.asked().speed()));
        SimOptions ordinary =
                OptionSheet.read(
                        new SettingsOf(Map.of("seed", 1, "truck_over_reading_percent", 4.0)),
                        setup,
                        setup.asked().speed());
        assertEquals(Setups.ordinary(1).options(), ordinary, "a section of two keys");
        SimOptions faulty =
                OptionSheet.read(
                        new SettingsOf(
                                Map.of(
                                        "faults",
                                        List.of("spill after_s=3"),
                                        "operator",
                                        "somebody")),
                        setup,
                        setup.asked().speed());
        assertEquals(List.of(Fault.parsed("spill after_s=3")), faulty.faults());
        assertEquals("somebody", faulty.person().name());
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        OptionSheet.read(
                                new SettingsOf(Map.of("faults", List.of("flood"))),
                                setup,
                                setup.asked().speed()));
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        OptionSheet.read(
                                new SettingsOf(Map.of("scale_noise_kg", -1.0)),
                                setup,
                                setup.asked().speed()));
    }

    /** The banner says every key that a section may have, so that a banner can be pasted as one. */
    @Test
    void theBannerSaysEveryOption() {
        RunSetup setup = Setups.ordinary(1).setup();
        SettingsOf section = new SettingsOf(Map.of());
        String banner =
                OptionSheet.read(section, setup, setup.asked().speed())
                        .with(List.of(Fault.parsed("spill after_s=3")))
                        .banner();
        for (String key : section.asked()) {
            assertTrue(banner.contains(key + " = "), key + " in\n" + banner);
        }
        assertTrue(
                banner.contains("\"spill since=catch after_s=3 for_s=0 size=0.0 line=reference\""),
                banner);
    }
}
