package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.lang.reflect.Field;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * The shipped reader against the kernel's own GPIO device, on one processor, where the simulated
 * chip merges no edges. Run in the kernel guest only (src/kernel-guest).
 */
final class GuestChipProof {

    private static final int LINE = GuestDoor.LINE;
    private static final int COMPANION = GuestDoor.COMPANION;
    private static final int COUNTED = 3000;

    /**
     * Edges that come faster than any meter's; a million of them are counted by the measurement.
     */
    private static final int RUSHED = 5000;

    private SimulatedChip simulated;

    @BeforeEach
    void plugIn() throws IOException {
        simulated = new SimulatedChip("bay", "bay-sim", 16);
    }

    @AfterEach
    void pullOut() throws IOException {
        simulated.close();
    }

    private static void assertRefused(
            PortException.Kind kind, String sentence, PortException refused) {
        assertEquals(kind + ": " + sentence, refused.kind() + ": " + refused.getMessage());
    }

    @Test
    void layoutIsTheHeaders() throws Exception {
        List<String> header = Files.readAllLines(Path.of("/layout"));
        assertTrue(header.size() > 40, "the header was really read");
        for (String named : header) {
            String[] parts = named.split(" ");
            Field ours = Uapi.class.getDeclaredField(parts[0]);
            assertEquals(Long.parseLong(parts[1]), ((Number) ours.get(null)).longValue(), parts[0]);
        }
    }

    @Test
    void wrongLabelIsRefusedWithThoseThatExist() {
        assertRefused(
                PortException.Kind.MISSING,
                "There is no GPIO chip labelled 'bay'; name one of those that exist: bay-sim.",
                assertThrows(PortException.class, () -> Chip.find("bay")));
    }

    @Test
    void labelOfTwoChipsIsRefused() throws Exception {
        try (SimulatedChip twin = new SimulatedChip("twin", "bay-sim", 4)) {
            PortException refused = assertThrows(PortException.class, () -> Chip.find("bay-sim"));
            assertEquals(PortException.Kind.UNFIT, refused.kind());
            assertTrue(
                    refused.getMessage().startsWith("2 GPIO chips are labelled 'bay-sim' ("),
                    refused.getMessage());
            assertTrue(
                    refused.getMessage().contains(twin.device().toString()), refused.getMessage());
        }
    }

    @Test
    void absentLineIsRefusedWithThoseThatExist() throws Exception {
        Chip chip = Chip.find("bay-sim");
        assertRefused(
                PortException.Kind.MISSING,
                "There is no line 16 on the GPIO chip " + chip + "; it has lines 0 to 15.",
                assertThrows(PortException.class, () -> chip.edges("proof", 16, 1, Bias.AS_IS)));
    }

    @Test
    void busyLineIsRefusedByItsHolder() throws Exception {
        Chip chip = Chip.find("bay-sim");
        LineRequest held = chip.edges("another program", COMPANION, 9, Bias.AS_IS);
        assertRefused(
                PortException.Kind.BUSY,
                "On the GPIO chip "
                        + chip
                        + " line 5 is held by 'another program'; stop that program, or wire to"
                        + " another line.",
                assertThrows(PortException.class, () -> GuestDoor.open()));
        held.close();
        GuestDoor.open().close();
    }

    @Test
    void forbiddenChipIsRefusedByItsGroup() throws Exception {
        Path device = simulated.device();
        run("chgrp", "gpio", device.toString());
        run("chmod", "660", device.toString());
        String command =
                "/runtime/bin/java @/java-options -XX:TieredStopAtLevel=1 "
                        + AskForChip.class.getName()
                        + " bay-sim";
        assertEquals(
                "FORBIDDEN: This user may not use the GPIO chip "
                        + device
                        + "; add the user to the group gpio and log in again.",
                run("su", "-s", "/bin/sh", "-c", command, "visitor"));
    }

    private static String run(String... command) throws Exception {
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        byte[] said = process.getInputStream().readAllBytes();
        process.waitFor();
        return new String(said, StandardCharsets.UTF_8).strip();
    }

    @Test
    void everyEdgeUpToTwoKilohertzIsThere() throws Exception {
        Received received = new Received();
        BenchOpening opening = GuestDoor.opening();
        try (Source door = (Source) new GpiochipPulses().open(opening)) {
            received.drain(door, simulated.pulses(LINE, COUNTED, 500));
        }
        assertTrue(opening.markedSimulated(), "a chip that is only simulated marks the run");
        assertEquals(COUNTED, received.edges());
        assertEquals(0, received.missing());
        assertEquals(COUNTED, assertInstanceOf(PulseCount.Whole.class, received.count()).counted());
    }

