package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** A stand-in bay with a hidden truth tries itself; everything about it is invented. */
final class SelfTestingTest {

    private static final String SETTINGS =
            """
            data = "data"
            [bay]
            name = "Bay"
            [reference]
            serial = "METER"
            date = 2026-01-01
            expiry = 2027-01-01
            uncertainty_percent = 0.2
            points = [
                { flow_us_gal_per_min = 10, pulses_per_us_gal = 600 },
                { flow_us_gal_per_min = 60, pulses_per_us_gal = 600 },
            ]
            [scale]
            in_place = true
            serial = "SCALE"
            date = 2026-01-01
            expiry = 2027-01-01
            uncertainty_percent = 0.05
            unit = "kg"
            resolution_kg = 0.02
            capacity_kg = 600
            [diverter]
            feedback = "trigger"
            [liquid]
            name = "brine"
            density_kg_per_m3 = 1178
            [trucks.T-1]
            constant_pulses_per_us_gal = 3000
            [asked]
            rate_us_gal_per_lane_mile = 40
            lanes = 1
            speed_mph = 45
            pulses_per_mile = 4000
            [catch]
            seconds = 60
            drip_seconds = 10
            drain_seconds = 120
            [self_tests]
            supply = "output"
            checkup_days = 0
            shunt_days = 0
            weights_days = 0
            leak_days = 0
            compare_days = 0
            [people]
            "A. Example" = "manager"
            [port.time]
            provider = "virtual"
            [port.outputs]
            provider = "stand-in"
            seed = 3
            diverter_asymmetry_ms = 50
            diverter_travel_ms = 300
            [port.pulse_output]
            provider = "stand-in"
            [port.contacts]
            provider = "stand-in"
            [port.pulses]
            provider = "stand-in"
            [port.scale]
            provider = "stand-in"
            [port.operator]
            provider = "stand-in"
            """;

    @TempDir private Path folder;

    private Path settings;

    @BeforeEach
    void write() throws IOException {
        settings = folder.resolve("bay.toml");
        Files.writeString(settings, SETTINGS);
    }

    private void say(String what, String instead) throws IOException {
        String now = Files.readString(settings);
        assertTrue(now.contains(what), what);
        Files.writeString(settings, now.replace(what, instead));
    }

    private CommandLineRun run(String command, String... words) {
        String[] all = new String[words.length + 3];
        all[0] = command;
        all[1] = "-s";
        all[2] = settings.toString();
        System.arraycopy(words, 0, all, 3, words.length);
        return CommandLineRun.of(all);
    }

    private static JsonNode json(CommandLineRun run) throws IOException {
        return new ObjectMapper().readTree(run.output());
    }

    private static JsonNode figure(CommandLineRun run) throws IOException {
        return json(run).get("figures").get(0);
    }

    @Test
    void theHiddenTimingErrorIsFoundAndCorrectedFor() throws IOException {
        CommandLineRun timing = run("timing", "--json", "--by=A. Example");
        assertEquals(0, timing.code(), timing.errors());
        JsonNode figure = figure(timing);
        double found = figure.get("error_seconds").asDouble();
        double within = figure.get("error_expanded_seconds").asDouble();
        assertEquals(0.05, found, within, timing.output());
        assertTrue(within < 0.02, timing.output());
        assertEquals("the bay's own supply", json(timing).get("flow_from").asText());
        assertEquals("A. Example", json(timing).get("by").asText());
        assertTrue(json(timing).get("rounds").get(0).get("metered").asBoolean());

        say("speed_mph = 45", "speed_mph = 40");
        CommandLineRun caught = run("catch");
        assertTrue(caught.output().contains("diverter timed"), caught.output());
        assertTrue(caught.output().contains(json(timing).get("test").asText()), caught.output());

        CommandLineRun history = run("history", "--self-tests");
        assertTrue(history.output().contains("diverter, trigger"), history.output());
    }
}
