package catchbay.hardware.relay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.ArgumentMatchers.anyBoolean;
import static org.mockito.ArgumentMatchers.anyInt;
import static org.mockito.ArgumentMatchers.eq;
import static org.mockito.Mockito.doThrow;
import static org.mockito.Mockito.inOrder;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.mockingDetails;
import static org.mockito.Mockito.never;
import static org.mockito.Mockito.times;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.OutputLines;
import catchbay.port.PortException;
import catchbay.run.BayCommand;

import com.pi4j.io.gpio.digital.DigitalState;

import org.junit.jupiter.api.Test;
import org.mockito.InOrder;
import org.mockito.invocation.Invocation;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/** What reaches the lines of a chip, and a chip that throws. */
final class ChipOutputTest {

    private static final long BEAT_NANOS = 5_000_000;
    private static final int HEARTBEAT = 9;

    private final Chip chip = mock(Chip.class);
    private final OutputLines diverter = line("catchbay diverter", 3, false);
    private final OutputLines supply = line("catchbay supply", 5, true);
    private final OutputLines heartbeat = line("catchbay heartbeat", HEARTBEAT, false);

    private OutputLines line(String consumer, int number, boolean first) {
        OutputLines lines = mock(OutputLines.class);
        try {
            when(chip.outputs(consumer, new int[] {number}, new boolean[] {first}))
                    .thenReturn(lines);
        } catch (PortException never) {
            throw new AssertionError(never);
        }
        return lines;
    }

    private static Map<Relay, GpiochipRelays.Wire> wires() {
        Map<Relay, GpiochipRelays.Wire> wires = new EnumMap<>(Relay.class);
        wires.put(Relay.DIVERTER, new GpiochipRelays.Wire(3, DigitalState.HIGH));
        wires.put(Relay.SUPPLY, new GpiochipRelays.Wire(5, DigitalState.LOW));
        wires.put(Relay.HEARTBEAT, new GpiochipRelays.Wire(HEARTBEAT, DigitalState.HIGH));
        return wires;
    }

    private Relays started() throws PortException {
        Relays relays = GpiochipRelays.relays(chip, wires(), BEAT_NANOS);
        relays.start();
        return relays;
    }

    /** The lines are asked for with their safe levels, which the mocks insist on. */
    @Test
    void linesAreWrittenAtEveryCallAndLetGoAtTheirSafeLevels() throws Exception {
        Relays relays = started();
        relays.perform(new BayCommand.Divert(BayCommand.Way.TANK));
        relays.perform(new BayCommand.Divert(BayCommand.Way.TANK));
        relays.perform(new BayCommand.Supply(true));
        relays.close();
        InOrder order = inOrder(diverter);
        order.verify(diverter).set(3, false);
        order.verify(diverter, times(2)).set(3, true);
        order.verify(diverter).set(3, false);
        order.verify(diverter).close();
        InOrder inverse = inOrder(supply);
        inverse.verify(supply).set(5, true);
        inverse.verify(supply).set(5, false);
        inverse.verify(supply).set(5, true);
        inverse.verify(supply).close();
        List<Invocation> beats = List.copyOf(mockingDetails(heartbeat).getInvocations());
        assertEquals("close", beats.getLast().getMethod().getName());
        assertEquals(List.of(9, false), List.of(beats.get(beats.size() - 2).getArguments()));
    }

    @Test
    void aBusyLineIsRefusedInTheChipsWordsAndTheOthersAreLetGo() throws Exception {
        PortException busy =
                new PortException(PortException.Kind.BUSY, "line 5 is held by 'somebody'");
        when(chip.outputs(eq("catchbay supply"), any(), any())).thenThrow(busy);
        assertEquals(
                busy,
                assertThrows(
                        PortException.class,
                        () -> GpiochipRelays.relays(chip, wires(), BEAT_NANOS)));
        verify(diverter).close();
        verify(heartbeat, never()).set(anyInt(), eq(true));
    }

    /** The others are set all the same, and the hard-wired relay is made to drop. */
    @Test
    void aLineThatCannotBeMadeSafeEndsTheHeartbeat() throws Exception {
        Relays relays = started();
        relays.perform(new BayCommand.Supply(true));
        doThrow(new PortException(PortException.Kind.GONE, "The GPIO chip has gone."))
                .when(diverter)
                .set(anyInt(), anyBoolean());
        relays.makeSafe();
        verify(supply, times(2)).set(5, true);
        Thread.sleep(BEAT_NANOS * 10 / 1_000_000);
        int beats = mockingDetails(heartbeat).getInvocations().size();
        Thread.sleep(BEAT_NANOS * 10 / 1_000_000);
        assertEquals(beats, mockingDetails(heartbeat).getInvocations().size());
        assertEquals(
                "The bay's diverter could not be set: The GPIO chip has gone. The watchdog relay"
                        + " drops the outputs until it is reset.",
                assertThrows(PortException.class, relays::turn).getMessage());
        relays.close();
        verify(diverter).close();
    }

    @Test
    void aHeartbeatThatFailsEndsTheRun() throws Exception {
        doThrow(new PortException(PortException.Kind.GONE, "The GPIO chip has gone."))
                .when(heartbeat)
                .set(HEARTBEAT, true);
        Relays relays = started();
        long deadline = System.nanoTime() + 5_000_000_000L;
        PortException told = null;
        while (told == null && System.nanoTime() < deadline) {
            try {
                relays.turn();
            } catch (PortException refusal) {
                told = refusal;
            }
        }
        assertEquals(
                "The bay's heartbeat could not be set: The GPIO chip has gone. The watchdog relay"
                        + " drops the outputs until it is reset.",
                told.getMessage());
        relays.close();
    }
}
