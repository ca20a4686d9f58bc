package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Outcome;
import catchbay.run.RunInput;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** The command {@code curve}, on traces written by hand and on recorded runs of a played bay. */
final class CurveCommandTest {

    private static final String PULSES = "\"constant_pulses_per_us_gal\":600";

    @TempDir Path folder;

    /**
     * A trace of 90 s: the reference gives 1000 pulses for each of the gallons measured; the
     * truck's display moves by the gallons reported.
     */
    private String trace(
            String name, String asset, String constant, double measured, double reported)
            throws IOException {
        return trace(name, asset, constant, measured, reported, "");
    }

    private String trace(
            String name,
            String asset,
            String constant,
            double measured,
            double reported,
            String moreAsked)
            throws IOException {
        long pulses = Math.round(measured * 1000);
        String text =
                String.format(
                        Locale.ROOT,
                        """
                        {"catchbay_trace":1,"turns":"implied","setup":{"bay":{"day":"2026-01-15"},\
                        "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02",\
                        "uncertainty_percent":0.2,"points":[\
                        {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},\
                        {"flow_us_gal_per_min":80,"pulses_per_us_gal":1000}]},\
                        "truck":{"asset":"%s",%s},\
                        "asked":{"rate_us_gal_per_lane_mile":%s,"lanes":1,"speed_mph":20%s},\
                        "reported":{"step_us_gal":0.01,"band_percent":100},"catch":{"seconds":90}}}
                        {"at":0,"checklist":"M. Example"}
                        {"at":5000000000,"typed_us_gal":100}
                        {"at":10000000000,"done":"start-flow"}
                        {"at":10200000000,"train":"reference","first_seq":1,"count":%d,"hertz":%s}
                        {"at":100200000000,"done":"stop-flow"}
                        {"at":110000000000,"typed_us_gal":%s}
                        """,
                        asset,
                        constant,
                        reported > 0 ? reported * 2 : measured * 2,
                        moreAsked,
                        pulses,
                        pulses / 90.0,
                        100 + reported);
        return Files.writeString(folder.resolve(name + ".jsonl"), text).toString();
    }

    /** 7.5, 30 and 90 gal in 90 s: 5, 20 and 60 gal/min, each over-reading by the same share. */
    private List<String> traces(double over) throws IOException {
        return List.of(
                trace("a", "T-12", PULSES, 7.5, 7.5 * over),
                trace("b", "T-12", PULSES, 30, 30 * over),
                trace("c", "T-12", PULSES, 90, 90 * over));
    }

    private static CommandLineRun curve(List<String> catches, String... more) {
        List<String> args = new ArrayList<>(List.of("curve"));
        args.addAll(catches);
        args.addAll(List.of(more));
        return CommandLineRun.of(args.toArray(String[]::new));
    }

    private static JsonNode json(CommandLineRun run) throws IOException {
        assertEquals("", run.errors());
        assertEquals(1, run.output().lines().count());
        return new ObjectMapper().readTree(run.output());
    }

    /** New = old x reported / measured = 600 x 1.04 = 624 at each flow. */
    @Test
    void aWrongConstantOverThreeTraces() throws IOException {
        CommandLineRun run = curve(traces(1.04), "--outlets-shut-by", "M. Example");
        assertEquals(0, run.code(), run.errors());
        List<String> lines = run.output().lines().toList();
        assertEquals("Meter of truck T-12 over its flow range, 3 catches", lines.getFirst());
        assertTrue(lines.contains("  constant now       600 pulses/US gal"), run.output());
        assertTrue(
                lines.stream()
                        .anyMatch(line ->
                                line.matches(
                                        "  +20\\.001 +1 +624\\.00 +1\\.7\\d +\\+4\\.00 +0\\.00")),
                run.output());
        assertTrue(run.output().contains("  Wrong constant: with 600 pulses/US gal"), run.output());
        assertTrue(
                run.output()
                        .contains(
                                "  new constant       624 pulses/US gal (now 600 pulses/US gal;"
                                        + " outlets seen\n                     shut by M."
                                        + " Example)"),
                run.output());
        assertTrue(lines.stream().allMatch(line -> line.length() <= 80), run.output());
    }

