package catchbay.hardware.relay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.hardware.gpiochip.Bias;
import catchbay.hardware.gpiochip.Chip;
import catchbay.hardware.gpiochip.ContactLine;
import catchbay.port.PortException;
import catchbay.run.BayContact;
import catchbay.run.RunInput;

import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;

/**
 * What the levels of lines say of contacts, with a chip that is played. Mockito rewrites what it
 * mocks for the whole JVM, so the reader of pulses, which must not allocate, is left alone.
 */
final class ContactsTest {

    private static final int STOP_LINE = 4;
    private static final int TANK_LINE = 6;

    private final Chip chip = mock(Chip.class);
    private final ContactLine stop = mock(ContactLine.class);
    private final ContactLine tank = mock(ContactLine.class);

    /** Contacts to ground: closed is low, and a broken wire is pulled high. */
    private Contacts opened(boolean stopHigh, boolean tankHigh) throws PortException {
        when(chip.contact("catchbay emergency-stop", STOP_LINE, Bias.UP, 10_000)).thenReturn(stop);
        when(chip.contact("catchbay diverter-at-tank", TANK_LINE, Bias.UP, 0)).thenReturn(tank);
        when(stop.high()).thenReturn(stopHigh);
        when(tank.high()).thenReturn(tankHigh);
        return GpiochipContacts.contacts(
                chip,
                List.of(
                        wire(BayContact.DIVERTER_AT_TANK, TANK_LINE, 0),
                        wire(BayContact.EMERGENCY_STOP, STOP_LINE, 10_000)),
                MonotonicClock.open());
    }

    private static ContactWire wire(BayContact contact, int line, long debounceMicros) {
        return new ContactWire(
                contact, line, DigitalState.LOW, PullResistance.PULL_UP, debounceMicros);
    }

    /** Events of one look, each as a level and a stamp. */
    private static void bring(ContactLine request, Object... levelsAndStamps) throws PortException {
        int events = levelsAndStamps.length / 2;
        when(request.look()).thenReturn(events, 0);
        for (int i = 0; i < events; i++) {
            when(request.high(i)).thenReturn((Boolean) levelsAndStamps[2 * i]);
            when(request.stampNanos(i)).thenReturn((Long) levelsAndStamps[2 * i + 1]);
        }
    }

    private static List<RunInput> drained(Contacts contacts) throws PortException {
        List<RunInput> inputs = new ArrayList<>();
        contacts.drain(inputs::add);
        return inputs;
    }

    private static List<String> words(List<RunInput> inputs) {
        return inputs.stream()
                .map(RunInput.Contact.class::cast)
                .map(contact -> contact.contact().key() + " " + contact.active())
                .toList();
    }

    @Test
    void theFirstDrainTellsHowAllOfThemStand() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            long before = MonotonicClock.open().nanos();
            List<RunInput> first = drained(contacts);
            long after = MonotonicClock.open().nanos();
            assertEquals(List.of("diverter-at-tank false", "emergency-stop false"), words(first));
            first.forEach(
                    input -> assertTrue(before <= input.atNanos() && input.atNanos() <= after));
            assertEquals(List.of(), drained(contacts));
        }
        verify(stop).close();
        verify(tank).close();
    }

    @Test
    void aBrokenWireIsAnEmergencyStop() throws Exception {
        try (Contacts contacts = opened(true, true)) {
            assertEquals(
                    List.of("diverter-at-tank false", "emergency-stop true"),
                    words(drained(contacts)));
        }
    }

    @Test
    void whatChangedBeforeTheFirstDrainIsInHowTheyStand() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            bring(stop, true, 5L);
            assertEquals(
                    List.of("diverter-at-tank false", "emergency-stop true"),
                    words(drained(contacts)));
        }
    }

    @Test
    void changesBearTheKernelsStamps() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            drained(contacts);
            bring(tank, false, 1000L);
            bring(stop, true, 900L, false, 2000L);
            assertEquals(
                    List.of(
                            new RunInput.Contact(1000, BayContact.DIVERTER_AT_TANK, true),
                            new RunInput.Contact(900, BayContact.EMERGENCY_STOP, true),
                            new RunInput.Contact(2000, BayContact.EMERGENCY_STOP, false)),
                    drained(contacts));
        }
    }

    @Test
    void anEventThatBringsTheKnownLevelTellsNothing() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            drained(contacts);
            bring(stop, false, 900L);
            assertEquals(List.of(), drained(contacts));
        }
    }

    @Test
    void changesThatTheKernelDroppedAreAFailureAndTheLastLevelIsTold() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            drained(contacts);
            when(stop.lost()).thenReturn(7);
            bring(stop, true, 900L);
            List<RunInput> inputs = new ArrayList<>();
            PortException lost =
                    assertThrows(PortException.class, () -> contacts.drain(inputs::add));
            assertEquals(PortException.Kind.OVERFLOW, lost.kind());
            assertEquals(
                    "The contact emergency-stop chattered: 7 of its changes were lost. Look after"
                            + " its switch and its wire, or give it a longer debounce_ms under"
                            + " [port.contacts].",
                    lost.getMessage());
            assertEquals(List.of("emergency-stop true"), words(inputs));
        }
    }

    /** What was seen before the failure is told: an emergency stop is not lost behind it. */
    @Test
    void aChipThatHasGoneIsAFailure() throws Exception {
        try (Contacts contacts = opened(false, true)) {
            drained(contacts);
            bring(tank, false, 1000L);
            PortException gone = new PortException(PortException.Kind.GONE, "It has gone.");
            when(stop.look()).thenThrow(gone);
            List<RunInput> inputs = new ArrayList<>();
            assertEquals(
                    gone, assertThrows(PortException.class, () -> contacts.drain(inputs::add)));
            assertEquals(List.of("diverter-at-tank true"), words(inputs));
        }
    }

    @Test
    void aLineThatCannotBeReadIsLetGoAndRefused() throws Exception {
        PortException gone = new PortException(PortException.Kind.GONE, "It has gone.");
        when(stop.high()).thenThrow(gone);
        when(chip.contact("catchbay emergency-stop", STOP_LINE, Bias.UP, 10_000)).thenReturn(stop);
        assertEquals(
                gone,
                assertThrows(
                        PortException.class,
                        () ->
                                GpiochipContacts.contacts(
                                        chip,
                                        List.of(wire(BayContact.EMERGENCY_STOP, STOP_LINE, 10_000)),
                                        MonotonicClock.open())));
        verify(stop).close();
    }

    @Test
    void everyContactReadsAsTheWiringPageHasIt() {
        for (BayContact contact : BayContact.values()) {
            boolean danger =
                    contact == BayContact.EMERGENCY_STOP
                            || contact == BayContact.HIGH_LEVEL
                            || contact == BayContact.SPILL
                            || contact == BayContact.SUPPLY_LOST;
            for (DigitalState closed : List.of(DigitalState.LOW, DigitalState.HIGH)) {
                ContactWire wire = new ContactWire(contact, 1, closed, PullResistance.OFF, 0);
                assertEquals(!danger, wire.active(closed), contact.key());
                assertEquals(
                        danger, wire.active(DigitalState.getInverseState(closed)), contact.key());
            }
        }
    }
}
