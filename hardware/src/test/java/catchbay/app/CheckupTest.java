package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import static java.nio.charset.StandardCharsets.UTF_8;

import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.BayCommand;
import catchbay.run.BayContact;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.sim.StandInPorts;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Checkups of a stand-in bay, healthy and with one thing wrong at a time; everything about it is
 * invented, and its limits are common practice, no source.
 */
final class CheckupTest {

    private static final String SETTINGS =
            """
            data = "data"
            [bay]
            name = "Bay"
            [reference]
            serial = "METER-1"
            date = 2026-01-01
            expiry = 2027-01-01
            points = [
                { flow_us_gal_per_min = 2.0, pulses_per_us_gal = 5990.0 },
                { flow_us_gal_per_min = 20.0, pulses_per_us_gal = 5998.0 },
            ]
            [scale]
            serial = "FINE"
            date = 2026-01-01
            expiry = 2027-01-01
            in_place = true
            uncertainty_percent = 0.1
            unit = "kg"
            resolution_kg = 0.02
            capacity_kg = 300
            [scale_test]
            weights = [
                { name = "W1", mass_kg = 5, uncertainty_kg = 0.0003 },
                { name = "W2", mass_kg = 20, uncertainty_kg = 0.001 },
            ]
            [diverter]
            feedback = "ends"
            travel_limit_seconds = 2
            [liquid]
            name = "brine"
            density_kg_per_m3 = 1178
            [temperature]
            sensors = ["reference", "tank"]
            [trucks.T-1]
            constant_pulses_per_us_gal = 3000
            [asked]
            rate_us_gal_per_lane_mile = 15
            lanes = 1
            speed_mph = 20
            pulses_per_mile = 4000
            [reported]
            source = "pulses"
            [catch]
            seconds = 60
            flow_by = "ground-speed"
            [port.time]
            provider = "virtual"
            [port.computer]
            provider = "stand-in"
            free_megabytes = 20000
            [port.pulse_output]
            provider = "stand-in"
            [port.outputs]
            provider = "stand-in"
            seed = 3
            scale_noise_kg = 0
            scale_span_error_percent = 0
            diverter_travel_ms = 400
            diverter_delay_ms = 50
            [port.contacts]
            provider = "stand-in"
            [port.pulses]
            provider = "stand-in"
            [port.scale]
            provider = "stand-in"
            [port.temperature]
            provider = "stand-in"
            [port.operator]
            provider = "stand-in"
            """;

    @TempDir private Path folder;

    private final ClassLoader before = Thread.currentThread().getContextClassLoader();
    private Path settings;

    @BeforeEach
    void write() throws IOException {
        settings = folder.resolve("bay.toml");
        Files.writeString(settings, SETTINGS);
        PlayedPorts.find(
                folder.resolve("ports"),
                List.of(
                        HummingPulses.class,
                        DeadContact.class,
                        NoThermometer.class,
                        NotedOutputs.class,
                        Floor.class,
                        Hasty.class,
                        Asleep.class));
    }

    @AfterEach
    void forgetPorts() {
        Thread.currentThread().setContextClassLoader(before);
    }

    private void say(String what, String instead) throws IOException {
        assertTrue(SETTINGS.contains(what), what);
        Files.writeString(settings, SETTINGS.replace(what, instead));
    }

    private void provide(PortKind kind, String provider) throws IOException {
        say(
                "[port." + kind.key() + "]\nprovider = \"stand-in\"",
                "[port." + kind.key() + "]\nprovider = \"" + provider + "\"");
    }

    private void fault(String fault) throws IOException {
        say("seed = 3", "seed = 3\nfaults = [\"" + fault + "\"]");
    }

    private CommandLineRun run(String... words) {
        return CommandLineRun.of(
                Stream.concat(Stream.of("checkup", "-s", settings.toString()), Stream.of(words))
                        .toArray(String[]::new));
    }

    private JsonNode json(int code, String... words) throws IOException {
        CommandLineRun run =
                run(Stream.concat(Stream.of("--json"), Stream.of(words)).toArray(String[]::new));
        assertEquals(code, run.code(), run.output() + run.errors());
        return new ObjectMapper().readTree(run.output());
    }

