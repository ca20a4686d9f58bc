package catchbay.hardware.relay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.SystemTime;
import catchbay.hardware.gpiochip.BenchOpening;
import catchbay.hardware.serial.BenchSettings;
import catchbay.port.PortException;
import catchbay.port.PortProvider;
import catchbay.port.Timekeeper;
import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;

import java.util.HashMap;
import java.util.Map;

/** What the settings of relays and contacts may say, and what is said of what they may not. */
final class GpiochipSettingsTest {

    private static final BenchSettings OUTPUTS =
            new BenchSettings(
                    Map.of(
                            "chip",
                            "no-such-chip",
                            "diverter_line",
                            5,
                            "drain_line",
                            6,
                            "supply_line",
                            7,
                            "heartbeat_line",
                            8));

    private static final BenchSettings CONTACTS =
            new BenchSettings(
                    Map.of(
                            "chip",
                            "no-such-chip",
                            "emergency_stop_line",
                            5,
                            "diverter_trigger_line",
                            6));

    private static Object open(PortProvider provider, BenchSettings settings, RunSetup setup)
            throws PortException {
        Timekeeper time = (Timekeeper) new SystemTime().open(null);
        return provider.open(new BenchOpening(settings, time, setup));
    }

    private static void assertOutputsRefused(String sentence, BenchSettings settings, String flowBy)
            throws Exception {
        RunSetup setup = Bays.flowBy(flowBy);
        assertEquals(
                sentence,
                assertThrows(
                                IllegalArgumentException.class,
                                () -> open(new GpiochipRelays(), settings, setup))
                        .getMessage());
    }

    private static void assertContactsRefused(
            String sentence, BenchSettings settings, RunSetup setup) {
        assertEquals(
                sentence,
                assertThrows(
                                IllegalArgumentException.class,
                                () -> open(new GpiochipContacts(), settings, setup))
                        .getMessage());
    }

    private static BenchSettings without(BenchSettings settings, String key) {
        Map<String, Object> values = new HashMap<>(settings.values());
        values.remove(key);
        return new BenchSettings(values);
    }

    @Test
    void aLabelThatNoChipHasIsRefusedByBoth() throws Exception {
        RunSetup setup = Bays.flowBy("supply");
        for (PortException refused :
                new PortException[] {
                    assertThrows(
                            PortException.class, () -> open(new GpiochipRelays(), OUTPUTS, setup)),
                    assertThrows(
                            PortException.class,
                            () -> open(new GpiochipContacts(), CONTACTS, setup))
                }) {
            assertEquals(PortException.Kind.MISSING, refused.kind());
            assertTrue(
                    refused.getMessage()
                            .startsWith("There is no GPIO chip labelled 'no-such-chip'; "),
                    refused.getMessage());
        }
    }

    @Test
    void aLineTakenTwiceIsRefused() throws Exception {
        assertOutputsRefused(
                "heartbeat_line: line 5 is already taken by diverter_line; name another line",
                OUTPUTS.with("heartbeat_line", 5),
                "operator");
        assertContactsRefused(
                "emergency_stop_line: line 6 is already taken by diverter_trigger_line; name"
                        + " another line",
                CONTACTS.with("emergency_stop_line", 6),
                Bays.flowBy("operator"));
    }

    @Test
    void aBayWithoutHeartbeatIsRefused() throws Exception {
        assertOutputsRefused(
                "heartbeat_line: name the line of the watchdog relay; nothing else drops the"
                        + " outputs when the program dies",
                without(OUTPUTS, "heartbeat_line"),
                "operator");
    }

    @Test
    void aRelayThatTheCatchNeedsIsRefusedBeforeAnythingMoves() throws Exception {
        assertOutputsRefused(
                "diverter_line: [diverter] is described; name the line of its relay",
                without(OUTPUTS, "diverter_line"),
                "operator");
        assertOutputsRefused(
                "drain_line: catch.drain_seconds is above 0; name the line of its relay",
                without(OUTPUTS, "drain_line"),
                "operator");
        assertOutputsRefused(
                "supply_line: catch.flow_by is supply; name the line of its relay",
                without(OUTPUTS, "supply_line"),
                "supply");
    }

    @Test
    void aSlowHeartbeatIsRefused() throws Exception {
        assertOutputsRefused(
                "heartbeat_ms: must be from 10.0 to 500.0, was 2000.0",
                OUTPUTS.with("heartbeat_ms", 2000),
                "operator");
    }

    @Test
    void theSwitchesThatTheDiverterNeedsAreAskedFor() throws Exception {
        assertContactsRefused(
                "diverter_trigger_line: [diverter] is described with feedback that needs this"
                        + " switch; name its line",
                without(CONTACTS, "diverter_trigger_line"),
                Bays.flowBy("operator"));
        assertContactsRefused(
                "diverter_at_bypass_line: [diverter] is described with feedback that needs this"
                        + " switch; name its line",
                CONTACTS.with("diverter_at_tank_line", 9),
                Bays.ends());
    }

    @Test
    void aResistorThatHidesABrokenWireIsRefused() throws Exception {
        assertContactsRefused(
                "emergency_stop_bias: a resistor towards the level of the closed contact makes a"
                        + " broken wire look closed; use up, or off with a resistor of your own",
                CONTACTS.with("emergency_stop_bias", "down"),
                Bays.flowBy("operator"));
        assertContactsRefused(
                "emergency_stop_bias: a resistor towards the level of the closed contact makes a"
                        + " broken wire look closed; use down, or off with a resistor of your own",
                CONTACTS.with("emergency_stop_closed", "high").with("emergency_stop_bias", "up"),
                Bays.flowBy("operator"));
    }

    @Test
    void unknownLevelsAndBiasesAreRefused() throws Exception {
        assertContactsRefused(
                "emergency_stop_closed: the level 'ground' is not known; use low or high",
                CONTACTS.with("emergency_stop_closed", "ground"),
                Bays.flowBy("operator"));
        assertContactsRefused(
                "emergency_stop_bias: the bias 'as-is' is not known; use up, down or off",
                CONTACTS.with("emergency_stop_bias", "as-is"),
                Bays.flowBy("operator"));
        assertContactsRefused(
                "emergency_stop_debounce_ms: must be from 0.0 to 1000.0, was 5000.0",
                CONTACTS.with("emergency_stop_debounce_ms", 5000),
                Bays.flowBy("operator"));
    }
}
