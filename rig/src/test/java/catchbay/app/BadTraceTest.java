package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * What is wrong with a trace is said in one sentence with what to do, and nothing comes of it:
 * through the command {@code replay}, as a person meets it. Exit code 2: the file is refused; 1: it
 * was evaluated and gives no result.
 */
final class BadTraceTest {

    private static final String SETUP =
            """
            {"catchbay_trace":1,"turns":"implied","setup":{"bay":{"day":"2026-01-15"},\
            "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[\
            {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},{"flow_us_gal_per_min":30,"pulses_per_us_gal":1000}]},\
            "diverter":{"feedback":"trigger"},"truck":{"asset":"T-12","constant_pulses_per_us_gal":600},\
            "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},"reported":{"source":"pulses"},\
            "catch":{"seconds":20,"flow_by":"supply","purge_seconds":5}}}
            """;

    private static final String REFERENCE =
            "{\"at\":1000000,\"train\":\"reference\",\"first_seq\":1,\"count\":4000,\"hertz\":100}\n";
    private static final String TRUCK =
            "{\"at\":2000000,\"train\":\"truck\",\"first_seq\":1,\"count\":2520,\"hertz\":63}\n";
    private static final String OPENED =
            "{\"at\":11000000000,\"contact\":\"diverter-trigger\",\"active\":true}\n";
    private static final String CLOSED =
            "{\"at\":31000000000,\"contact\":\"diverter-trigger\",\"active\":false}\n";

    /** A trace by hand in which nothing is wrong; each test spoils one thing. */
    private static final String GOOD =
            SETUP
                    + "{\"at\":0,\"contact\":\"diverter-trigger\",\"active\":false}\n"
                    + "{\"at\":0,\"checklist\":\"M. Example\"}\n"
                    + REFERENCE
                    + TRUCK
                    + OPENED
                    + CLOSED;

    private static final String SCALE_ONLY =
            GOOD.replaceFirst(
                            "\"reference\".*?]},\"diverter\":\\{\"feedback\":\"trigger\"},",
                            "\"scale\":{\"serial\":\"S-3\",\"date\":\"2025-11-03\",\"expiry\":\"2026-11-02\","
                                + "\"unit\":\"kg\",\"resolution_kg\":0.01,\"capacity_kg\":300},"
                                + "\"liquid\":{\"density_kg_per_m3\":1180},")
                    .replace("\"reported\":{\"source\":\"pulses\"},", "");

    @TempDir Path folder;

    private CommandLineRun replay(byte[] trace, String... options) throws Exception {
        Path file = Files.write(folder.resolve("mine.jsonl"), trace);
        List<String> args = new ArrayList<>(List.of("replay", file.toString()));
        args.addAll(List.of(options));
        CommandLineRun run = CommandLineRun.of(args.toArray(String[]::new));
        try (var files = Files.list(folder)) {
            assertEquals(List.of(file), files.toList(), "replay leaves nothing behind");
        }
        return run;
    }

    private static String spoilt(String trace, String part, String instead) {
        assertTrue(trace.contains(part), part);
        return trace.replace(part, instead);
    }

    /** The file is refused: one line, which says this. */
    private void assertRefused(String sentence, String trace) throws Exception {
        assertRefused(sentence, trace.getBytes(StandardCharsets.UTF_8));
    }

    private void assertRefused(String sentence, byte[] trace) throws Exception {
        CommandLineRun run = replay(trace);
        assertEquals("catchbay: " + sentence + "\n", run.errors());
        assertEquals("", run.output());
        assertEquals(Exit.USAGE, run.code());
    }

    /** The trace is evaluated to no result, with this outcome and sentence. */
    private void assertNoResult(String outcome, String sentence, String trace) throws Exception {
        CommandLineRun run = replay(trace.getBytes(StandardCharsets.UTF_8), "--json");
        assertEquals("", run.errors());
        JsonNode result = new ObjectMapper().readTree(run.output());
        assertEquals(outcome, result.get("outcome").asText(), result.get("reason").asText());
        assertEquals(sentence, result.get("reason").asText());
        assertFalse(result.get("accepted").asBoolean());
        assertTrue(result.get("measured_us_gal").isNull());
        assertEquals(Exit.NO_RESULT, run.code());
    }

    /** The limit holds also where the line's end has been read with it. */
    @Test
    void aLineBeyondTheLimitIsRefusedWhereverItEnds() throws Exception {
        String name = "x".repeat(200_000);
        assertRefused(
                "mine.jsonl line 3 is longer than 131072 bytes; split its edges over several lines",
                spoilt(GOOD, "M. Example", name));
    }

