package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.run.Repeats;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** A series of repeats from the command line to its file, on a played bay. */
final class RepeatingTest {

    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir Path folder;

    private final PlayedBay bay = new PlayedBay();
    private String settings = PlayedBay.SETTINGS;

    /** What the display makes of each run's litres. */
    private void overReads(double... times) {
        for (double each : times) {
            bay.overReadings.add(each);
        }
    }

    private CommandLineRun series(String more, String... options) throws Exception {
        Path file =
                Files.writeString(
                        folder.resolve("bay.toml"), settings + more + PlayedPorts.SETTINGS);
        List<String> args = new ArrayList<>(List.of("catch", "-s", file.toString(), "--repeats"));
        args.addAll(List.of(options));
        try (PlayedPorts _ = new PlayedPorts(folder, bay)) {
            return CommandLineRun.of(args.toArray(String[]::new));
        }
    }

    /**
     * What a manager decided about a certificate stands in the series, its budget and the history;
     * a budget of the series' runs is that of their mean, of which what the bay has in common is
     * not divided by anything (JCGM 100:2008, 5.2.2 NOTE 1).
     */
    @Test
    void aManagersDecisionGoesWithEverythingMadeOfIt() throws Exception {
        overReads(1.05, 1.0505, 1.0495);
        settings = PlayedBay.SETTINGS.replace("expiry = 2027-01-05", "expiry = 2026-01-06");
        String people = "[people]\n\"M. Example\" = \"manager\"\n";
        String[] decision = {"--by", "M. Example", "--override", "the laboratory is late"};
        String decided = "Used by decision of M. Example (the laboratory is late)";

        CommandLineRun run = series(people, decision);
        assertEquals(0, run.code(), run.errors());
        String page = run.output().replaceAll("\\s+", " ");
        assertTrue(page.contains(decided), page);
        assertEquals(page.indexOf(decided), page.lastIndexOf(decided), "once: " + page);
        JsonNode result = JSON.readTree(lines().getLast());
        assertEquals("the laboratory is late", result.get("override").asText());
        assertTrue(result.get("notes").toString().contains(decided), result.toString());

        String data = folder.resolve("data").toString();
        List<String> args = new ArrayList<>(List.of("budget"));
        args.addAll(each(result, "run"));
        args.addAll(List.of("--data", data, "--json"));
        CommandLineRun budget = CommandLineRun.of(args.toArray(String[]::new));
        assertEquals(0, budget.code(), budget.errors());
        JsonNode mean = JSON.readTree(budget.output());
        assertTrue(mean.get("notes").toString().contains(decided), mean.toString());
        assertEquals(3, mean.get("runs").size());
        JsonNode error = null;
        for (JsonNode output : mean.get("outputs")) {
            if (output.get("name").asText().equals("meter error")) {
                error = output;
            }
        }
        assertEquals(
                result.get("meter_error_expanded_percent").asDouble(),
                error.get("expanded_uncertainty").asDouble() * 100,
                1e-4);
        args.removeLast();
        String table = CommandLineRun.of(args.toArray(String[]::new)).output();
        assertTrue(table.contains("Budget of meter error, mean of 3 catches"), table);
        args.add("--draws=1000");
        assertTrue(
                CommandLineRun.of(args.toArray(String[]::new)).errors().contains("name one"),
                "draws of a mean are refused");

        String history = CommandLineRun.of("history", "--data", data).output();
        assertTrue(history.contains("measured *"), history);
        assertTrue(history.contains("* By decision of a manager"), history);
    }

    private List<String> lines() throws Exception {
        try (Stream<Path> files = Files.list(folder.resolve("data/series"))) {
            List<Path> all = files.toList();
            assertEquals(1, all.size());
            return Files.readAllLines(all.getFirst());
        }
    }

    private static List<String> each(JsonNode result, String key) {
        List<String> values = new ArrayList<>();
        result.get("runs").forEach(run -> values.add(run.get(key).asText()));
        return values;
    }

