package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.relay.GpiochipContacts;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.BayContact;
import catchbay.run.RunInput;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * The levels of the shipped relays at every end of their process, as the kernel's own chip has
 * them, and the shipped contacts under the kernel's debounce. The wires are pulled to the unsafe
 * level from outside, so that a safe level is one that is driven. Run in the kernel guest only.
 */
final class GuestRelaysProof {

    private static final int LINES = 8;
    private static final int DRAIN = 2;
    private static final int HEARTBEAT = 5;

    /** Diverter, drain (active low), supply, light. */
    private static final List<Boolean> SAFE = List.of(false, true, false, false);

    private static final List<Boolean> ON = List.of(true, false, true, true);
    private static final long WAIT_NANOS_MAX = 20_000_000_000L;

    /** How a process ends once its outputs are on. */
    private enum End {
        STOP("stop"),
        EXCEPTION("throw"),
        SIGTERM("wait"),
        SIGKILL("wait");

        private final String word;

        End(String word) {
            this.word = word;
        }
    }

    /** All of them at once: each takes the emulation seconds to start. */
    private static final Map<End, Bay> BAYS = new EnumMap<>(End.class);

    /** A process with a chip of its own. */
    private record Bay(SimulatedChip simulated, Process process, BufferedReader says) {

        static Bay start(End end) throws IOException {
            String label = end.name();
            SimulatedChip simulated = new SimulatedChip(label, label, LINES);
            for (int line = 1; line <= SAFE.size(); line++) {
                simulated.drive(line, line != DRAIN);
            }
            Process process =
                    new ProcessBuilder(
                                    "/runtime/bin/java",
                                    "@/java-options",
                                    "-XX:TieredStopAtLevel=1",
                                    "-Xmx40m",
                                    "catchbay.hardware.relay.GuestRelays",
                                    label,
                                    end.word)
                            .redirectError(Path.of("/tmp", label).toFile())
                            .start();
            return new Bay(simulated, process, process.inputReader(StandardCharsets.UTF_8));
        }

        /** Switched on, and told to go on to its end. */
        static Bay on(End end) throws Exception {
            Bay bay = BAYS.get(end);
            assertEquals("safe", bay.says.readLine(), () -> bay.error(end));
            assertEquals(SAFE, bay.levels(), "at the start");
            bay.tell('\n');
            assertEquals("on", bay.says.readLine(), () -> bay.error(end));
            assertEquals(ON, bay.levels());
            assertTrue(bay.beats(), "the heartbeat beats");
            bay.tell('\n');
            return bay;
        }

        private String error(End end) {
            try {
                return Files.readString(Path.of("/tmp", end.name()));
            } catch (IOException unread) {
                return unread.toString();
            }
        }

        private void tell(int letter) throws IOException {
            process.getOutputStream().write(letter);
            process.getOutputStream().flush();
        }

        List<Boolean> levels() throws IOException {
            List<Boolean> levels = new ArrayList<>();
            for (int line = 1; line <= SAFE.size(); line++) {
                levels.add(simulated.high(line));
            }
            return levels;
        }

        /** Whether the heartbeat changes within a time that is ten beats long. */
        boolean beats() throws Exception {
            boolean first = simulated.high(HEARTBEAT);
            for (int look = 0; look < 50; look++) {
                if (simulated.high(HEARTBEAT) != first) {
                    return true;
                }
                Thread.sleep(20);
            }
            return false;
        }

        /** Waits for the safe levels, while the process still holds its lines. */
        void assertSafe(End end) throws Exception {
            long began = System.nanoTime();
            while (!levels().equals(SAFE) && System.nanoTime() - began < WAIT_NANOS_MAX) {
                Thread.sleep(5);
            }
            long millis = (System.nanoTime() - began) / 1_000_000;
            System.out.println("proof figures: " + end + ": outputs safe after " + millis + " ms");
            assertEquals(SAFE, levels(), () -> error(end));
            assertTrue(process.isAlive(), "it holds its lines");
        }