    /** What a file says may not move the cursor, ring, or turn the writing round. */
    @Test
    void nothingOfATraceReachesTheTerminalButWhatPrints() throws Exception {
        String stop = "{\"at\":1000,\"stop\":\"\\u001b[31mBad\\n\\u0007\\u202eend\"}\n";
        String trace =
                spoilt(
                        GOOD,
                        "{\"at\":0,\"checklist\":\"M. Example\"}\n",
                        "{\"at\":0,\"checklist\":\"M. Example\"}\n" + stop);
        CommandLineRun run = replay(trace.getBytes(StandardCharsets.UTF_8));
        assertTrue(run.output().contains("Stopped by ?[31mBad???end"), run.output());
        assertTrue(
                run.output().codePoints().noneMatch(c -> c == 0x1B || c == 0x07 || c == 0x202E),
                run.output());
    }

    @Test
    void theGoodOneIsMeasured() throws Exception {
        CommandLineRun run = replay(GOOD.getBytes(StandardCharsets.UTF_8), "--json");
        JsonNode result = new ObjectMapper().readTree(run.output());
        assertEquals("measured", result.get("outcome").asText(), run.output());
        assertFalse(result.get("accepted").asBoolean(), "written by hand");
        assertEquals("unsealed", result.get("trace").asText());
        // 20 s x 100 pulses/s / 1000.
        assertEquals(2.0, result.get("measured_us_gal").asDouble(), 1e-5);
        assertEquals(Exit.DONE, run.code());
    }

    @Test
    void numbersThatAreNotFinite() throws Exception {
        assertRefused(
                "mine.jsonl line 4: hertz = inf: it must be a finite number",
                spoilt(GOOD, "\"hertz\":100", "\"hertz\":1e999"));
        assertRefused(
                "mine.jsonl line 4 is not JSON: it has NaN or Infinity where a number belongs;"
                        + " correct it",
                spoilt(GOOD, "\"hertz\":100", "\"hertz\":NaN"));
    }

    @Test
    void negativeNumbers() throws Exception {
        assertRefused(
                "mine.jsonl line 2: at = -1: it must be a whole number from 0 to"
                        + " 4611686018427387903",
                spoilt(GOOD, "{\"at\":0,\"contact\"", "{\"at\":-1,\"contact\""));
        assertRefused(
                "mine.jsonl line 1: setup.asked.speed_mph = -20: speed must be finite and >= 0 mph,"
                        + " was -20.0",
                spoilt(GOOD, "\"speed_mph\":20", "\"speed_mph\":-20"));
        assertRefused(
                "mine.jsonl line 1: setup.catch.seconds = -20: it must be above 0 and at most 86400"
                        + " seconds",
                spoilt(GOOD, "\"seconds\":20", "\"seconds\":-20"));
    }

    @Test
    void nothingFlows() throws Exception {
        assertNoResult(
                "refused",
                "The asked flow of 0 US gal/min lies outside the reference's certified 1 US gal/min"
                    + " to 30 US gal/min; use another reference, or change asked rate or speed. The"
                    + " asked rate is 0, so nothing would flow; set the rate that the truck is set"
                    + " to.",
                spoilt(
                        GOOD,
                        "\"rate_us_gal_per_lane_mile\":15",
                        "\"rate_us_gal_per_lane_mile\":0"));
        assertNoResult(
                "not_settled",
                "Not settled within 60 s: too few pulses came to judge the flow; check the pump,"
                        + " the coupler and the meter's wire.",
                SETUP + "{\"at\":0,\"checklist\":\"M. Example\"}\n" + TRUCK);
    }

    @Test
    void anEmptyTrace() throws Exception {
        assertRefused(
                "mine.jsonl is empty; a trace begins with a line that has catchbay_trace and setup",
                "");
        assertRefused("mine.jsonl line 1 is empty; delete it", "\n");
        assertRefused(
                "the trace says nothing after its first line; add what happened, line by line",
                SETUP);
    }