    /** Three over-readings about 5 % whose range is 0.095 % of them; 3 runs may have 0.17 %. */
    @Test
    void runsThatAgreeEndTheSeries() throws Exception {
        overReads(1.05, 1.0505, 1.0495);
        CommandLineRun run = series("", "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode result = JSON.readTree(run.output());
        assertEquals("enough", result.get("end").asText());
        assertEquals(3, result.get("counted_runs").asInt());
        assertEquals(0.0952, result.get("range_percent").asDouble(), 0.0002);
        // 0.25 % sqrt(3) 1.693 / 4.303: d2 and t of the tables.
        assertEquals(0.1704, result.get("limit_percent").asDouble(), 0.0001);
        double mean = 0;
        for (JsonNode each : result.get("runs")) {
            mean += each.get("meter_error_percent").asDouble() / 3;
        }
        assertEquals(mean, result.get("meter_error_percent").asDouble(), 0.0002);
        // 600 pulses per gallon, cured by the mean, to the tenth that can be entered.
        assertEquals(
                Math.round(6000 * (1 + mean / 100)) / 10.0, result.get("new_constant").asDouble());
        assertEquals(run.output().strip(), lines().getLast());
    }

    @Test
    void theCommandLinePlansASeriesToo() throws Exception {
        overReads(1.05, 1.0505, 1.0495, 1.05);
        JsonNode result = JSON.readTree(series("", "--json", "--least", "4", "--most=5").output());
        assertEquals(4, result.get("planned_runs").asInt());
        assertEquals(5, result.get("most_runs").asInt());
        assertEquals(4, result.get("counted_runs").asInt());
        assertEquals(
                "catchbay: option --least = 2: it must be a whole number from 3 to 20\n",
                series("", "--least=2").errors());
        String conflict = series("", "--least=5", "--most=3").errors();
        assertTrue(
                conflict.contains("at least 5 runs are planned, and at most 3, which is fewer"),
                conflict);
        CommandLineRun alone =
                CommandLineRun.of("catch", "-s", folder.resolve("bay.toml").toString(), "--most=5");
        assertEquals(2, alone.code());
        assertTrue(alone.errors().contains("give --repeats too"), alone.errors());
    }

    @Test
    void eachIsARunOfItsOwnAndSaysWhereItBelongs() throws Exception {
        overReads(1.05, 1.0505, 1.0495);
        CommandLineRun run = series("", "--json");
        JsonNode result = JSON.readTree(run.output());
        String name = result.get("series").asText();
        List<String> runs = each(result, "run");
        assertEquals(name, runs.getFirst());
        for (int i = 0; i < 3; i++) {
            Path trace = folder.resolve("data/traces/" + runs.get(i) + ".jsonl.zst");
            try (InputStream bytes = Files.newInputStream(trace);
                    TraceReader reader = new TraceReader(bytes, "trace")) {
                TraceLine.Header header = reader.header();
                assertEquals(
                        Optional.of(new Repeats.Place(name, i + 1)),
                        header.setup().repeats().place());
            }
            assertEquals(0, CommandLineRun.of("replay", trace.toString()).code());
        }
        assertEquals(
                4,
                CommandLineRun.of("history", "--data", folder.resolve("data").toString())
                        .output()
                        .lines()
                        .count());
        assertEquals(
                3,
                bay.asked.stream().filter(catchbay.run.Question.CHECKLIST::equals).count(),
                "the checklist is confirmed for each");
    }

    /** The uncertainty of the mean is that of one run with less of what comes out anew. */
    @Test
    void theMeanIsWorthMoreThanOneRun() throws Exception {
        overReads(1.05, 1.0505, 1.0495);
        JsonNode mean = JSON.readTree(series("", "--json").output());
        String first = mean.get("series").asText();
        JsonNode one =
                JSON.readTree(
                        CommandLineRun.of(
                                        "replay",
                                        folder.resolve("data/traces/" + first + ".jsonl.zst")
                                                .toString(),
                                        "--json")
                                .output());
        double ofMean = mean.get("meter_error_expanded_percent").asDouble();
        double ofOne = one.get("meter_error_expanded_percent").asDouble();
        assertTrue(ofMean < ofOne, ofMean + " " + ofOne);
        assertTrue(ofMean > ofOne / Math.sqrt(3), "what is common is not divided");
    }

    @Test
    void aVoidRunIsToldAndDoesNotCount() throws Exception {
        overReads(1.05, -0.2, 1.0505, 1.0495);
        CommandLineRun run = series("", "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode result = JSON.readTree(run.output());
        assertEquals(
                List.of("measured", "report_unusable", "measured", "measured"),
                each(result, "outcome"));
        assertEquals(3, result.get("counted_runs").asInt());
        assertTrue(
                run.errors().contains("The run is void and does not count. Run again.\n"),
                run.errors());
        assertTrue(run.errors().contains("1 of the 3 planned runs are made."), run.errors());
    }

    @Test
    void tooManyVoidRunsInARowEndIt() throws Exception {
        overReads(1.05, -0.2, -0.2);
        CommandLineRun run = series("");
        assertEquals(1, run.code());
        assertTrue(
                run.errors().contains("2 runs in a row came to nothing, as many as the settings"),
                run.errors());
        String words = run.output().replaceAll("\\s+", " ");
        assertTrue(
                words.contains("No new constant: the series did not end as planned."),
                run.output());
    }

    /** Kept: it counts, spoils the agreement, and the answer stands in the series' file. */
    @Test
    void aRunThatStandsOutIsAskedAboutAndStaysIn() throws Exception {
        overReads(1.05, 1.0501, 1.06, 1.0502, 1.0499);
        CommandLineRun run = series("[repeats]\nmost = 4\n");
        assertEquals(0, run.code(), run.errors());
        assertTrue(run.errors().contains(" stands out: its meter error of "), run.errors());
        List<String> answers =
                lines().stream().filter(line -> line.startsWith("{\"stands_out\"")).toList();
        assertEquals(1, answers.size(), answers.toString());
        assertTrue(answers.getFirst().endsWith("\"kept\":true,\"answer\":\"kept\"}"));
        JsonNode result = JSON.readTree(lines().getLast());
        assertEquals("limit-reached", result.get("end").asText());
        assertEquals(4, result.get("counted_runs").asInt());
        assertEquals(
                List.of("false", "false", "true", "false"),
                each(result, "kept_though_it_stands_out"));
        assertTrue(run.output().contains("stands out and was kept."), run.output());
        assertTrue(run.output().lines().allMatch(line -> line.length() <= 80), run.output());
    }

    @Test
    void aRunThatIsNotKeptEndsTheSeriesWithoutAConstant() throws Exception {
        overReads(1.05, 1.0501, 1.06);
        bay.keeping = false;
        CommandLineRun run = series("", "--json");
        assertEquals(1, run.code());
        JsonNode result = JSON.readTree(run.output());
        assertEquals("outlier", result.get("end").asText());
        assertEquals(3, result.get("counted_runs").asInt(), "none is dropped");
        assertTrue(result.get("new_constant").isNull());
        assertTrue(
                lines().stream()
                        .anyMatch(line ->
                                line.endsWith("\"kept\":false,\"answer\":\"ended by A. Tester\"}")),
                lines()::toString);
    }

    @Test
    void identicalRunsAreRefused() throws Exception {
        CommandLineRun run = series("", "--json");
        assertEquals(1, run.code());
        JsonNode result = JSON.readTree(run.output());
        assertEquals("identical", result.get("end").asText());
        assertTrue(result.get("new_constant").isNull());
    }

    @Test
    void aPlanThatCannotBeIsRefused() throws Exception {
        CommandLineRun run = series("[repeats]\nleast = 2\n");
        assertEquals(2, run.code());
        assertTrue(
                run.errors().contains("repeats.least = 2: it must be a whole number from 3 to 20"),
                run.errors());
    }
}
