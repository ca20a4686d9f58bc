package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The steps of docs/operating/truck-curve.md on the example of a whole bay, whose truck over-reads
 * by a known share.
 */
final class CurveOfTheExampleTest {

    @TempDir Path folder;

    @Test
    void theStepsOfTheManual() throws Exception {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String virtual = example.replace("provider = \"system\"", "provider = \"virtual\"");
        String bay = Files.writeString(folder.resolve("bay.toml"), virtual).toString();
        for (String mph : new String[] {"10", "20", "40", "40"}) {
            CommandLineRun run =
                    CommandLineRun.of("catch", "-s", bay, "-t", "T-12", "--mph", mph, "--json");
            assertEquals(0, run.code(), run.errors());
        }
        CommandLineRun run =
                CommandLineRun.of(
                        "curve", "T-12", "-s", bay, "--outlets-shut-by", "M. Example", "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode told = new ObjectMapper().readTree(run.output());
        assertEquals("simulated", told.get("origin").asText());
        assertEquals(3, told.get("points").size());
        assertTrue(virtual.contains("truck_over_reading_percent = 3.5\n"));
        double truth = 3000 * 1.035;
        for (JsonNode point : told.get("points")) {
            assertEquals(
                    truth,
                    point.get("right_constant").asDouble(),
                    point.get("right_constant_expanded").asDouble(),
                    point::toString);
        }
        assertEquals("wrong_constant", told.get("findings").get(0).get("finding").asText());
        assertEquals(1, told.get("findings").size(), told::toString);
        assertEquals(told.get("best_constant"), told.get("new_constant"));
        assertEquals(2, told.get("mix").size());
    }
}