    /** The written one too: cut anywhere it is refused, or evaluated and not accepted. */
    @Test
    void aTraceCutAnywhere() throws Exception {
        byte[] whole = GOOD.getBytes(StandardCharsets.UTF_8);
        for (int length = SETUP.length() + 1; length < whole.length; length++) {
            CommandLineRun run = replay(java.util.Arrays.copyOf(whole, length), "--json");
            boolean refused =
                    run.code() == Exit.USAGE
                            && run.output().isEmpty()
                            && run.errors().lines().count() == 1;
            boolean evaluated =
                    run.errors().isEmpty() && run.output().contains("\"accepted\":false");
            assertTrue(refused || evaluated, length + " bytes: " + run);
        }
        assertRefused(
                "mine.jsonl line 4 breaks off before its end; delete it to evaluate what came"
                        + " before",
                java.util.Arrays.copyOf(whole, GOOD.indexOf("\"train\":\"reference\"")));
    }

    @Test
    void edgesOutOfOrder() throws Exception {
        assertNoResult(
                "window_unusable",
                "The reference meter cannot be evaluated: edges came out of order; the trace or its"
                        + " door is at fault.",
                spoilt(
                        GOOD,
                        REFERENCE,
                        train(1, 0, 1999)
                                + "{\"at\":20000000000,\"edges\":\"reference\",\"first_seq\":2000,"
                                + "\"gaps_ns\":[10000000,-5000000,15000000]}\n"
                                + train(2004, 20_030_000_000L, 1900)));
    }

    @Test
    void numbersThatComeTwice() throws Exception {
        CommandLineRun run =
                replay(
                        spoilt(
                                        GOOD,
                                        REFERENCE,
                                        train(1, 0, 2000) + train(2000, 20_000_000_000L, 2000))
                                .getBytes(StandardCharsets.UTF_8),
                        "--json");
        JsonNode result = new ObjectMapper().readTree(run.output());
        assertEquals(Exit.NO_RESULT, run.code(), run.output());
        assertTrue(
                List.of("edges_lost", "window_unusable").contains(result.get("outcome").asText()),
                run.output());
    }

    @Test
    void numbersThatAreMissing() throws Exception {
        CommandLineRun run =
                replay(
                        spoilt(
                                        GOOD,
                                        REFERENCE,
                                        train(1, 0, 2000) + train(2003, 20_020_000_000L, 2000))
                                .getBytes(StandardCharsets.UTF_8),
                        "--json");
        JsonNode result = new ObjectMapper().readTree(run.output());
        assertEquals("edges_lost", result.get("outcome").asText(), run.output());
        assertTrue(
                result.get("reason").asText().contains("(2 numbers missing inside the window)"),
                run.output());
    }

    /** An even train of the reference at 100 pulses/s. */
    private static String train(long first, long at, int count) {
        return "{\"at\":"
                + at
                + ",\"train\":\"reference\",\"first_seq\":"
                + first
                + ",\"count\":"
                + count
                + ",\"hertz\":100}\n";
    }

    @Test
    void aFlyingWindowWithoutItsEdges() throws Exception {
        // The truck's pulses are there, the reference's end before the window closes.
        assertNoResult(
                "flow_stopped",
                "The reference meter gave no pulse for 2.0 s during the catch; check the truck's"
                        + " pump and tank, the coupler and the meter's wire.",
                spoilt(GOOD, "\"count\":4000,\"hertz\":100", "\"count\":1500,\"hertz\":100"));
        // And the other way round.
        CommandLineRun run =
                replay(
                        spoilt(GOOD, "\"count\":2520,\"hertz\":63", "\"count\":1900,\"hertz\":63")
                                .getBytes(StandardCharsets.UTF_8),
                        "--json");
        JsonNode result = new ObjectMapper().readTree(run.output());
        assertEquals("window_unusable", result.get("outcome").asText(), run.output());
        assertTrue(
                result.get("reason").asText().startsWith("The truck meter cannot be evaluated: "),
                run.output());
    }

    @Test
    void aCurveOfOnePointOrUnsorted() throws Exception {
        assertRefused(
                "mine.jsonl line 1: setup.reference: a reference curve needs at least two points,"
                        + " has 1; enter all points of the certificate",
                spoilt(GOOD, ",{\"flow_us_gal_per_min\":30,\"pulses_per_us_gal\":1000}", ""));
        CommandLineRun run =
                replay(
                        spoilt(GOOD, "\"flow_us_gal_per_min\":30", "\"flow_us_gal_per_min\":0.5")
                                .getBytes(StandardCharsets.UTF_8));
        assertTrue(
                run.errors()
                        .startsWith(
                                "catchbay: mine.jsonl line 1: setup.reference: points of the"
                                        + " reference curve must rise in flow, but point 2 ("),
                run.errors());
        assertEquals(Exit.USAGE, run.code());
    }