    /** Of one catch at a flow the band is what its own budget says, well known in all. */
    @Test
    void theSameAsJson() throws IOException {
        JsonNode told = json(curve(traces(1.04), "--json", "--outlets-shut-by", "M. Example"));
        assertEquals("T-12", told.get("asset").asText());
        assertEquals("written", told.get("origin").asText());
        assertEquals(3, told.get("points").size());
        JsonNode middle = told.get("points").get(1);
        assertEquals(20.00067, middle.get("flow_us_gal_per_min").asDouble());
        assertEquals(624, middle.get("right_constant").asDouble());
        Replay.Result catches = Replay.of(folder.resolve("b.jsonl"));
        Budget.Output error =
                ((Outcome.Measured) catches.outcome())
                        .result()
                        .comparison()
                        .budget()
                        .output(Comparison.METER_ERROR);
        assertEquals(
                1.96 * error.standard() / 1.04 * 624,
                middle.get("right_constant_expanded").asDouble(),
                0.005);
        assertEquals(4.0, middle.get("meter_error_percent").asDouble());
        assertEquals(0.0, middle.get("meter_error_with_best_percent").asDouble());
        assertEquals(624, told.get("best_constant").asDouble());
        assertEquals(624, told.get("new_constant").asDouble());
        assertEquals(0, told.get("linearity_percent").asDouble(), 1e-9);
        assertEquals("wrong_constant", told.get("findings").get(0).get("finding").asText());
        assertEquals(1, told.get("findings").size());
        assertEquals("M. Example", told.get("outlets_shut_by").asText());
        assertTrue(told.get("silent_up_to_us_gal_per_min").isNull());
        assertEquals(5.00067, told.get("counted_from_us_gal_per_min").asDouble());
    }

    @Test
    void withoutAWordOnTheOutletsNoConstantIsOffered() throws IOException {
        JsonNode told = json(curve(traces(1.04), "--json"));
        assertTrue(told.get("new_constant").isNull());
        assertEquals(624, told.get("best_constant").asDouble(), "it is computed all the same");
        assertEquals("liquid_elsewhere", told.get("findings").get(0).get("finding").asText());
        String page = curve(traces(1.04)).output().replaceAll("\\s+", " ");
        assertTrue(page.contains("would fit best 624 pulses/US gal"), page);
        assertTrue(page.contains("were every outlet shut; for information, not to be"), page);
        assertFalse(page.contains("best constant"), page);
        String seen = curve(traces(1.04), "--outlets-shut-by", "M. Example").output();
        assertTrue(seen.contains("  best constant "), seen);
        assertFalse(seen.contains("would fit best"), seen);
    }

    @Test
    void theNewestConstantIsTheOneThatStands() throws IOException {
        List<String> traces = new ArrayList<>(traces(1.04));
        Path later = Path.of(trace("d", "T-12", "\"constant_pulses_per_us_gal\":624", 60, 60));
        Files.writeString(
                later,
                Files.readString(later)
                        .replace("\"day\":\"2026-01-15\"", "\"day\":\"2026-01-16\""));
        traces.addFirst(later.toString());
        JsonNode told = json(curve(traces, "--json", "--outlets-shut-by", "M. Example"));
        assertEquals(624, told.get("old_constant").asDouble());
        assertEquals(0, told.get("findings").size());
        assertTrue(told.get("new_constant").isNull());
        assertEquals(
                "The catches were made with 600 pulses/US gal and 624 pulses/US gal; the newest is"
                        + " taken for the one that is entered now.",
                told.get("notes").get(0).asText());
    }

