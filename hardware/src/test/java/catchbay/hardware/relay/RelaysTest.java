package catchbay.hardware.relay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.run.BayCommand;
import catchbay.run.BayCommand.Way;

import com.pi4j.io.gpio.digital.DigitalState;

import org.junit.jupiter.api.Test;

/** Which line a command moves, and to which level, on Pi4J's mock lines. */
final class RelaysTest {

    @Test
    void everyRelayBeginsAtItsSafeLevel() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            assertEquals(DigitalState.LOW, bay.level(Relay.DIVERTER));
            assertEquals(DigitalState.HIGH, bay.level(Relay.DRAIN));
            assertEquals(DigitalState.LOW, bay.level(Relay.SUPPLY));
            assertEquals(DigitalState.LOW, bay.level(Relay.LIGHT));
        }
    }

    @Test
    void eachCommandMovesItsOwnLine() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            bay.relays.perform(new BayCommand.Divert(Way.TANK));
            assertEquals(DigitalState.HIGH, bay.level(Relay.DIVERTER));
            bay.relays.perform(new BayCommand.Divert(Way.BYPASS));
            assertTrue(bay.allSafe());

            bay.relays.perform(new BayCommand.Drain(true));
            assertEquals(DigitalState.LOW, bay.level(Relay.DRAIN));
            bay.relays.perform(new BayCommand.Drain(false));
            assertTrue(bay.allSafe());

            bay.relays.perform(new BayCommand.Supply(true));
            assertEquals(DigitalState.HIGH, bay.level(Relay.SUPPLY));
            bay.relays.perform(new BayCommand.Supply(false));
            assertTrue(bay.allSafe());
        }
    }

    @Test
    void theLightIsOnWhileARunIsUnderWay() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            bay.relays.turn();
            assertEquals(DigitalState.HIGH, bay.level(Relay.LIGHT));
            bay.relays.makeSafe();
            assertEquals(DigitalState.LOW, bay.level(Relay.LIGHT));
            bay.relays.turn();
            assertEquals(DigitalState.HIGH, bay.level(Relay.LIGHT));
        }
    }

    @Test
    void madeSafeAndClosedEveryRelayIsOff() throws Exception {
        MockedBay left;
        try (MockedBay bay = new MockedBay(Relay.values())) {
            left = bay;
            openAll(bay);
            assertFalse(bay.allSafe());
            bay.relays.makeSafe();
            assertTrue(bay.allSafe());
            openAll(bay);
        }
        assertTrue(left.allSafe());
    }

    private static void openAll(MockedBay bay) throws PortException {
        bay.relays.turn();
        bay.relays.perform(new BayCommand.Divert(Way.TANK));
        bay.relays.perform(new BayCommand.Drain(true));
        bay.relays.perform(new BayCommand.Supply(true));
    }

    /** Nobody closes the port: the program's end does it, and nothing moves any more. */
    @Test
    void theEndOfTheProgramMakesSafeWhatIsStillOpen() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.values())) {
            openAll(bay);
            long asked = System.nanoTime();
            bay.relays.end().come();
            double seconds = (System.nanoTime() - asked) / 1e9;
            assertTrue(bay.allSafe());
            assertTrue(seconds < 2, "it took " + seconds + " s");
            assertEquals(
                    "The program is ending, and the outputs stay at their safe levels.",
                    assertThrows(
                                    PortException.class,
                                    () -> bay.relays.perform(new BayCommand.Supply(true)))
                            .getMessage());
            assertTrue(bay.allSafe());
            bay.relays.perform(new BayCommand.Supply(false));
        }
    }

    @Test
    void aRelayThatIsNotWiredIsRefusedOnlyWhenItIsWanted() throws Exception {
        try (MockedBay bay = new MockedBay(Relay.DIVERTER, Relay.HEARTBEAT)) {
            bay.relays.turn();
            bay.relays.perform(new BayCommand.Drain(false));
            assertEquals(
                    "No line is wired for the bay's drain; name drain_line under [port.outputs].",
                    assertThrows(
                                    PortException.class,
                                    () -> bay.relays.perform(new BayCommand.Drain(true)))
                            .getMessage());
        }
    }
}