    private static Set<String> names(JsonNode checkup, String answer) {
        Set<String> names = new TreeSet<>();
        for (JsonNode item : checkup.get("items")) {
            if (item.get("answer").asText().equals(answer)) {
                names.add(item.get("item").asText());
            }
        }
        return names;
    }

    private static JsonNode item(JsonNode checkup, String name) {
        for (JsonNode item : checkup.get("items")) {
            if (item.get("item").asText().equals(name)) {
                return item;
            }
        }
        throw new AssertionError(name + " is no item of " + checkup);
    }

    private JsonNode onlyFails(String name, String seen) throws IOException {
        JsonNode checkup = json(1);
        assertEquals(Set.of(name), names(checkup, "failed"), checkup::toString);
        JsonNode item = item(checkup, name);
        assertTrue(item.get("seen").asText().contains(seen), item::toString);
        assertFalse(item.get("mend").asText().isBlank());
        return checkup;
    }

    @Test
    void aHealthyBayPasses() throws IOException {
        JsonNode checkup = json(0, "--by", "A. Example");
        assertEquals(Set.of(), names(checkup, "failed"), checkup::toString);
        assertEquals(Set.of(), names(checkup, "not-done"), checkup::toString);
        assertTrue(
                names(checkup, "passed")
                        .containsAll(
                                Set.of(
                                        "reference pulses at rest",
                                        "truck pulses at rest",
                                        "scale at rest",
                                        "scale zero and span",
                                        "tank thermometer",
                                        "emergency-stop",
                                        "high-level",
                                        "spill",
                                        "diverter to tank",
                                        "diverter to bypass",
                                        "drain",
                                        "speed loop-back",
                                        "disk",
                                        "clock",
                                        "settings",
                                        "port pulses")),
                checkup::toString);
        // 4000 pulses/mile x 20 mph / 3600 s/h, twice.
        assertTrue(
                item(checkup, "speed loop-back").get("seen").asText().contains("44.44 Hz sent"),
                checkup::toString);
        assertEquals("A. Example", checkup.get("by").asText());
        assertFalse(checkup.get("confirmed_by").asText().isBlank());
        assertTrue(checkup.get("passed").asBoolean());
        assertEquals("simulated", checkup.get("origin").asText());
    }

    @Test
    void whatWasDoneIsKeptAndListed() throws IOException {
        JsonNode first = json(0);
        CommandLineRun second = run();
        assertEquals(0, second.code());
        Path file = folder.resolve("data/checkups/" + first.get("checkup").asText() + ".jsonl");
        List<String> lines = Files.readAllLines(file);
        assertEquals(first, new ObjectMapper().readTree(lines.getLast()));
        assertTrue(lines.get(1).startsWith("{\"item\":"), lines.get(1));
        CommandLineRun list = CommandLineRun.of("history", "-s", settings.toString(), "--checkups");
        assertEquals(3, list.output().lines().count(), list.output());
        CommandLineRun told =
                CommandLineRun.of("history", "-s", settings.toString(), "--checkups", "--json");
        assertEquals(first, new ObjectMapper().readTree(told.output().lines().toList().getLast()));
        Files.writeString(file, String.join("\n", lines.subList(0, lines.size() - 1)) + "\n");
        CommandLineRun cut = CommandLineRun.of("history", "-s", settings.toString(), "--checkups");
        assertEquals(3, cut.output().lines().count(), cut.output());
        assertTrue(
                cut.output()
                        .contains(first.get("checkup").asText() + "      interrupted, or still"),
                cut.output());
    }

