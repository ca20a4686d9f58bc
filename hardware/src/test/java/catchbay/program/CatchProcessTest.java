package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;

/**
 * Whole catches by the whole program: a process of its own, its scale another process behind a real
 * pseudo-terminal, its operator this test. The commands are those of docs/operating/first-catch.md.
 */
@Timeout(300)
@TestMethodOrder(MethodOrderer.MethodName.class)
final class CatchProcessTest {

    private static final Path PAGE = Path.of("../src/docs/operating/first-catch.md");
    private static final String SCALE = "sh src/catchbay stand-in scale --link ./scale";
    private static final String CATCH =
            "sh src/catchbay catch -s src/examples/scale-only.toml --seconds 6";
    private static final String HISTORY = "sh src/catchbay history -s src/examples/scale-only.toml";

    @TempDir static Path folder;

    private static ScaleBench bench;

    @BeforeAll
    static void switchOn() throws Exception {
        bench = new ScaleBench(folder, SCALE);
    }

    @AfterAll
    static void switchOff() {
        bench.close();
    }

    private static JsonNode result(Started.Ended ended) throws Exception {
        assertEquals(1, ended.output().size(), ended::toString);
        return new ObjectMapper().readTree(ended.output().getFirst());
    }

    /** The run ended void for one of these causes, outputs safe, recorded as not accepted. */
    private static void assertVoid(Started run, String... causes) throws Exception {
        Started.Ended ended = run.ended();
        bench.order("flow 0");
        JsonNode result = result(ended);
        assertTrue(List.of(causes).contains(result.get("outcome").asText()), ended::toString);
        assertFalse(result.get("accepted").asBoolean());
        assertTrue(result.get("measured_us_gal").isNull());
        assertEquals("sealed", result.get("trace").asText());
        assertEquals(1, ended.code());
        assertTrue(
                ended.errors().stream()
                        .anyMatch(line -> line.endsWith("ended, outputs in their safe state")),
                ended::toString);
        assertEquals(
                "? Stop the truck's liquid flow now, then press Enter.",
                ended.errors().stream()
                        .filter(line -> line.startsWith("?"))
                        .reduce("", (earlier, later) -> later),
                "the truck still pumps, so the operator is told");
        assertTrue(
                Files.exists(
                        folder.resolve(
                                "src/examples/catchbay-data/traces/"
                                        + result.get("run").asText()
                                        + ".jsonl.zst")));
    }

    /** Every command on the page is one that is run here, and what the page shows is what comes. */
    @Test
    void a1ThePageLeadsToAMeasuredCatch() throws Exception {
        List<String> page =
                Files.readString(PAGE)
                        .lines()
                        .filter(line -> line.startsWith("    "))
                        .map(String::strip)
                        .toList();
        // "demo" is run by DemoProcessTest, "mass 20" when the scale is switched on.
        assertEquals(
                List.of("sh src/catchbay demo", SCALE, CATCH, HISTORY),
                page.stream().filter(line -> line.startsWith("sh ")).toList());
        assertEquals(
                List.of("mass 20", "show"),
                page.stream()
                        .filter(line -> !line.startsWith("sh ") && !line.startsWith("? "))
                        .toList());

        double before = bench.kilograms();
        double caught;
        Started.Ended ended;
        try (Started run = bench.start(CATCH + " --json")) {
            bench.startFlow(run);
            run.awaitError("? Stop the truck's liquid flow");
            bench.order("flow 0");
            run.type("");
            run.awaitError("? Nothing flows.");
            caught = bench.kilograms() - before;
            run.type(String.format(Locale.ROOT, "%.2f", 1000 + caught / 4.25));
            ended = run.ended();
        }
        assertEquals(0, ended.code(), ended::toString);
        assertEquals(
                page.stream().filter(line -> line.startsWith("? ")).toList(),
                ended.errors().stream().filter(line -> line.startsWith("? ")).toList());
        assertMeasured(result(ended), caught);

        try (Started history = bench.start(HISTORY)) {
            Started.Ended listed = history.ended();
            assertEquals(0, listed.code(), listed::toString);
            assertTrue(listed.output().getLast().contains("T-12"), listed::toString);
            assertTrue(listed.output().getLast().contains("measured"), listed::toString);
            assertTrue(
                    listed.output().getLast().contains("simulated"),
                    "a pseudo-terminal is no scale");
        }
    }