        /** Waits for the safe levels and for the last beat, and lets the process end. */
        void assertEndsSafe(End end) throws Exception {
            assertSafe(end);
            long began = System.nanoTime();
            boolean beating = true;
            while (beating && System.nanoTime() - began < WAIT_NANOS_MAX) {
                beating = beats();
            }
            assertTrue(!beating, "the heartbeat stands still");
            assertEquals(SAFE, levels());
            process.getOutputStream().close();
            process.waitFor();
        }
    }

    @BeforeAll
    static void start() throws IOException {
        for (End end : End.values()) {
            BAYS.put(end, Bay.start(end));
        }
    }

    @AfterAll
    static void end() throws Exception {
        for (Bay bay : BAYS.values()) {
            bay.process.destroyForcibly().waitFor();
            bay.simulated.close();
        }
    }

    /** As at the end of every run; the process lives on, and its heartbeat says so. */
    @Test
    void stopMakesSafe() throws Exception {
        Bay bay = Bay.on(End.STOP);
        bay.assertSafe(End.STOP);
        assertTrue(bay.beats(), "the heartbeat beats");
        bay.process.getOutputStream().close();
        assertEquals(0, bay.process.waitFor(), () -> bay.error(End.STOP));
    }

    @Test
    void exceptionThatNobodyCatchesMakesSafe() throws Exception {
        Bay.on(End.EXCEPTION).assertEndsSafe(End.EXCEPTION);
    }

    @Test
    void sigtermMakesSafe() throws Exception {
        Bay bay = Bay.on(End.SIGTERM);
        // By its handle: Process.destroy would close its input too, by which it is let go.
        bay.process.toHandle().destroy();
        bay.assertEndsSafe(End.SIGTERM);
    }

    /** What the lines do is the driver's affair, and only told here; the heartbeat is ours. */
    @Test
    void sigkillEndsTheHeartbeat() throws Exception {
        Bay bay = Bay.on(End.SIGKILL);
        bay.process.destroyForcibly().waitFor();
        assertTrue(!bay.beats(), "the heartbeat stands still");
        System.out.println(
                "proof figures: SIGKILL leaves diverter, drain, supply, light at " + bay.levels());
    }

    /** A stop button that rests closed, at low. Before anything drives its wire, it is broken. */
    @Test
    void contactThatBouncesChangesOnce() throws Exception {
        BenchSettings settings =
                new BenchSettings(
                        Map.of(
                                "chip", "contacts-sim",
                                "emergency_stop_line", 3,
                                "emergency_stop_debounce_ms", 50));
        Timekeeper time = (Timekeeper) new SystemTime().open(null);
        List<RunInput> told = new ArrayList<>();
        try (SimulatedChip simulated = new SimulatedChip("contacts", "contacts-sim", LINES);
                Source contacts =
                        (Source) new GpiochipContacts().open(new BenchOpening(settings, time))) {
            contacts.drain(told::add);
            assertEquals(List.of(true), active(told), "a broken wire");
            simulated.drive(3, false);
            settle(contacts, told);
            assertEquals(List.of(true, false), active(told));
            simulated.pulse(3, 5, 4000);
            simulated.drive(3, true);
            settle(contacts, told);
            assertEquals(List.of(true, false, true), active(told));
        }
    }

    private static void settle(Source contacts, List<RunInput> told) throws Exception {
        for (int look = 0; look < 50; look++) {
            Thread.sleep(10);
            contacts.drain(told::add);
        }
    }

    private static List<Boolean> active(List<RunInput> told) {
        List<Boolean> active = new ArrayList<>();
        for (RunInput input : told) {
            RunInput.Contact contact = (RunInput.Contact) input;
            assertEquals(BayContact.EMERGENCY_STOP, contact.contact());
            active.add(contact.active());
        }
        return active;
    }
}