    /** 30 gal/lane-mile x 1 lane x 30 mph / 60 = 15 gal/min; 90 x 3 x 40 / 60 = 180. */
    @Test
    void theShopsMixOfWork() throws IOException {
        Path settings =
                Files.writeString(
                        folder.resolve("shop.toml"),
                        """
                        [curve]
                        fit = "minimax"
                        mix = [
                          { rate_us_gal_per_lane_mile = 30, lanes = 1, speed_mph = 30, weight = 3 },
                          { flow_us_gal_per_min = 5, name = "town" },
                          { rate_us_gal_per_lane_mile = 90, lanes = 3, speed_mph = 40 },
                        ]
                        """);
        List<String> traces =
                List.of(
                        trace("a", "T-12", PULSES, 7.5, 7.5),
                        trace("b", "T-12", PULSES, 30, 31.5),
                        trace("c", "T-12", PULSES, 90, 94.5));
        String shop = settings.toString();
        JsonNode told = json(curve(traces, "--json", "-s", shop));
        assertEquals("minimax", told.get("fit").asText());
        JsonNode first = told.get("mix").get(0);
        assertEquals("30 gal/lane-mile, 1 lane, 30 mph", first.get("work").asText());
        assertEquals(3, first.get("weight").asDouble());
        // 5 gal/min needs 600 and 20 needs 630, so 15 needs 620; the middle of 600 and 620 is 610.
        assertEquals(610, told.get("best_constant").asDouble(), 0);
        assertEquals(3.33, first.get("meter_error_percent").asDouble(), 0.005);
        assertEquals(1.64, first.get("meter_error_with_best_percent").asDouble(), 0.005);
        assertEquals(
                -1.64,
                told.get("mix").get(1).get("meter_error_with_best_percent").asDouble(),
                0.005);
        assertEquals(false, told.get("mix").get(2).get("tested").asBoolean());
        assertTrue(told.get("mix").get(2).get("meter_error_percent").isNull());
        String page = curve(traces, "-s", shop).output();
        assertTrue(
                page.lines()
                        .anyMatch(line ->
                                line.startsWith("  90 gal/lane-mile, 3 lanes, 40 mph")
                                        && line.endsWith(
                                                " 180.000   1.00 outside the tested flows")),
                page);
        assertTrue(page.contains("610 pulses/US gal, by minimax, over the mix below"), page);
        assertTrue(page.lines().allMatch(line -> line.length() <= 80), page);
    }

    @Test
    void aMeterThatIsSilentAtLowFlow() throws IOException {
        List<String> traces = new ArrayList<>(traces(1));
        traces.add(trace("s", "T-12", PULSES, 3, 0));
        CommandLineRun run = curve(traces);
        assertEquals(0, run.code(), run.errors());
        assertTrue(run.output().contains("none up to 2.00"), run.output());
        assertTrue(run.output().contains("  Low-flow cut-off:"), run.output());
        JsonNode told = json(curve(traces, "--json"));
        assertEquals(false, told.get("catches").get(3).get("in_curve").asBoolean());
        assertEquals(3, told.get("points").size());
    }

    /** No speed pulses are counted back in these catches, and no diverter is in the way. */
    @Test
    void theSetSpeedIsAssumedWhereItPlaysAPart() throws IOException {
        String page =
                CommandLineRun.of(
                                "budget",
                                trace("a", "T-12", PULSES, 30, 30),
                                "--of",
                                "application-error")
                        .output()
                        .replaceAll("\\s+", " ");
        assertTrue(page.contains("the set speed"), page);
        assertFalse(page.contains("diverter"), page);
    }

    @Test
    void whereSteadyCatchesMakeNoCurveTheRestIsStillTold() throws IOException {
        CommandLineRun run =
                curve(
                        List.of(
                                trace("a", "T-12", PULSES, 7.5, 0),
                                trace("b", "T-12", PULSES, 30, 30),
                                trace("c", "T-12", PULSES, 90, 90)));
        assertEquals(1, run.code(), run.errors());
        assertTrue(run.output().contains("  Low-flow cut-off:"), run.output());
        assertTrue(run.output().contains("Of the steady catches: 2 catches at 2 flows"));
    }

