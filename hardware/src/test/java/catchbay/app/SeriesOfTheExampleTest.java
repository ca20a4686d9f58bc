package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;

/** A series of repeats on the example of a whole bay, whose truck over-reads by a known share. */
final class SeriesOfTheExampleTest {

    @TempDir Path folder;

    @Test
    void theMeanFindsWhatTheTruckOverReads() throws Exception {
        String example = Files.readString(Path.of("../src/examples/full-bay.toml"));
        String virtual = example.replace("provider = \"system\"", "provider = \"virtual\"");
        assertTrue(virtual.contains("truck_over_reading_percent = 3.5\n"));
        String bay = Files.writeString(folder.resolve("bay.toml"), virtual).toString();
        CommandLineRun run =
                CommandLineRun.of("catch", "-s", bay, "-t", "T-12", "--repeats", "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode told = new ObjectMapper().readTree(run.output());
        assertEquals("simulated", told.get("origin").asText());
        assertEquals("enough", told.get("end").asText(), run.errors());
        int counted = told.get("counted_runs").asInt();
        assertTrue(counted >= 3, run.output());
        assertEquals(counted, told.get("runs").size(), run.errors());
        assertEquals(
                3.5,
                told.get("meter_error_percent").asDouble(),
                told.get("meter_error_expanded_percent").asDouble());
        assertEquals(0, told.get("empty_moved_kg").asDouble(), 0.05, "its tank is drained");
        String last = told.get("runs").get(counted - 1).get("run").asText();
        String trace =
                Files.list(folder).filter(Files::isDirectory).findFirst().orElseThrow()
                        + "/traces/"
                        + last
                        + ".jsonl.zst";
        assertEquals(0, CommandLineRun.of("replay", trace).code(), trace);
    }
}
