package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;

/** Whole catches with a scale that is asked for its registers, behind a real pseudo-terminal. */
@Timeout(300)
final class ModbusCatchProcessTest {

    private static final String SCALE =
            "sh src/catchbay stand-in scale --mode modbus --link ./scale";

    private static final Map<String, String> REGISTERS =
            Map.of(
                    "protocol = \"sma-poll\"",
                    """
                    protocol = "modbus"
                    register = 0
                    number = "int32"
                    factor = 0.01
                    unit = "kg"
                    state_register = 2
                    motion_bit = 0
                    fault_mask = 2
                    unit_register = 3
                    unit_value = 0
                    poll_hertz = 10\
                    """);

    @TempDir static Path folder;

    private static ScaleBench bench;

    @BeforeAll
    static void switchOn() throws Exception {
        bench = new ScaleBench(folder, SCALE, REGISTERS);
    }

    @AfterAll
    static void switchOff() {
        bench.close();
    }

    /** As in {@link CatchProcessTest}: buoyancy after OIML D 28, 231 cubic inches to the gallon. */
    @Test
    void whatTheRegistersShowedIsMeasured() throws Exception {
        double before = bench.kilograms();
        try (Started run = bench.catching(6)) {
            bench.startFlow(run);
            run.awaitError("? Stop the truck's liquid flow");
            bench.order("flow 0");
            run.type("");
            run.awaitError("? Nothing flows.");
            double caught = bench.kilograms() - before;
            run.type(String.format(Locale.ROOT, "%.2f", 1000 + caught / 4.25));
            JsonNode result = result(run.ended());
            double litres = caught * (1 - 1.2 / 8000) / (1 - 1.2 / 1180) / 1.18;
            assertEquals("measured", result.get("outcome").asText(), result::toString);
            assertEquals(
                    litres / 3.785411784,
                    result.get("measured_us_gal").asDouble(),
                    result.get("measured_expanded_us_gal").asDouble());
        }
    }

    @Test
    void aUnitChangedOnTheIndicatorVoidsTheCatch() throws Exception {
        try (Started run = bench.catching(30)) {
            bench.startFlow(run);
            bench.order("unit lb");
            JsonNode result = result(run.ended());
            assertEquals("scale_silent", result.get("outcome").asText(), result::toString);
            assertTrue(
                    result.get("reason")
                            .asText()
                            .contains("the register of the unit shows 1, and 0 is set for kg"),
                    result::toString);
        } finally {
            bench.order("unit kg");
            bench.order("flow 0");
        }
    }

    private static JsonNode result(Started.Ended ended) throws Exception {
        assertEquals(1, ended.output().size(), ended::toString);
        return new ObjectMapper().readTree(ended.output().getFirst());
    }
}