    @Test
    void aCertificateThatIsNotValidOnTheDay() throws Exception {
        assertNoResult(
                "refused",
                "reference: certificate of R-7 expired on 2026-01-14 and the run is on 2026-01-15;"
                        + " have it recalibrated and enter the new certificate.",
                spoilt(GOOD, "\"expiry\":\"2026-11-02\"", "\"expiry\":\"2026-01-14\""));
        assertRefused(
                "mine.jsonl line 1: setup.reference: certificate of R-7 expires on 2025-11-02,"
                        + " before its date 2025-11-03",
                spoilt(GOOD, "\"expiry\":\"2026-11-02\"", "\"expiry\":\"2025-11-02\""));
        assertRefused(
                "mine.jsonl line 1: setup.bay.day is missing; add it as a day such as 2026-01-31",
                spoilt(GOOD, "\"day\":\"2026-01-15\"", ""));
    }

    @Test
    void aDensityThatIsMissing() throws Exception {
        assertRefused(
                "mine.jsonl line 1: setup.liquid.density_kg_per_m3 is missing; add it as a number,"
                        + " or in another unit as density_lb_per_us_gal",
                spoilt(SCALE_ONLY, "\"density_kg_per_m3\":1180", ""));
        assertRefused(
                "mine.jsonl line 1: setup.liquid.density_kg_per_m3 = 9.85: it must be from 500 to"
                        + " 2500 kg/m3",
                spoilt(SCALE_ONLY, "\"density_kg_per_m3\":1180", "\"density_kg_per_m3\":9.85"));
    }

    @Test
    void aUnitThatIsMissing() throws Exception {
        assertRefused(
                "mine.jsonl line 1: setup.scale.unit is missing; add it",
                spoilt(SCALE_ONLY, "\"unit\":\"kg\",", ""));
        assertRefused(
                "mine.jsonl line 7: unit is missing; add it",
                spoilt(GOOD, CLOSED, "{\"at\":1,\"scale\":\"weight\",\"amount\":5}\n"));
        assertRefused(
                "mine.jsonl line 1: setup.asked.speed_mph is missing (speed may be meant); add it"
                    + " as a number, or in another unit as speed_km_per_h, speed_metres_per_second",
                spoilt(GOOD, "\"speed_mph\":20", "\"speed\":20"));
    }

    @Test
    void filesThatAreNoTrace() throws Exception {
        assertRefused(
                "mine.jsonl line 1 is not JSON: it cannot be read from column 7 on; correct it, one"
                        + " object a line",
                "{\"a\":1hello}\n");
        assertRefused(
                "mine.jsonl line 1 is not JSON: it has the key 'a' twice; delete one of them",
                "{\"a\":1,\"a\":2}\n");
        String beyond =
                "mine.jsonl line 1 is not JSON: it has a number of more than 64 digits, or more"
                        + " than 16 braces within each other, as no such line has; correct it";
        assertRefused(beyond, "{\"a\":" + "9".repeat(65) + "}\n");
        assertRefused(beyond, "{\"a\":" + "[".repeat(99) + "]".repeat(99) + "}\n");
        CommandLineRun bytes = replay(new byte[] {(byte) 0xff, 0, 1, 2, '\n'});
        assertEquals(Exit.USAGE, bytes.code());
        assertEquals(1, bytes.errors().lines().count(), bytes.errors());
        CommandLineRun missing =
                CommandLineRun.of("replay", folder.resolve("missing.jsonl").toString());
        assertEquals(
                "catchbay: there is no file "
                        + folder.resolve("missing.jsonl")
                        + "; give the path of a trace file\n",
                missing.errors());
        assertEquals(Exit.USAGE, missing.code());
        CommandLineRun none = CommandLineRun.of("replay");
        assertEquals(
                "catchbay: FILE is missing; give a trace: .jsonl, or compressed .jsonl.zst. See:"
                        + " catchbay replay --help\n",
                none.errors());
        assertEquals(Exit.USAGE, none.code());
    }

    @Test
    void theSentenceStandsOnThePageToo() throws Exception {
        CommandLineRun run = replay(spoilt(GOOD, REFERENCE, "").getBytes(StandardCharsets.UTF_8));
        assertTrue(run.output().contains("No result (diverter moved)."), run.output());
        assertTrue(run.output().contains("The diverter moved without a command"), run.output());
        assertEquals("", run.errors());
        assertEquals(Exit.NO_RESULT, run.code());
    }
}
