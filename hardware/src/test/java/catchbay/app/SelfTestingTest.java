package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

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
        String sentence = json(timing).get("sentence").asText();
        assertTrue(sentence.endsWith("by the reference meter (METER)."), sentence);

        say("speed_mph = 45", "speed_mph = 40");
        CommandLineRun caught = run("catch");
        assertTrue(caught.output().contains("diverter timed"), caught.output());
        assertTrue(caught.output().contains(json(timing).get("test").asText()), caught.output());

        CommandLineRun history = run("history", "--self-tests");
        assertTrue(history.output().contains("diverter, trigger"), history.output());
    }

    /**
     * Half a second is no error of timing but a flap that sticks or a switch in the wrong place.
     */
    @Test
    void aFaultIsNotCorrectedFor() throws IOException {
        say("diverter_asymmetry_ms = 50", "diverter_asymmetry_ms = 290");
        CommandLineRun timing = run("timing", "--json");
        assertEquals(1, timing.code(), timing.errors());
        assertEquals("fails", json(timing).get("answer").asText());
        CommandLineRun caught = run("catch");
        assertFalse(caught.output().contains("diverter timed"), caught.output());
        assertTrue(caught.errors().contains("timing failed on 2026-01-05"), caught.errors());
        assertTrue(caught.output().contains("timing failed on 2026-01-05"), caught.output());
    }

    @Test
    void whatIsDueIsSaid() {
        CommandLineRun due = run("due");
        assertEquals(1, due.code(), due.errors());
        assertTrue(due.output().contains("timing was never done"), due.output());
        assertTrue(due.output().contains("unscheduled"), due.output());
        CommandLineRun caught = run("catch");
        assertTrue(caught.errors().contains("timing was never done"), caught.errors());
        assertTrue(caught.output().contains("timing was never done"), caught.output());
    }

    @Test
    void whatTheBayCannotDoIsLeftOut() throws Exception {
        say("weights_days = 0", "weights_days = 30");
        CommandLineRun page = run("due");
        assertFalse(page.output().contains("\nweights"), page.output());
        assertFalse(page.output().contains("weights was never done"), page.output());
        assertTrue(page.output().contains("weights, for no check weights"), page.output());

        JsonNode due = json(run("due", "--json"));
        assertEquals(1, due.get("catchbay_due").intValue());
        assertEquals("2026-01-05", due.get("day").asText());
        assertEquals("weights", due.get("cannot").get(0).get("kind").asText());
        assertEquals(1, due.get("cannot").size());
        assertEquals(5, due.get("tests").size());
        for (JsonNode test : due.get("tests")) {
            boolean timing = test.get("kind").asText().equals("timing");
            assertEquals(timing ? 180 : 0, test.get("every_days").intValue());
            assertEquals(timing, test.has("behind"));
            assertFalse(test.has("last") || test.has("due_until"));
        }

        say(
                "[self_tests]",
                "[scale_test]\n"
                        + "weights = [ { name = \"W\", mass_kg = 20, uncertainty_kg = 0.001 } ]\n"
                        + "[self_tests]");
        assertTrue(run("due").output().contains("weights was never done"));
        assertEquals(6, json(run("due", "--json")).get("tests").size());
    }

    @Test
    void withoutAScheduleNothingIsBehind() throws IOException {
        say("[self_tests]", "[curve]");
        for (String key : new String[] {"supply = \"output\"", "checkup_days = 0"}) {
            say(key + "\n", "");
        }
        for (String test : new String[] {"shunt", "weights", "leak", "compare"}) {
            say(test + "_days = 0\n", "");
        }
        CommandLineRun due = run("due");
        assertEquals(0, due.code(), due.output());
        assertFalse(run("catch").output().contains("See: catchbay due"));
    }

    @Test
    void aTightTankKeepsWhatIsInIt() throws IOException {
        wrong("\"stray-liquid since=run after_s=1 size=0.5\"");
        CommandLineRun leak = run("leak", "--json");
        assertEquals(0, leak.code(), leak.output() + leak.errors());
        assertEquals(0, json(leak).get("figures").get(1).get("error_pulses").asInt());
        assertFalse(json(leak).has("flow_from"));
    }

    /** A twentieth of the scale's 600 kg at least; about as much is poured into the empty tank. */
    @Test
    void whatLiesOnTheScaleIsPouredAndTold() throws IOException {
        CommandLineRun leak = run("leak", "--json");
        double begun = json(leak).get("load_begun_kg").asDouble();
        assertTrue(begun >= 30 && begun < 40, leak.output());
        assertEquals(begun, json(leak).get("load_ended_kg").asDouble(), 0.05, leak.output());

        CommandLineRun page = run("leak");
        assertTrue(page.output().contains("kg at the beginning, "), page.output());
        assertTrue(page.output().contains("(SCALE)"), page.output());
        assertTrue(page.output().contains("(METER)"), page.output());
        assertFalse(page.errors().contains("[ ]"), "whoever confirms shows it: " + page.errors());
    }

    /** An empty tank has nothing to lose, and would pass. */
    @Test
    void anEmptyTankIsNoResult() throws IOException {
        // 30 kg poured are gone, 1 L/s, before liquid has settled for 30 s.
        wrong("\"tank-leak since=run after_s=2 size=1\"");
        CommandLineRun leak = run("leak");
        assertEquals(1, leak.code(), leak.output());
        assertTrue(leak.errors().contains("no result. The scale shows "), leak.errors());
        assertTrue(leak.errors().contains("30.000 kg at least"), leak.errors());
        assertTrue(leak.errors().contains("self_tests.leak_load_least_kg"), leak.errors());

        CommandLineRun history = run("history", "--self-tests");
        assertTrue(history.output().contains("no result: The scale shows"), history.output());
        say("[self_tests]", "[self_tests]\nleak_load_least_kg = 0.5");
        CommandLineRun lower = run("leak", "--json");
        say("leak_load_least_kg = 0.5", "leak_load_least_kg = 600.5");
        CommandLineRun beyond = run("leak");
        assertEquals(2, beyond.code());
        assertTrue(
                beyond.errors().contains("more than the scale's capacity of 600"), beyond.errors());
        assertTrue(json(lower).get("load_ended_kg").asDouble() < 30, lower.output());
    }

    /** What was shown stands in the file, with the name. */
    @Test
    void whatWasConfirmedIsKept() throws IOException {
        String test = json(run("leak", "--json")).get("test").asText();
        Path file = folder.resolve("data/self-tests/" + test + ".jsonl");
        JsonNode confirmed = new ObjectMapper().readTree(Files.readAllLines(file).get(1));
        assertEquals("stand-in operator", confirmed.get("confirmed").asText());
        List<String> shown = new ArrayList<>();
        confirmed.get("cautions").forEach(line -> shown.add(line.asText()));
        assertEquals(Cautions.ofLeakWatch(), shown);
        // Cut off there, as by a power cut, it is told all the same.
        Files.writeString(file, String.join("\n", Files.readAllLines(file).subList(0, 2)) + "\n");
        String history = run("history", "--self-tests").output();
        assertTrue(
                history.contains(test + "         interrupted, or still under way: no result"),
                history);
    }

    /** Six seconds of 5 gal/min are too few steps of the example's scale. */
    @Test
    void aTimingWithTooLittleFlowIsToldWhatHelps() throws IOException {
        Files.writeString(
                settings,
                Files.readString(Path.of("../src/examples/full-bay.toml"))
                        .replace("provider = \"system\"", "provider = \"virtual\""));
        CommandLineRun refused = run("timing");
        assertEquals(2, refused.code());
        assertTrue(refused.errors().contains("fewer than 200 steps"), refused.errors());
        assertTrue(refused.errors().contains("ask for more flow (--flow)"), refused.errors());
        assertFalse(refused.errors().contains("catch.seconds"), refused.errors());
        assertEquals(0, run("timing", "--flow=18").code());
        assertEquals(0, run("leak").code());
    }

    /** 0.001 L/s of brine of 1.178 kg/L are 4.24 kg in an hour. */
    @Test
    void aLeakingDrainIsFound() throws IOException {
        wrong(
                "\"stray-liquid since=run after_s=1 size=0.5\","
                        + " \"tank-leak since=run after_s=2 size=0.001\"");
        CommandLineRun leak = run("leak", "--json");
        assertEquals(1, leak.code(), leak.output() + leak.errors());
        JsonNode figure = figure(leak);
        assertEquals(
                -4.24,
                figure.get("error_kg_per_hour").asDouble(),
                figure.get("error_expanded_kg_per_hour").asDouble(),
                leak.output());
        assertTrue(json(leak).get("sentence").asText().contains("its drain"), leak.output());
    }

    @Test
    void aMeterThatCountsAtRestIsFound() throws IOException {
        wrong("\"stray-liquid since=run after_s=1 size=0.5\", \"ghost-flow since=run size=0.01\"");
        CommandLineRun leak = run("leak", "--json");
        assertEquals(1, leak.code(), leak.output() + leak.errors());
        assertEquals("passes", figure(leak).get("answer").asText(), leak.output());
        assertEquals("fails", json(leak).get("figures").get(1).get("answer").asText());
    }

    private void wrong(String faults) throws IOException {
        say("diverter_asymmetry_ms = 50", "faults = [" + faults + "]");
    }

    @Test
    void aSoundMeterAgreesAndADriftedOneDoesNot() throws IOException {
        say("diverter_asymmetry_ms = 50", "reference_error_percent = 0.05");
        CommandLineRun sound = run("compare", "--json");
        assertEquals(0, sound.code(), sound.output() + sound.errors());
        say("reference_error_percent = 0.05", "reference_error_percent = 2.5");
        CommandLineRun drifted = run("compare", "--json");
        assertEquals(1, drifted.code(), drifted.output() + drifted.errors());
        JsonNode figure = figure(drifted);
        assertEquals("METER", figure.get("serial").asText());
        assertEquals("SCALE", figure.get("against").asText());
        assertEquals(
                2.5,
                figure.get("error_percent").asDouble(),
                figure.get("error_expanded_percent").asDouble(),
                drifted.output());
        assertEquals(2, run("history", "--self-tests").output().lines().skip(1).count());
    }

    /** In a truck session, by the speed it is sent; both meters are certified at 17 gal/min. */
    @Test
    void twoMetersAreHeldAgainstEachOther() throws IOException {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        Files.writeString(
                settings,
                example.replace("provider = \"system\"", "provider = \"virtual\"")
                        .replace(
                                "reference_error_percent = -0.1",
                                "reference_error_percent = -2.5"));
        CommandLineRun compare = run("compare", "--json", "--truck=T-12", "--flow=17");
        assertEquals(1, compare.code(), compare.output() + compare.errors());
        JsonNode figures = json(compare).get("figures");
        assertEquals(3, figures.size());
        assertEquals("truck T-12", json(compare).get("flow_from").asText());
        assertEquals("passes", figures.get(0).get("answer").asText(), compare.output());
        assertEquals("fails", figures.get(1).get("answer").asText(), compare.output());
        assertEquals("METER-2", figures.get(2).get("against").asText());
        assertEquals(
                2.5,
                figures.get(2).get("error_percent").asDouble(),
                figures.get(2).get("error_expanded_percent").asDouble(),
                compare.output());
    }

    @Test
    void whatCannotBeTriedIsRefused() throws IOException {
        refused("--flow=5", "certified at the flow");
        refused("--flow=-3", "-3.0 US gal/min is no flow");
        refused("--flow=NaN", "'NaN' is no number");
        say("seconds = 60", "seconds = 60\nwindow = \"standing\"");
        CommandLineRun timing = run("timing");
        assertEquals(2, timing.code());
        assertTrue(timing.errors().contains("catch.window is standing"), timing.errors());
        say("[people]", "[reported]\nsource = \"nothing\"\n[people]");
        CommandLineRun caught = run("catch");
        assertEquals(2, caught.code());
        assertTrue(caught.errors().contains("only the bay's own tests"), caught.errors());
    }

    private void refused(String option, String part) {
        CommandLineRun compare = run("compare", option);
        assertEquals(2, compare.code());
        assertTrue(compare.errors().contains(part), compare.errors());
    }
}