    @Test
    void rushedEdgesAreReceivedOrMissing() throws Exception {
        Received received = new Received();
        try (Source door = GuestDoor.open()) {
            received.drain(door, simulated.pulses(LINE, RUSHED, 60));
        }
        System.out.println(
                "proof figures: rush "
                        + received.edges()
                        + " received, "
                        + received.missing()
                        + " missing");
        assertEquals(RUSHED, received.edges() + received.missing());
    }

    @Test
    void stalledReaderLosesTheOldestAndSaysSo() throws Exception {
        LineRequest request = Chip.find("bay-sim").edges("proof", LINE, COMPANION, Bias.AS_IS);
        PulseTap tap = new PulseTap(PulseLine.TRUCK, request, 20_000);
        simulated.pulse(LINE, 10, 1000);
        tap.move(1000);
        simulated.pulse(LINE, 1500, 200);
        tap.start();
        Received received = new Received();
        received.drain(new PulseTaps(List.of(tap)));
        tap.close();
        assertEquals(10 + 1024, received.edges());
        assertEquals(new PulseCount.EdgesLost(10 + 1024, 1500 - 1024), received.count());
    }

    @Test
    void pauseOfTheWholeJvmCostsNoEdge() throws Exception {
        Received received = new Received();
        long pausedMillis;
        try (Source door = GuestDoor.open()) {
            Process toggling = simulated.pulses(LINE, 4000, 500);
            Thread.sleep(300);
            long pid = ProcessHandle.current().pid();
            pausedMillis = Long.parseLong(run("/bin/pause", Long.toString(pid), "400"));
            received.drain(door, toggling);
        }
        String figures =
                "paused for "
                        + pausedMillis
                        + " ms, "
                        + received.edges()
                        + " received, "
                        + received.missing()
                        + " missing, edges/s around a gap: "
                        + Math.round(received.hertzAroundGap());
        System.out.println("proof figures: " + figures);
        assertTrue(pausedMillis >= 400, figures);
        assertEquals(4000, received.edges() + received.missing(), figures);
        assertEquals(0, received.missing(), figures);
    }

    @Test
    void contactThatBouncesIsOneEdge() throws Exception {
        int[] lines = {2, 3};
        try (LineRequest contacts =
                Chip.find("bay-sim").contacts("proof", lines, Bias.AS_IS, 50_000)) {
            assertEquals(0, contacts.levels());
            simulated.pulse(3, 5, 4000);
            simulated.drive(3, true);
            assertEquals(1, contacts.await(2000));
            assertEquals(3, contacts.line(0));
            assertTrue(contacts.rising(0));
            assertEquals(0b10, contacts.levels());
            simulated.drive(3, false);
            assertEquals(1, contacts.await(2000));
            assertFalse(contacts.rising(0));
            assertEquals(0, contacts.await(200));
        }
    }

    @Test
    void outputsHaveTheLevelsTheyAreGiven() throws Exception {
        try (OutputLines outputs =
                Chip.find("bay-sim")
                        .outputs("proof", new int[] {8, 10}, new boolean[] {true, false})) {
            assertTrue(simulated.high(8), "first levels hold from the beginning");
            assertFalse(simulated.high(10));
            outputs.set(10, true);
            assertTrue(simulated.high(8), "the other line stays");
            assertTrue(simulated.high(10));
            assertTrue(outputs.active(10));
            outputs.setAll(new boolean[] {false, false});
            assertFalse(simulated.high(8));
            assertFalse(simulated.high(10));
            assertFalse(outputs.active(8));
        }
    }

    @Test
    void outputsOfAChipThatCameBackCanBeAskedForAnew() throws Exception {
        int[] lines = {8};
        try (OutputLines outputs =
                Chip.find("bay-sim").outputs("proof", lines, new boolean[] {true})) {
            simulated.pullOut();
            assertEquals(
                    PortException.Kind.GONE,
                    assertThrows(PortException.class, () -> outputs.set(8, false)).kind());
        }
        simulated.plugIn();
        assertFalse(simulated.high(8));
        try (OutputLines outputs =
                Chip.find("bay-sim").outputs("proof", lines, new boolean[] {true})) {
            assertTrue(outputs.active(8));
            assertTrue(simulated.high(8));
        }
    }
}
