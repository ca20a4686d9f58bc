package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** A bay that lacks a port for what its settings ask is told so before anything moves. */
final class PortNeedsTest {

    private static List<String> problems(String toml) {
        Settings settings = Settings.of("bay.toml", Path.of("").toAbsolutePath(), toml);
        return PortNeeds.problems(
                settings, settings.setup(Optional.empty(), LocalDate.of(2026, 2, 3)));
    }

    private static final String SCALE = "[port.scale]\nprovider = \"serial\"\n";

    private static final String REFERENCE =
            """
            [reference]
            serial = "METER-1"
            date = 2026-01-05
            expiry = 2027-01-05
            points = [{ flow_us_gal_per_min = 1, pulses_per_us_gal = 1000 },
                      { flow_us_gal_per_min = 30, pulses_per_us_gal = 1000 }]
            """;

    @Test
    void whatIsThereIsEnough() {
        assertEquals(List.of(), problems(PlayedBay.SETTINGS + SCALE));
    }

    @Test
    void eachInstrumentNeedsItsLine() {
        assertEquals(
                List.of(
                        "[scale] is described, but no provider is chosen under [port.scale]; choose"
                                + " one, or take [scale] out."),
                problems(PlayedBay.SETTINGS));
        assertEquals(
                List.of(
                        "[scale] is described, but no provider is chosen under [port.scale]; choose"
                                + " one, or take [scale] out."),
                problems(PlayedBay.SETTINGS + "[port.scale]\nprovider = \"none\"\n"),
                "saying that there is none is not choosing one");
        assertEquals(
                List.of(
                        "[reference] is described, but no provider is chosen under [port.pulses];"
                                + " choose one, or take [reference] out."),
                problems(PlayedBay.SETTINGS + SCALE + REFERENCE));
        assertEquals(
                List.of(
                        "[diverter] is described, but no provider is chosen under [port.contacts];"
                                + " choose one, or take [diverter] out.",
                        "[diverter] is described, but no provider is chosen under [port.outputs];"
                                + " choose one, or take [diverter] out."),
                problems(
                        PlayedBay.SETTINGS.replace("[catch]", "[catch]\nwindow = \"standing\"")
                                + SCALE
                                + "[diverter]\nfeedback = \"ends\"\n"));
    }

    @Test
    void theTrucksFigureNeedsItsLine() {
        String line =
                PlayedBay.SETTINGS.replace("[reported]", "[reported]\nsource = \"line\"") + SCALE;
        assertEquals(
                List.of(
                        "reported.source is line, but no provider is chosen under"
                                + " [port.controller]; choose one, or choose another source."),
                problems(line));
        assertEquals(List.of(), problems(line + "[port.controller]\nprovider = \"serial\"\n"));
        assertEquals(
                List.of(
                        "reported.source is pulses, but no provider is chosen under [port.pulses];"
                                + " choose one, or choose another source."),
                problems(
                        PlayedBay.SETTINGS.replace(
                                        "[reported]\nstep_us_gal = 0.001\nlag_seconds = 0.1\n",
                                        "[reported]\nsource = \"pulses\"\n")
                                + SCALE));
    }

    @Test
    void flowAndDrainNeedAnOutput() {
        assertEquals(
                List.of(
                        "catch.flow_by is supply, but no provider is chosen under [port.outputs];"
                                + " choose one, or let the operator start the flow."),
                problems(
                        PlayedBay.SETTINGS.replace("[catch]", "[catch]\nflow_by = \"supply\"")
                                + SCALE));
        assertEquals(
                List.of(
                        "catch.flow_by is ground-speed, but no provider is chosen under"
                                + " [port.pulse_output]; choose one, or let the operator start the"
                                + " flow.",
                        "catch.flow_by is ground-speed, which nothing but the outputs' watchdog"
                                + " relay ends when the program dies, but no provider is chosen"
                                + " under [port.outputs]; choose one, or let the operator start the"
                                + " flow."),
                problems(
                        PlayedBay.SETTINGS.replace("[asked]", "[asked]\npulses_per_mile = 4000")
                                + SCALE));
        assertEquals(
                List.of(
                        "catch.drain_seconds is above 0, but no provider is chosen under"
                            + " [port.outputs]; choose one, or set drain_seconds = 0 and drain by"
                            + " hand."),
                problems(PlayedBay.SETTINGS.replace("drain_seconds = 0\n", "") + SCALE));
    }
}
