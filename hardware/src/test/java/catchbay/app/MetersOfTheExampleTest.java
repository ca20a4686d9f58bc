package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import static java.nio.charset.StandardCharsets.UTF_8;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.github.luben.zstd.ZstdInputStream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** The example's two reference meters, each on whole catches of the stand-in bay. */
final class MetersOfTheExampleTest {

    @TempDir Path folder;

    private Path bay;

    @BeforeEach
    void inVirtualTime() throws IOException {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String line = "truck_pump_litres_per_min = 90 ";
        assertTrue(example.contains(line));
        String virtual =
                example.replace("provider = \"system\"", "provider = \"virtual\"")
                        .replace(line, "truck_pump_litres_per_min = 400 ");
        bay = Files.writeString(folder.resolve("bay.toml"), virtual);
    }

    private CommandLineRun caught(String mph, String... more) {
        List<String> words =
                new ArrayList<>(List.of("catch", "-s", bay.toString(), "-t", "T-12", "--mph", mph));
        words.addAll(List.of(more));
        return CommandLineRun.of(words.toArray(String[]::new));
    }

    private JsonNode setupOf(String run) throws IOException {
        try (var files = Files.walk(folder.resolve("catchbay-data"))) {
            Path trace =
                    files.filter(file -> file.getFileName().toString().startsWith(run))
                            .findFirst()
                            .orElseThrow();
            try (InputStream packed = Files.newInputStream(trace)) {
                var lines =
                        new BufferedReader(
                                new InputStreamReader(new ZstdInputStream(packed), UTF_8));
                return new ObjectMapper().readTree(lines.readLine()).get("setup");
            }
        }
    }

    private JsonNode measured(String mph, String... more) throws IOException {
        List<String> words = new ArrayList<>(List.of(more));
        words.add("--json");
        CommandLineRun run = caught(mph, words.toArray(String[]::new));
        assertEquals(0, run.code(), run.errors() + run.output());
        return new ObjectMapper().readTree(run.output());
    }

    private String serial(JsonNode result) throws IOException {
        return setupOf(result.get("run").asText()).get("reference").get("serial").asText();
    }

    /** At 15 gal on a lane-mile 20 mph are 5 gal/min and 200 mph are 50. */
    @Test
    void eachFlowIsMeasuredByTheMeterThatIsCertifiedThere() throws IOException {
        assertEquals("METER-1", serial(measured("20")));
        assertEquals("METER-2", serial(measured("200")));
    }

    /** Both are certified at 17.5 gal/min, the small one with less uncertainty. */
    @Test
    void bothMeasureAFlowInTheirOverlap() throws IOException {
        assertEquals("METER-1", serial(measured("70")));
        assertEquals("METER-2", serial(measured("70", "--reference", "large")));
    }

    @Test
    void aFlowOutsideOfAllIsRefusedBeforeAnythingMoves() {
        CommandLineRun run = caught("4");
        assertEquals(2, run.code(), run.output());
        assertTrue(
                run.errors()
                        .contains(
                                "No reference meter is certified at the asked 1 US gal/min: small"
                                        + " from 2 US gal/min to 20 US gal/min, large from 15 US"
                                        + " gal/min to 150 US gal/min"),
                run.errors());
        assertTrue(Files.notExists(folder.resolve("catchbay-data")));
    }
}
