package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;

/** The example's plan on the example's bay, as the manual says it is called. */
final class PlanOfTheExampleTest {

    private static final String BAY = "../src/examples/full-bay.toml";

    @Test
    void canBeDone() throws Exception {
        CommandLineRun run =
                CommandLineRun.of(
                        "plan", "../src/examples/flow-range.plan.toml", "-s", BAY, "--json");
        assertEquals(0, run.code(), run.errors());
        JsonNode forecast = new ObjectMapper().readTree(run.output());
        assertTrue(forecast.get("can_start").booleanValue());
        assertEquals(4, forecast.get("points").size());
        // Four points, three catches each, up and down; and two to verify.
        assertEquals(26, forecast.get("catches").intValue());
        assertTrue(forecast.get("worst_percent").doubleValue() <= 0.35);
    }

    @Test
    void aPlanThatIsNone() {
        CommandLineRun run = CommandLineRun.of("plan", "no-such.toml", "-s", BAY);
        assertEquals(2, run.code());
        assertTrue(run.errors().contains("there is no file no-such.toml; give the plan with"));
    }
}
