package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.Source;
import catchbay.record.DocumentException;
import catchbay.run.RunInput;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** Ports are chosen by name, opened together and closed together. */
final class BayPortsTest {

    private static final List<String> CLOSED = new ArrayList<>();

    @TempDir Path folder;

    private final ClassLoader before = Thread.currentThread().getContextClassLoader();

    /** The clock of a played bay. */
    public static final class Clock extends Named {
        public Clock() {
            super(PortKind.TIME, "played");
        }

        @Override
        public Object open(PortOpening opening) {
            return new PlayedBay().time;
        }
    }

    /** A scale that never speaks and notes its closing. */
    public static class Scale extends Named {
        public Scale() {
            super(PortKind.SCALE, "quiet");
        }

        @Override
        public Object open(PortOpening opening) {
            opening.settings().number("gain", 0, 10, 1);
            return new Quiet("scale", false);
        }
    }

    /** The same under the same name. */
    public static final class OtherScale extends Scale {}

    /** Pulses that cannot be let go. */
    public static final class Pulses extends Named {
        public Pulses() {
            super(PortKind.PULSES, "sticky");
        }

        @Override
        public Object open(PortOpening opening) {
            return new Quiet("pulses", true);
        }
    }

    abstract static class Named implements PortProvider {
        private final PortKind kind;
        private final String name;

        Named(PortKind kind, String name) {
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
            return kind == PortKind.SCALE;
        }
    }

    private record Quiet(String name, boolean sticks) implements Source {
        @Override
        public void drain(Consumer<RunInput> into) {
            // It never says anything.
        }

        @Override
        public void close() {
            CLOSED.add(name);
            if (sticks) {
                throw new IllegalStateException("the line sticks");
            }
        }
    }

    @BeforeEach
    void nothingIsClosed() {
        CLOSED.clear();
    }

    @AfterEach
    void restore() {
        Thread.currentThread().setContextClassLoader(before);
    }

    /** Lets the program find these providers. */
    private void provided(Class<?>... providers) {
        PlayedPorts.find(folder, List.of(providers));
    }

    private BayPorts opened(String ports) throws PortException {
        Settings settings =
                Settings.of(
                        "bay.toml",
                        folder,
                        PlayedBay.SETTINGS + "[port.time]\nprovider = \"played\"\n" + ports);
        BayPorts bay = BayPorts.withTime(settings, PlayedBay.setup());
        try {
            bay.openAll(PlayedBay.setup());
        } catch (PortException | DocumentException refused) {
            bay.close();
            throw refused;
        }
        return bay;
    }

    private static int line(int after) {
        return (int) PlayedBay.SETTINGS.lines().count() + after;
    }

    private void assertRefused(String expected, String ports) {
        assertEquals(
                expected, assertThrows(DocumentException.class, () -> opened(ports)).getMessage());
    }

    private static final String STAND_IN_OPERATOR = "[port.operator]\nprovider = \"played\"\n";

    @Test
    void aProviderThatIsNotThere() throws Exception {
        provided(Clock.class, Scale.class);
        String refusal =
                assertThrows(
                                DocumentException.class,
                                () -> opened("[port.scale]\nprovider = \"quite\"\n"))
                        .getMessage();
        assertTrue(
                refusal.startsWith(
                        "bay.toml line "
                                + line(4)
                                + ": port.scale.provider = \"quite\": nothing called"
                                + " 'quite' provides scale here; use one of none, quiet"),
                refusal);
    }

    @Test
    void aProviderThatIsThereTwice() throws Exception {
        provided(Clock.class, Scale.class, OtherScale.class);
        assertRefused(
                "bay.toml line "
                        + line(4)
                        + ": port.scale.provider = \"quiet\": 'quiet' is provided 2 times; take one"
                        + " of the program's jars out",
                "[port.scale]\nprovider = \"quiet\"\n");
    }

    @Test
    void aKeyThatTheProviderDoesNotKnow() throws Exception {
        provided(Clock.class, Scale.class);
        assertRefused(
                "bay.toml line "
                        + line(5)
                        + ": port.scale.gainn = 2: unknown key; did you mean gain? The keys here"
                        + " are provider, gain",
                "[port.scale]\nprovider = \"quiet\"\ngainn = 2\n");
        assertEquals(List.of("scale"), CLOSED, "what was opened before the refusal is closed");
    }

    @Test
    void aValueThatTheProviderRefuses() throws Exception {
        provided(Clock.class, Scale.class);
        assertRefused(
                "bay.toml line " + line(5) + ": port.scale.gain = 20: it must be from 0 to 10",
                "[port.scale]\nprovider = \"quiet\"\ngain = 20\n");
    }

    @Test
    void aPortKindThatIsNone() throws Exception {
        provided(Clock.class);
        assertRefused(
                "bay.toml line "
                        + line(3)
                        + ": port.scala = {\"provider\":\"quiet\"}: unknown key; did you mean"
                        + " scale? The keys here are time, contacts, pulses, scale, controller,"
                        + " temperature, pressure, operator, outputs, pulse_output, computer,"
                        + " supervisor",
                "[port.scala]\nprovider = \"quiet\"\n");
    }

    @Test
    void nobodyAnswersInVirtualTime() throws Exception {
        provided(Clock.class);
        assertRefused(
                "bay.toml line "
                        + line(1)
                        + ": port.operator.provider: nobody can answer as fast as virtual time"
                        + " goes; use the stand-in operator, or provider = \"system\" under"
                        + " [port.time]",
                "");
    }

    @Test
    void allAreClosedWhateverFails() throws Exception {
        provided(Clock.class, Scale.class, Pulses.class, Person.class);
        BayPorts bay =
                opened(
                        "[port.scale]\nprovider = \"quiet\"\n[port.pulses]\nprovider = \"sticky\"\n"
                                + STAND_IN_OPERATOR);
        assertTrue(bay.simulated(), "one stand-in marks the run");
        assertEquals(
                "a port could not be closed (the line sticks); check its wiring and its power",
                assertThrows(PortException.class, bay::close).getMessage());
        assertEquals(List.of("scale", "pulses"), CLOSED);
    }

    @Test
    void withoutAStandInTheRunIsReal() throws Exception {
        provided(Clock.class, Pulses.class, Person.class);
        BayPorts bay = opened(STAND_IN_OPERATOR);
        assertFalse(bay.simulated());
        bay.close();
        assertEquals(List.of(), CLOSED, "absent ports hold nothing");
    }

    /** A person who never answers. */
    public static final class Person extends Named {
        public Person() {
            super(PortKind.OPERATOR, "played");
        }

        @Override
        public Object open(PortOpening opening) {
            return new PlayedBay().ports().operator();
        }
    }
}
