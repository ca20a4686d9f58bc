package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.ResultText;
import catchbay.run.RunMachine;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * Traces of every method version, kept for ever beside the result that their run gave. Under their
 * own method they must replay to it, byte for byte, and through the same states and commands (a
 * trace that does not is refused as damaged, so its result would differ); under a later one to what
 * that method has not changed.
 */
final class KeptTraceTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final String ARCHIVE = ".jsonl.zst";

    private static Path folder() throws URISyntaxException {
        return Path.of(KeptTraceTest.class.getResource("/catchbay/kept").toURI());
    }

    @TestFactory
    List<DynamicTest> everyKeptTraceReplaysToItsResult() throws IOException, URISyntaxException {
        List<Path> kept;
        try (Stream<Path> files = Files.walk(folder())) {
            kept = files.filter(file -> file.toString().endsWith(ARCHIVE)).sorted().toList();
        }
        assertTrue(kept.size() >= 3, "kept traces: " + kept);
        return kept.stream()
                .map(file ->
                        DynamicTest.dynamicTest(file.getFileName().toString(), () -> holds(file)))
                .toList();
    }

    private static void holds(Path trace) throws IOException {
        String name = trace.getFileName().toString().replace(ARCHIVE, ".json");
        String kept = Files.readString(trace.resolveSibling(name)).strip();
        Replay.Result result = Replay.of(trace);
        String now = ResultText.of(result.provenance(), result.setup(), result.outcome());
        if (JSON.readTree(kept).get("method_version").asInt() == RunMachine.METHOD_VERSION) {
            assertEquals(kept, now);
        } else {
            agrees(JSON.readTree(kept), JSON.readTree(now), result);
        }
    }

    /**
     * What no later method has changed: how the run ended, and its amounts and errors. Their
     * uncertainties were another matter under method 1.
     */
    private static void agrees(JsonNode kept, JsonNode now, Replay.Result result) {
        for (String key :
                List.of("run", "origin", "asset", "trace", "accepted", "outcome", "reason")) {
            assertEquals(kept.get(key), now.get(key), key);
        }
        for (String key :
                List.of(
                        "asked_us_gal",
                        "reported_us_gal",
                        "measured_us_gal",
                        "meter_error_percent",
                        "control_error_percent",
                        "application_error_percent",
                        "pulses_counted",
                        "pulses_interpolated",
                        "scale_net_kg",
                        "new_constant")) {
            assertEquals(kept.get(key), now.get(key), key);
        }
        ResultText.Recorded recorded = result.provenance().recorded().orElseThrow();
        assertEquals(kept.get("method_version").asInt(), recorded.methodVersion());
        assertEquals(kept.get("outcome").asText(), recorded.end());
        assertTrue(!recorded.changes().isBlank(), "what changed is said");
        assertEquals(kept.get("reason").asText(), recorded.reason());
        boolean judged = kept.get("method_version").asInt() >= RunMachine.JUDGED_SINCE;
        assertEquals(judged ? kept.get("verdict").isNull() : true, now.get("verdict").isNull());
    }
}
