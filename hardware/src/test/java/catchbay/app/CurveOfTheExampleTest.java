package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;

/**
 * The steps of docs/operating/truck-curve.md on the example of a whole bay, whose truck over-reads
 * by a known share.
 */
final class CurveOfTheExampleTest {

    private static final String OVER_READING = "truck_over_reading_percent = 3.5\n";

    @TempDir Path folder;

    private String bay(String truck, String control) throws Exception {
        String text =
                Files.readString(Path.of("../src/examples/full-bay.toml"))
                        .replace("provider = \"system\"", "provider = \"virtual\"")
                        .replaceFirst("control = \"closed\"", "control = \"" + control + "\"")
                        .replace(OVER_READING, OVER_READING + truck);
        assertTrue(text.contains(OVER_READING + truck) && text.contains(control), text);
        return Files.writeString(folder.resolve("bay.toml"), text).toString();
    }

    private static void catches(String bay, String... speeds) {
        for (String mph : speeds) {
            CommandLineRun run =
                    CommandLineRun.of("catch", "-s", bay, "-t", "T-12", "--mph", mph, "--json");
            assertEquals(0, run.code(), run.errors() + run.output());
        }
    }

    private static JsonNode curve(String bay) throws Exception {
        CommandLineRun run =
                CommandLineRun.of(
                        "curve", "T-12", "-s", bay, "--outlets-shut-by", "M. Example", "--json");
        assertEquals(0, run.code(), run.errors());
        return new ObjectMapper().readTree(run.output());
    }

    private static Set<String> findings(JsonNode told) {
        Set<String> keys = new TreeSet<>();
        told.get("findings").forEach(finding -> keys.add(finding.get("finding").asText()));
        return keys;
    }

    @Test
    void theStepsOfTheManual() throws Exception {
        String bay = bay("truck_low_flow_loss_percent = 0\n", "closed");
        catches(bay, "10", "20", "40", "40");
        JsonNode told = curve(bay);
        assertEquals("simulated", told.get("origin").asText());
        assertEquals(3, told.get("points").size());
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

    /**
     * A meter is one curve for all runs of one settings file, whatever speed a run is asked for: 10
     * mph are half of the nominal flow, where it loses near to half of the 12 %.
     */
    @Test
    void aMeterThatLosesPulsesAtLowFlowIsNamed() throws Exception {
        String bay = bay("truck_low_flow_loss_percent = 12\n", "open");
        catches(bay, "10", "20", "30", "30");
        JsonNode told = curve(bay);
        assertEquals(Set.of("worn_or_non_linear_meter"), findings(told), told::toString);
        double cutOff = 0.15;
        double least = 1 - 0.12 * 0.5 / (1 - cutOff);
        double low = told.get("points").get(0).get("right_constant").asDouble();
        double high = told.get("points").get(2).get("right_constant").asDouble();
        assertEquals(3000 * 1.035, high, 12);
        assertTrue(low / high > least - 0.01 && low / high < 0.945, () -> low + " to " + high);
    }

    /** Below 12 L/min, which are 12.7 mph at 15 gal on a mile: the catch at 10 mph is silent. */
    @Test
    void theFlowBelowWhichTheMeterStopsIsFound() throws Exception {
        String bay =
                bay(
                        "truck_low_flow_loss_percent = 0\ntruck_cut_off_litres_per_min = 12\n"
                                + "truck_open_loop_error_percent = 0\n",
                        "open");
        catches(bay, "10", "16", "20", "30");
        JsonNode told = curve(bay);
        assertTrue(findings(told).contains("low_flow_cut_off"), told::toString);
        assertEquals(2.5, told.get("silent_up_to_us_gal_per_min").asDouble(), 0.1);
        assertEquals(4, told.get("counted_from_us_gal_per_min").asDouble(), 0.1);
        assertFalse(told.get("catches").get(0).get("in_curve").asBoolean(), told::toString);
        assertEquals(3, told.get("points").size());
    }
}