    /** What the controller showed, by the run: 21 mph where the bay played 20. */
    @Test
    void aSpeedThatWasWrittenDown() throws IOException {
        List<String> traces = new ArrayList<>();
        for (double gallons : new double[] {7.5, 30, 90}) {
            traces.add(
                    trace(
                            "at" + Math.round(gallons),
                            "T-12",
                            PULSES,
                            gallons,
                            gallons,
                            ",\"pulses_per_mile\":50000"));
        }
        for (int i = 0; i < traces.size(); i++) {
            Path file = Path.of(traces.get(i));
            Files.writeString(
                    file,
                    Files.readString(file)
                            .replace("\"catch\":{", "\"catch\":{\"flow_by\":\"operator\","));
        }
        JsonNode told = json(curve(traces, "--json", "--shown-mph", "at30=21"));
        assertEquals("speed_input_wrong", told.get("findings").get(0).get("finding").asText());
        String sentence = told.get("findings").get(0).get("sentence").asText();
        assertTrue(sentence.contains("showed 21.0 mph where 20.0 mph was played"), sentence);
        assertTrue(sentence.contains("about 47619 pulses per mile where 50000"), sentence);
        assertTrue(
                told.get("notes").toString().contains("the real one was not tested"),
                told::toString);
    }

    @Test
    void pressuresAreJudgedByTheShopsBand() throws IOException {
        Path settings =
                Files.writeString(
                        folder.resolve("shop.toml"),
                        "[curve]\ncoupler_max_psi = 15\nstrainer_max_psi = 5\n");
        JsonNode told =
                json(
                        curve(
                                traces(1),
                                "--json",
                                "-s",
                                settings.toString(),
                                "--coupler-psi",
                                "a=12",
                                "--coupler-psi",
                                "c=21",
                                "--strainer-psi",
                                "c=2"));
        assertEquals(1, told.get("findings").size());
        String sentence = told.get("findings").get(0).get("sentence").asText();
        assertTrue(
                sentence.startsWith(
                        "Bay restriction: at 60.00 US gal/min (run c) the coupler was at"
                                + " 21.0"),
                sentence);
    }

    /** What the bay's own gauge told need not be typed; what is typed stands in its place. */
    @Test
    void theBaysOwnGaugeIsJudgedLikeATypedPressure() throws IOException {
        Path settings =
                Files.writeString(folder.resolve("shop.toml"), "[curve]\ncoupler_max_psi = 15\n");
        List<String> traces = traces(1);
        Path gauged = Path.of(traces.get(2));
        String stop = "{\"at\":100200000000,\"done\"";
        Files.writeString(
                gauged,
                Files.readString(gauged)
                        .replace(stop, "{\"at\":50000000000,\"coupler_psi\":21}\n" + stop));
        JsonNode told = json(curve(traces, "--json", "-s", settings.toString()));
        String sentence = told.get("findings").get(0).get("sentence").asText();
        assertTrue(
                sentence.startsWith(
                        "Bay restriction: at 60.00 US gal/min (run c) the coupler was at 21.0"),
                sentence);
        assertEquals(
                0,
                json(curve(traces, "--json", "-s", settings.toString(), "--coupler-psi", "c=12"))
                        .get("findings")
                        .size());
        JsonNode replayed =
                new ObjectMapper()
                        .readTree(
                                CommandLineRun.of("replay", "--json", gauged.toString()).output());
        assertEquals(21.0, replayed.get("coupler_psi").asDouble());
        assertEquals(21.0, replayed.get("coupler_psi_most").asDouble());
        assertEquals(144.79, replayed.get("coupler_kpa").asDouble(), "21 psi at 6.89476 kPa");
    }

    private static void assertRefused(CommandLineRun run, String... says) {
        assertEquals(2, run.code(), run::toString);
        assertEquals("", run.output());
        assertEquals(1, run.errors().lines().count(), run.errors());
        for (String part : says) {
            assertTrue(run.errors().contains(part), run.errors());
        }
    }