    /** Killed, shortened by a power cut, and no text at all: none vanishes from the list. */
    @Test
    void whatWasCutOffIsListedAsThat() throws IOException {
        JsonNode whole = json(0);
        Path checkups = folder.resolve("data/checkups");
        byte[] bytes =
                Files.readAllBytes(checkups.resolve(whole.get("checkup").asText() + ".jsonl"));
        List<String> lines = new String(bytes, UTF_8).lines().toList();
        Files.writeString(
                checkups.resolve("20240101-000001-checkup.jsonl"),
                String.join("\n", lines.subList(0, 3)) + "\n");
        Files.write(
                checkups.resolve("20240101-000002-checkup.jsonl"),
                Arrays.copyOf(bytes, bytes.length - 40));
        Files.write(checkups.resolve("20240101-000003-checkup.jsonl"), new byte[] {-1, -2, 10});
        Files.write(checkups.resolve("20240101-000004-checkup.jsonl"), new byte[0]);
        CommandLineRun list = CommandLineRun.of("history", "-s", settings.toString(), "--checkups");
        assertEquals(3, list.code(), list.output());
        assertEquals(6, list.output().lines().count(), list.output());
        assertTrue(
                list.output().contains("000001-checkup      interrupted, or still"), list.output());
        assertTrue(list.output().contains("000002-checkup      damaged"), list.output());
        assertTrue(list.output().contains("000003-checkup      damaged"), list.output());
        assertTrue(list.output().contains("000004-checkup      damaged"), list.output());
        CommandLineRun told =
                CommandLineRun.of("history", "-s", settings.toString(), "--checkups", "--json");
        assertEquals(whole, new ObjectMapper().readTree(told.output()), told.output());
        assertTrue(told.errors().contains("000002-checkup      damaged"), told.errors());
    }

    @Test
    void thePageFitsANarrowTerminal() {
        String page = run().output();
        assertTrue(page.lines().allMatch(line -> line.length() <= 80), page);
        assertTrue(page.contains("  passed      drain\n"), page);
        assertTrue(page.contains("  not fitted  room thermometer\n"), page);
        assertTrue(page.contains("nothing failed:"), page);
        assertTrue(page.contains("Simulated:"), page);
    }

    @Test
    void aloneNothingMoves() throws IOException {
        JsonNode checkup = json(0, "--alone");
        assertEquals(
                Set.of(
                        "scale zero and span",
                        "emergency-stop",
                        "high-level",
                        "spill",
                        "supply-lost",
                        "diverter to tank",
                        "diverter to bypass",
                        "drain",
                        "speed loop-back"),
                names(checkup, "not-done"),
                checkup::toString);
        assertFalse(checkup.has("confirmed_by"));
    }

    /** Its virtual clock tells that nobody waits where nothing can be heard. */
    @Test
    void aBayWithNothingFittedIsCheckedAtOnce() throws IOException {
        Files.writeString(
                settings,
                """
                data = "data"
                [bay]
                name = "Bay"
                [trucks.T-1]
                constant_pulses_per_us_gal = 3000
                [asked]
                rate_us_gal_per_lane_mile = 15
                lanes = 1
                speed_mph = 20
                [liquid]
                name = "brine"
                density_kg_per_m3 = 1178
                [reported]
                source = "display"
                [catch]
                seconds = 60
                [port.time]
                provider = "virtual"
                [port.operator]
                provider = "stand-in"
                """);
        CommandLineRun run = run("--alone");
        assertFalse(run.errors().contains("nothing may flow"), run.errors());
        for (String item : List.of("emergency-stop", "high-level", "spill", "drain")) {
            assertTrue(run.output().contains("not fitted  " + item + "\n"), run.output());
        }
    }

    @Test
    void aLineThatCountsAtRestIsFound() throws IOException {
        provide(PortKind.PULSES, "humming");
        onlyFails("truck pulses at rest", "edges in 60 s");
    }

    @Test
    void aScaleThatDriftsIsFound() throws IOException {
        fault("scale-drift since=run after_s=0 for_s=0 size=0.2");
        JsonNode checkup = json(1);
        JsonNode item = item(checkup, "scale at rest");
        assertEquals("failed", item.get("answer").asText(), checkup::toString);
        assertTrue(item.get("mend").asText().startsWith("The scale drifts"), item::toString);
    }

    @Test
    void aSpanThatIsOffIsFound() throws IOException {
        say("scale_span_error_percent = 0", "scale_span_error_percent = 1");
        onlyFails("scale zero and span", "W2: +0.200 kg off");
    }

    /** 300 kg are its capacity. */
    @Test
    void withoutAWeightItMayCarryTheSpanIsNotDone() throws IOException {
        Files.writeString(settings, SETTINGS.replaceAll("(?s)weights = \\[.*?\\]\n", ""));
        String none = item(json(0), "scale zero and span").get("seen").asText();
        assertEquals("no check weights are listed under [scale_test]", none);
        Files.writeString(settings, SETTINGS.replaceAll("mass_kg = (5|20)", "mass_kg = 400"));
        String heavy = item(json(0), "scale zero and span").get("seen").asText();
        assertEquals("every check weight is more than it may carry", heavy);
    }