    /**
     * What the program measured is what the scale truly took, in air of 1.2 kg/m3 against weights
     * of 8000 kg/m3 (buoyancy as in OIML D 28), at 1180 kg/m3; 231 cubic inches to the gallon.
     */
    private static void assertMeasured(JsonNode result, double caughtKilograms) {
        double litres = caughtKilograms * (1 - 1.2 / 8000) / (1 - 1.2 / 1180) / 1.18;
        double gallons = litres / 3.785411784;
        assertEquals("measured", result.get("outcome").asText());
        assertTrue(result.get("accepted").asBoolean());
        assertEquals(
                gallons,
                result.get("measured_us_gal").asDouble(),
                result.get("measured_expanded_us_gal").asDouble());
        assertTrue(
                result.get("measured_expanded_us_gal").asDouble() < 0.01 * gallons,
                result::toString);
        assertEquals(
                100 * (caughtKilograms / 4.25 / gallons - 1),
                result.get("meter_error_percent").asDouble(),
                result.get("meter_error_expanded_percent").asDouble());
        // The truck sprayed for six seconds and what a busy machine took to answer.
        assertTrue(result.get("asked_us_gal").asDouble() >= 2, result::toString);
    }

    @Test
    void a2AScaleThatIsUnpluggedVoidsTheCatch() throws Exception {
        try (Started run = bench.catching(30)) {
            bench.startFlow(run);
            bench.order("unplug");
            assertVoid(run, "scale_silent", "port_failed");
        } finally {
            bench.replug();
        }
    }

    @Test
    void a3AScaleThatChangesItsUnitVoidsTheCatch() throws Exception {
        try (Started run = bench.catching(30)) {
            bench.startFlow(run);
            bench.order("unit lb");
            assertVoid(run, "scale_changed");
        } finally {
            bench.order("unit kg");
        }
    }

    /** One data folder through a second start, a power cut and a shutdown. */
    @Test
    void a4OneHolderAndEveryEndIsFound() throws Exception {
        long interrupted = bench.traces("\\.interrupted\\.jsonl");
        try (Started run = bench.catching(30)) {
            run.awaitError("? Walk through the checklist;");
            Started.Ended second = Started.ran(folder, "catch", "-s", ScaleBench.SETTINGS);
            assertEquals(3, second.code(), second::toString);
            assertEquals(1, second.errors().size(), second::toString);
            assertTrue(
                    second.errors()
                            .getFirst()
                            .contains("is in use by process " + run.pid() + ", started 20"),
                    second::toString);
            run.type("M. Example");
            run.awaitError("? Nothing flows.");
            run.type("1000");
            run.awaitError("? Start the truck's liquid flow");
            run.type("");
            run.awaitError("catching for ");
            run.kill();
        }
        assertEquals(1, bench.traces("\\.open\\.jsonl"));
        Started.Ended cutOff = Started.ran(folder, "history", "-s", ScaleBench.SETTINGS);
        assertTrue(
                cutOff.output().stream().anyMatch(line -> line.contains("open or cut off")),
                cutOff::toString);

        try (Started run = bench.catching(30)) {
            String said = run.awaitError(" was interrupted");
            assertTrue(
                    said.matches(
                            "Run [0-9-]+-T-12(-\\d)? was interrupted; its trace is kept and does"
                                    + " not count\\."),
                    said);
            bench.startFlow(run);
            long asked = System.nanoTime();
            run.terminate();
            Started.Ended ended = run.ended();
            double seconds = (System.nanoTime() - asked) / 1e9;
            bench.order("flow 0");
            assertTrue(seconds < 2.5, "it took " + seconds + " s to end: " + ended);
            assertTrue(
                    ended.errors().stream()
                            .anyMatch(line -> line.endsWith("ended, outputs in their safe state")),
                    ended::toString);
            assertEquals(143, ended.code(), ended::toString);
            assertEquals(1, ended.output().size(), ended::toString);
            assertTrue(
                    ended.output().getFirst().matches("\\{.*\"outcome\":\"stopped\".*\\}"),
                    "the result must be whole: " + ended);
        }
        assertEquals(0, bench.traces("\\.open\\.jsonl"));
        assertEquals(interrupted + 1, bench.traces("\\.interrupted\\.jsonl"));

        Started.Ended history = Started.ran(folder, "history", "-s", ScaleBench.SETTINGS);
        assertEquals(0, history.code(), history::toString);
        assertTrue(history.output().get(1).contains(" stopped "), history::toString);
        assertTrue(history.output().getLast().contains(" interrupted"), history::toString);
    }
}