    @Test
    void whatMakesNoCurveIsRefusedInASentence() throws IOException {
        List<String> good = traces(1);
        assertRefused(
                curve(good.subList(0, 2)),
                "catchbay: 2 catches at 2 flows (5.001 US gal/min, 20.00 US gal/min) make no"
                        + " curve; at least 3 flows");
        assertRefused(curve(List.of()), "TRUCK|RUN|FILE");
        String other = trace("d", "T-31", PULSES, 60, 60);
        assertRefused(
                curve(List.of(good.get(0), good.get(1), other)),
                "run a has truck T-12 and run d truck T-31; one curve needs catches that are"
                        + " alike");
        String percent = trace("e", "T-12", "\"constant_percent\":100", 60, 60);
        assertRefused(
                curve(List.of(good.get(0), good.get(1), percent)),
                "run a has a constant in pulses/US gal and run e one in % of reading");
        assertRefused(
                curve(List.of(good.get(0), good.get(1), good.get(1))),
                "run b is named twice; name it once");
        assertRefused(
                curve(List.of(good.get(0), "nowhere.jsonl")),
                "'nowhere.jsonl' is no trace file, and no settings say where records are");
        assertRefused(
                curve(good, "--data", folder.toString(), "T-12"),
                "'T-12' is no trace file, and there are no records in ");
    }

    @Test
    void whatSaysNothingIsRefused() throws IOException {
        List<String> good = traces(1);
        assertRefused(
                curve(good, "--shown-mph", "z=20"),
                "run z has no part in this curve; its catches are a, b, c");
        assertRefused(
                curve(good, "--shown-mph", "a=20"),
                "--shown-mph a: the bay did not play the truck's speed in this run");
        assertRefused(
                curve(good, "--shown-mph", "a=-2"), "a shown speed must be above 0 mph, was -2");
        assertRefused(curve(good, "--shown-mph", "a=fast"), "'fast' is no number");
        assertRefused(curve(good, "--coupler-psi", "a=NaN"), "'NaN' is no number");
        assertRefused(curve(good, "--coupler-psi", "a=12"), "set curve.coupler_min_psi and");
        assertRefused(curve(good, "--strainer-psi", "a=12"), "set curve.strainer_max_psi in");
        assertRefused(curve(good, "--outlets-shut-by", " "), "give a person's name");
        Path people =
                Files.writeString(
                        folder.resolve("people.toml"),
                        "[people]\n\"A. Example\" = \"technician\"\n");
        assertRefused(
                curve(good, "-s", people.toString(), "--outlets-shut-by", "B. Example"),
                "option --outlets-shut-by: B. Example is not in the section people of people.toml;"
                        + " it has A. Example");
        assertRefused(curve(good, "--since", "lately"), "'lately' is no day");
    }

    @Test
    void aTraceWithoutAResultIsRefused() throws IOException {
        List<String> traces = new ArrayList<>(traces(1));
        traces.add(
                Files.writeString(
                                folder.resolve("stopped.jsonl"),
                                Files.readString(Path.of(traces.getFirst()))
                                                .lines()
                                                .findFirst()
                                                .orElseThrow()
                                        + "\n{\"at\":0,\"stop\":\"M. Example\"}\n")
                        .toString());
        assertRefused(
                curve(traces), "run stopped gave no result (stopped); leave it out. Stopped by M.");
    }

    /** Three catches of one truck at 1, 2 and 4 kg/s, and one that was stopped. */
    private List<String> recorded() throws Exception {
        List<String> runs = new ArrayList<>();
        for (double flow : new double[] {1, 2, 4}) {
            PlayedBay bay = new PlayedBay();
            bay.kilogramsPerSecond = flow;
            runs.add(caught(bay));
        }
        caught(new PlayedBay().input(0.5, at -> new RunInput.StopPressed(at, "M. Example")));
        return runs;
    }

    private String caught(PlayedBay bay) throws Exception {
        Path file =
                Files.writeString(
                        folder.resolve("bay.toml"), PlayedBay.SETTINGS + PlayedPorts.SETTINGS);
        try (PlayedPorts _ = new PlayedPorts(folder, bay)) {
            CommandLineRun run = CommandLineRun.of("catch", "-s", file.toString(), "--json");
            return new ObjectMapper().readTree(run.output()).get("run").asText();
        }
    }