    @Test
    void aSilentScaleIsFound() throws IOException {
        fault("scale-silent since=run after_s=0 for_s=0");
        JsonNode checkup = json(1);
        assertTrue(
                names(checkup, "failed").containsAll(Set.of("scale at rest")), checkup::toString);
    }

    @Test
    void anEndSwitchThatIsDeadIsNamed() throws IOException {
        provide(PortKind.CONTACTS, "dead-end");
        JsonNode checkup = onlyFails("diverter to tank", "diverter-at-tank did not follow");
        assertTrue(
                item(checkup, "diverter to tank").get("mend").asText().contains("switch"),
                checkup::toString);
    }

    @Test
    void aFlapThatIsStuckIsFound() throws IOException {
        fault("diverter-stuck since=run after_s=0 for_s=0 size=0");
        JsonNode checkup = json(1);
        assertTrue(names(checkup, "failed").contains("diverter to tank"), checkup::toString);
    }

    @Test
    void aThermometerWithoutSupplyIsFound() throws IOException {
        fault("thermometer-power-on since=run after_s=0 for_s=0");
        JsonNode checkup = json(1);
        assertEquals(Set.of("reference thermometer", "tank thermometer"), names(checkup, "failed"));
        assertTrue(
                item(checkup, "tank thermometer").get("seen").asText().contains("85 C"),
                checkup::toString);
    }

    @Test
    void wrongCheckSumsAreFound() throws IOException {
        fault("thermometer-garbled since=run after_s=0 for_s=0 size=0.5");
        JsonNode checkup = json(1);
        assertTrue(
                item(checkup, "tank thermometer").get("seen").asText().contains("check sum"),
                checkup::toString);
    }

    @Test
    void littleSpaceIsFound() throws IOException {
        say("free_megabytes = 20000", "free_megabytes = 120");
        onlyFails("disk", "120 MB free");
    }

    @Test
    void aClockThatNobodySetIsFound() throws IOException {
        say("free_megabytes = 20000", "free_megabytes = 20000\nclock_doubts = [\"unset\"]");
        onlyFails("clock", "nobody has set it");
    }

    @Test
    void aWeakSupplyIsFound() throws IOException {
        say("free_megabytes = 20000", "free_megabytes = 20000\npower_flags = 65536");
        onlyFails("computer's supply", "0x10000");
    }

    /** The rest of the bay is checked all the same. */
    @Test
    void aPortThatIsNotThereIsNamedAndTheRestChecked() throws IOException {
        provide(PortKind.TEMPERATURE, "unplugged");
        JsonNode checkup = onlyFails("port temperature", "no permission for thermometer");
        assertTrue(
                item(checkup, "port temperature").get("mend").asText().contains("group"),
                checkup::toString);
        assertEquals(
                Set.of("reference thermometer", "tank thermometer"), names(checkup, "not-done"));
    }

    @Test
    void nothingMovesWhileAContactIsActive() throws IOException {
        fault("spill since=run after_s=0 for_s=0");
        JsonNode checkup = onlyFails("spill", "active from the beginning");
        assertEquals(
                Set.of("diverter to tank", "diverter to bypass", "drain", "speed loop-back"),
                names(checkup, "not-done"));
    }

    @Test
    void aCertificateOutOfDateIsFound() throws IOException {
        say("expiry = 2027-01-01\nin_place", "expiry = 2026-01-02\nin_place");
        onlyFails("settings", "expired");
    }

    /** Stopped while the drain is open: it is shut again, and the record closed. */
    @Test
    void whoSaysStopEndsItSafely() throws IOException {
        noted("hasty");
        JsonNode checkup = json(1);
        assertEquals("Ended by A. Example.", checkup.get("ended").asText());
        assertFalse(checkup.get("passed").asBoolean());
        assertEquals("passed", item(checkup, "diverter to tank").get("answer").asText());
        assertEquals(
                Set.of("drain", "speed loop-back", "reference loop-back", "truck loop-back"),
                names(checkup, "not-done").stream()
                        .filter(name -> !name.startsWith("feeder") && !name.contains("second"))
                        .collect(Collectors.toSet()));
        assertEquals(new BayCommand.Drain(true), NOTED.getLast(), "it was open when he said so");
        assertTrue(notedSafe > 0);
        CommandLineRun list = CommandLineRun.of("history", "-s", settings.toString(), "--checkups");
        assertTrue(list.output().contains("early"), list.output());
    }

