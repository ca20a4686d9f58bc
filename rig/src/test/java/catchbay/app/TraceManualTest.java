package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.ResultText;
import catchbay.record.TraceReader;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What the manual of the trace shows is so. */
final class TraceManualTest {

    private static final String FENCE = "```jsonl\n";

    private static List<String> blocks() throws IOException {
        String manual = Files.readString(Path.of("../src/docs/trace-format.md"));
        List<String> blocks = new ArrayList<>();
        int at = manual.indexOf(FENCE);
        while (at >= 0) {
            int end = manual.indexOf("```", at + FENCE.length());
            blocks.add(manual.substring(at + FENCE.length(), end));
            at = manual.indexOf(FENCE, end);
        }
        return blocks;
    }

    /**
     * The arithmetic stands in the manual: 7500 / 1000, 120.2 - 112.3, 15 x 20 x 90 / 3600, 600 x
     * 7.9 / 7.5.
     */
    @Test
    void theWorkedExampleComesOutAsItSays(@TempDir Path folder) throws IOException {
        Path trace = Files.writeString(folder.resolve("example.jsonl"), blocks().getFirst());
        Replay.Result replayed = Replay.of(trace);
        JsonNode result =
                new ObjectMapper()
                        .readTree(
                                ResultText.of(
                                        replayed.provenance(),
                                        replayed.setup(),
                                        replayed.outcome()));

        assertEquals("measured", result.get("outcome").asText());
        assertEquals("unsealed", result.get("trace").asText());
        assertEquals(false, result.get("accepted").asBoolean());
        assertEquals(7.5, result.get("measured_us_gal").asDouble(), 1e-5);
        assertEquals(7.9, result.get("reported_us_gal").asDouble(), 1e-5);
        assertEquals(7.5, result.get("asked_us_gal").asDouble(), 1e-5);
        assertEquals(100 * (7.9 - 7.5) / 7.5, result.get("meter_error_percent").asDouble(), 1e-4);
        assertEquals(632.0, result.get("new_constant").asDouble());
        String manual = Files.readString(Path.of("../src/docs/trace-format.md"));
        assertSays(manual, "good to %.3f.", result.get("measured_expanded_us_gal"));
        assertSays(manual, "good to %.2f %%,", result.get("meter_error_expanded_percent"));
    }

    private static void assertSays(String manual, String format, JsonNode value) {
        String words = String.format(Locale.ROOT, format, value.asDouble());
        assertTrue(manual.contains(words), words);
    }

    @Test
    void everyExampleLineIsRead() throws IOException {
        List<String> blocks = blocks();
        String header = blocks.getFirst().lines().findFirst().orElseThrow();
        int lines = 0;
        for (String block : blocks.subList(1, blocks.size())) {
            for (String line : block.lines().toList()) {
                byte[] trace = (header + "\n" + line + "\n").getBytes(StandardCharsets.UTF_8);
                try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), line)) {
                    assertTrue(reader.next().isPresent(), line);
                    lines++;
                }
            }
        }
        assertEquals(34, lines);
    }
}