    @Test
    void recordedRunsOfATruck() throws Exception {
        List<String> runs = recorded();
        String data = folder.resolve("data").toString();
        JsonNode byTruck = json(curve(List.of("T-12"), "--data", data, "--json"));
        assertEquals("simulated", byTruck.get("origin").asText());
        assertEquals(
                runs, byTruck.get("catches").findValuesAsText("run"), "the oldest comes first");
        assertEquals(
                "1 run of truck T-12 gave no result and have no part in this.",
                byTruck.get("notes").get(0).asText());
        // The display over-reads by 5 %; 1.18 kg are a litre.
        assertEquals(630, byTruck.get("points").get(2).get("right_constant").asDouble(), 1.5);
        assertEquals(
                2.1 / 1.18 / VolumeUnit.US_GALLON.litres() * 60,
                byTruck.get("points").get(1).get("flow_us_gal_per_min").asDouble(),
                2);

        JsonNode byRuns = json(curve(runs, "--data", data, "--json"));
        assertEquals(byTruck.get("points"), byRuns.get("points"));
        String page = curve(List.of("T-12"), "-s", folder.resolve("bay.toml").toString()).output();
        assertTrue(page.contains("  Simulated: at least one instrument"), page);

        assertRefused(curve(List.of("T-99"), "--data", data), "no truck and no trace file 'T-99'");
        assertRefused(curve(List.of("T-12", runs.getFirst()), "--data", data), "is named twice");
        assertRefused(
                curve(List.of("T-12"), "--data", data, "--since", "2027-01-01"),
                "truck T-12 has no accepted run since 2027-01-01; catch with it first");
        List<String> withStopped = new ArrayList<>(runs);
        withStopped.add(runs.getFirst() + "-4");
        assertRefused(curve(withStopped, "--data", data), "gave no result (stopped); leave it out");
    }

    /** Records of one folder, rules of other settings: the folder that is named wins. */
    @Test
    void theFolderNamedIsTakenInPlaceOfTheSettingsOne() throws Exception {
        List<String> runs = recorded();
        String data = folder.resolve("data").toString();
        Path other =
                Files.writeString(
                        folder.resolve("other.toml"),
                        "data = \"elsewhere\"\n[curve]\ncoupler_min_psi = 10\n"
                                + "coupler_max_psi = 40\n");
        String[] judged = {"--coupler-psi", runs.getFirst() + "=12", "--json"};
        List<String> options = new ArrayList<>(List.of("--data", data));
        options.addAll(List.of(judged));
        assertRefused(
                curve(List.of("T-12"), options.toArray(String[]::new)),
                "set curve.coupler_min_psi and");
        options.addAll(List.of("-s", other.toString()));
        JsonNode told = json(curve(List.of("T-12"), options.toArray(String[]::new)));
        assertEquals(runs, told.get("catches").findValuesAsText("run"));
        assertTrue(
                curve(List.of("T-12"), "-s", other.toString())
                        .errors()
                        .contains(folder.resolve("elsewhere").toString()));
        assertRefused(
                curve(List.of("T-12"), "--data", data, "-s", "no-such.toml"),
                "there is no file no-such.toml");
        assertEquals(
                0,
                CommandLineRun.of("budget", runs.getFirst(), "-s", other.toString(), "--data", data)
                        .code());
        CommandLineRun listed =
                CommandLineRun.of("history", "--data", data, "-s", other.toString());
        assertTrue(listed.output().contains(runs.getFirst()), listed.output() + listed.errors());
    }

    @Test
    void aTraceThatIsNotTheRecordedOneIsRefused() throws Exception {
        List<String> runs = recorded();
        Path traces = folder.resolve("data/traces");
        Files.copy(
                traces.resolve(runs.get(1) + ".jsonl.zst"),
                traces.resolve(runs.get(0) + ".jsonl.zst"),
                StandardCopyOption.REPLACE_EXISTING);
        CommandLineRun run = curve(List.of("T-12"), "--data", folder.resolve("data").toString());
        assertEquals(3, run.code());
        assertTrue(
                run.errors()
                        .endsWith(
                                runs.getFirst()
                                        + ".jsonl.zst is not the trace that was recorded; restore"
                                        + " it from a copy\n"),
                run.errors());
    }
}