    @Test
    void nothingMovesBeforeSomebodyConfirmsTheCautions() throws IOException {
        noted("asleep");
        JsonNode checkup = json(1);
        assertEquals(List.of(), NOTED);
        assertEquals("not-done", item(checkup, "drain").get("answer").asText());
        assertTrue(
                item(checkup, "diverter to tank")
                        .get("seen")
                        .asText()
                        .contains("nobody confirmed the cautions"),
                checkup::toString);
    }

    /** A heartbeat stands still when the outputs do not hear of a turn for a second. */
    @Test
    void theOutputsHearOfEveryTurn() throws IOException {
        noted("stand-in");
        json(0);
        // 60 s of rest and 10 s of pulses alone are 7000 turns of 10 ms.
        assertTrue(notedTurns > 7000, () -> notedTurns + " turns");
    }

    @Test
    void liquidOnTheFloorStopsAMove() throws IOException {
        noted("stand-in");
        Files.writeString(
                settings,
                Files.readString(settings)
                        .replace(
                                "[port.contacts]\nprovider = \"stand-in\"",
                                "[port.contacts]\nprovider = \"floor\""));
        JsonNode checkup = json(0);
        assertEquals(
                "spill is active while it moved",
                item(checkup, "diverter to tank").get("seen").asText(),
                checkup::toString);
        assertEquals(List.of(new BayCommand.Divert(BayCommand.Way.TANK)), NOTED);
        assertTrue(notedSafe > 1, "at once, and in the end");
        assertEquals("spill is active", item(checkup, "drain").get("seen").asText());
    }

    private static final List<BayCommand.Output> NOTED = new ArrayList<>();
    private static int notedSafe;
    private static int notedTurns;

    private void noted(String operator) throws IOException {
        NOTED.clear();
        notedSafe = 0;
        notedTurns = 0;
        Files.writeString(
                settings,
                SETTINGS.replace(
                                "[port.outputs]\nprovider = \"stand-in\"",
                                "[port.outputs]\nprovider = \"noted\"")
                        .replace(
                                "[port.operator]\nprovider = \"stand-in\"",
                                "[port.operator]\nprovider = \"" + operator + "\""));
    }

    /** The stand-in's outputs, and what they were told. */
    public static final class NotedOutputs extends Wrapped {
        public NotedOutputs() {
            super(PortKind.OUTPUTS, "noted");
        }

        @Override
        public Object open(PortOpening opening) {
            Outputs outputs = (Outputs) new StandInPorts.OutputLines().open(opening);
            return new Outputs() {
                @Override
                public void perform(BayCommand.Switched command) throws PortException {
                    NOTED.add(command);
                    outputs.perform(command);
                }

                @Override
                public void turn() throws PortException {
                    notedTurns++;
                    outputs.turn();
                }

                @Override
                public void makeSafe() {
                    notedSafe++;
                    outputs.makeSafe();
                }

                @Override
                public void letGo() {
                    outputs.letGo();
                }

                @Override
                public void close() {
                    outputs.close();
                }
            };
        }
    }

    /** A floor that gets wet as soon as anything moves. */
    public static final class Floor extends Wrapped {
        public Floor() {
            super(PortKind.CONTACTS, "floor");
        }

        @Override
        public Object open(PortOpening opening) {
            Source whole = (Source) new StandInPorts.Contacts().open(opening);
            Timekeeper time = opening.time();
            return new Source() {
                @Override
                public void drain(Consumer<RunInput> into) throws PortException {
                    whole.drain(into);
                    if (!NOTED.isEmpty()) {
                        into.accept(
                                new RunInput.Contact(
                                        time.monotonicNanos(), BayContact.SPILL, true));
                    }
                }

                @Override
                public void close() {
                    whole.close();
                }
            };
        }
    }

