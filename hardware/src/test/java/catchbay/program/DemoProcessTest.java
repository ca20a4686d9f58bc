package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The commands that need no bay, as processes. */
@Timeout(300)
final class DemoProcessTest {

    @TempDir Path folder;

    @Test
    void aDemonstrationIsRecordedAndReplaysByteForByte() throws Exception {
        Started.Ended demo = Started.ran(folder, "demo", "--json", "--data", "kept");
        assertEquals(0, demo.code(), demo.errors()::toString);
        assertEquals(
                1, demo.output().size(), "one JSON object and nothing else on standard output");
        JsonNode result = new ObjectMapper().readTree(demo.output().getFirst());
        assertEquals("measured", result.get("outcome").asText());
        assertTrue(result.get("accepted").asBoolean());
        assertEquals("simulated", result.get("origin").asText());
        String run = result.get("run").asText();
        assertTrue(
                demo.errors().getLast().endsWith("history --data kept"), demo.errors()::toString);

        Path trace = folder.resolve("kept/traces/" + run + ".jsonl.zst");
        assertTrue(Files.exists(trace), trace::toString);
        Started.Ended replay = Started.ran(folder, "replay", "--json", trace.toString());
        assertEquals(demo.output(), replay.output(), "the very same bytes");
        assertEquals(List.of(), replay.errors());
        assertEquals(0, replay.code());

        Started.Ended history = Started.ran(folder, "history", "--data", "kept", "--json");
        assertEquals(demo.output(), history.output(), "and so is the record");
        assertEquals(0, history.code());
    }

    @Test
    void theVersionNamesAllThatAResultDependsOn() throws Exception {
        Started.Ended version = Started.ran(folder, "version");
        assertEquals(0, version.code());
        assertEquals(1, version.output().size());
        assertTrue(
                version.output()
                        .getFirst()
                        .matches(
                                "Catchbay \\d+\\.\\d+\\.\\d+, method \\d+, trace format 1, Java"
                                        + " .+"),
                version.output().getFirst());
        assertEquals(List.of(), version.errors());
    }

    @Test
    void whatIsUnknownIsRefusedWithItsExitCode() throws Exception {
        Started.Ended unknown = Started.ran(folder, "cacth");
        assertEquals(2, unknown.code());
        assertEquals(
                List.of(
                        "catchbay: 'cacth' is neither a command nor an option here. See: catchbay"
                                + " --help"),
                unknown.errors());
        assertEquals(List.of(), unknown.output());
    }
}
