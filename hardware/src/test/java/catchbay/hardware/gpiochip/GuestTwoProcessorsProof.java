package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.signal.PulseCount;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * On two processors the kernel's interrupt and its interrupt thread run at once: edges are merged
 * and, by a race of the kernel's own (docs/decisions), some are numbered twice. So the number that
 * is missing may be too high there, but never too low. Run in the kernel guest only.
 */
final class GuestTwoProcessorsProof {

    private static final int BURST = 10_000;
    private static final int BURSTS_MAX = 5;

    @Test
    void lostEdgesAreNeverSilent() throws Exception {
        try (SimulatedChip simulated = new SimulatedChip("bay", GuestDoor.CHIP, 8)) {
            boolean lost = false;
            for (int burst = 0; burst < BURSTS_MAX && !lost; burst++) {
                lost = losesEdges(simulated);
            }
            assertTrue(lost, "no edge was lost, so that nothing is proven of lost ones");
        }
    }

    /** Edges as fast as they can be made; whether any were lost. */
    private static boolean losesEdges(SimulatedChip simulated) throws Exception {
        LineRequest request =
                Chip.find(GuestDoor.CHIP)
                        .edges("proof", GuestDoor.LINE, GuestDoor.COMPANION, Bias.AS_IS);
        // An edge that is numbered twice bears a stamp of the thread's, later than the next one's.
        Received received = new Received(false);
        try (PulseTap tap = new PulseTap(PulseLine.TRUCK, request, 100_000)) {
            tap.start();
            received.drain(new PulseTaps(List.of(tap)), simulated.pulses(GuestDoor.LINE, BURST, 0));
        }
        String figures = received.edges() + " received, " + received.missing() + " missing";
        System.out.println("proof figures: of " + BURST + " edges " + figures);
        assertTrue(received.edges() <= BURST, figures);
        assertTrue(received.edges() + received.missing() >= BURST, figures);
        if (received.missing() > 0) {
            assertEquals(
                    new PulseCount.EdgesLost(received.edges(), received.missing()),
                    received.count());
        }
        return received.edges() < BURST;
    }
}
