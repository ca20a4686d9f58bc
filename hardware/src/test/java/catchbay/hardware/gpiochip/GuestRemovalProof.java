package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.Source;

import org.junit.jupiter.api.Test;

/**
 * A chip taken away while edges of it are asked for. In a JVM of its own and the last of its guest:
 * the simulated chip of this kernel frees what the request still uses, and an oops was seen in
 * whatever came next.
 */
final class GuestRemovalProof {

    @Test
    void chipThatGoesAwayIsTold() throws Exception {
        SimulatedChip simulated = new SimulatedChip("bay", GuestDoor.CHIP, 8);
        Source door = GuestDoor.open();
        Received received = new Received();
        simulated.pulse(GuestDoor.LINE, 5, 1000);
        received.drain(door);
        assertEquals(5, received.edges());
        System.out.println("proof takes a chip away; what the kernel says from here on is its own");
        simulated.pullOut();
        PortException told = assertThrows(PortException.class, () -> received.drain(door));
        assertEquals(PortException.Kind.GONE, told.kind());
        assertTrue(
                told.getMessage().endsWith(" has gone; check its plug and its driver."),
                told.getMessage());
    }
}