    /** A person who does everything, and says stop when the drain is to be watched. */
    public static final class Hasty extends Wrapped {
        public Hasty() {
            super(PortKind.OPERATOR, "hasty");
        }

        @Override
        public Object open(PortOpening opening) {
            return new Person(opening, CheckTask.WatchDrain.class::isInstance, "A. Example");
        }
    }

    /** A person who does not hear the cautions. */
    public static final class Asleep extends Wrapped {
        public Asleep() {
            super(PortKind.OPERATOR, "asleep");
        }

        @Override
        public Object open(PortOpening opening) {
            return new Person(opening, CheckTask.Cautions.class::isInstance, "");
        }
    }

    /** The stand-in's person, but for one task: then he says stop, or nothing where nameless. */
    private static final class Person implements Operator {
        private final Operator usual;
        private final Timekeeper time;
        private final Predicate<CheckTask> odd;
        private final String name;
        private boolean stopping;

        Person(PortOpening opening, Predicate<CheckTask> odd, String name) {
            this.usual = (Operator) new StandInPorts.Person().open(opening);
            this.time = opening.time();
            this.odd = odd;
            this.name = name;
        }

        @Override
        public void ask(Question question) {
            usual.ask(question);
        }

        @Override
        public void ask(ScaleTask task) {
            usual.ask(task);
        }

        @Override
        public void ask(HuntTask task) {
            usual.ask(task);
        }

        @Override
        public void ask(SweepTask task) {
            usual.ask(task);
        }

        @Override
        public void ask(CheckTask task) {
            if (odd.test(task)) {
                stopping = true;
            } else {
                usual.ask(task);
            }
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            usual.drain(into);
            if (stopping && !name.isEmpty()) {
                stopping = false;
                into.accept(new RunInput.StopPressed(time.monotonicNanos(), name));
            }
        }

        @Override
        public void close() {
            usual.close();
        }
    }

    /** A stand-in that wraps another, under a name of its own. */
    abstract static class Wrapped implements PortProvider {
        private final PortKind kind;
        private final String name;

        Wrapped(PortKind kind, String name) {
            this.kind = kind;
            this.name = name;
        }

        @Override
        public PortKind kind() {
            return kind;
        }

        @Override
        public String name() {
            return name;
        }

        @Override
        public boolean simulated() {
            return true;
        }
    }

    /** The truck's line brings an edge every two seconds, whatever flows. */
    public static final class HummingPulses extends Wrapped {
        public HummingPulses() {
            super(PortKind.PULSES, "humming");
        }

        @Override
        public Object open(PortOpening opening) {
            Source quiet = (Source) new StandInPorts.Pulses().open(opening);
            Timekeeper time = opening.time();
            return new Source() {
                private long next = time.monotonicNanos();
                private long number = 1;

                @Override
                public void drain(Consumer<RunInput> into) throws PortException {
                    quiet.drain(into);
                    while (next <= time.monotonicNanos()) {
                        into.accept(
                                new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(number++, next)));
                        next += 2_000_000_000L;
                    }
                }

                @Override
                public void close() {
                    quiet.close();
                }
            };
        }
    }

    /** The diverter's switch at the tank end never changes. */
    public static final class DeadContact extends Wrapped {
        public DeadContact() {
            super(PortKind.CONTACTS, "dead-end");
        }

        @Override
        public Object open(PortOpening opening) {
            Source whole = (Source) new StandInPorts.Contacts().open(opening);
            return new Source() {
                @Override
                public void drain(Consumer<RunInput> into) throws PortException {
                    whole.drain(input -> {
                        boolean dead =
                                input instanceof RunInput.Contact contact
                                        && contact.contact() == BayContact.DIVERTER_AT_TANK
                                        && contact.active();
                        if (!dead) {
                            into.accept(input);
                        }
                    });
                }

                @Override
                public void close() {
                    whole.close();
                }
            };
        }
    }

    /** A port that this user may not open. */
    public static final class NoThermometer extends Wrapped {
        public NoThermometer() {
            super(PortKind.TEMPERATURE, "unplugged");
        }

        @Override
        public Object open(PortOpening opening) throws PortException {
            throw new PortException(
                    PortException.Kind.FORBIDDEN,
                    "There is no permission for thermometer 28-0; its group is w1.");
        }
    }
}
