package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** The example's plan on the example's bay, as the manual says it is called. */
final class PlanOfTheExampleTest {

    private static final String BAY = "../src/examples/full-bay.toml";

    @TempDir Path folder;

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

    private static CommandLineRun asking(Path file, String bay, String answers) {
        InputStream before = System.in;
        try {
            System.setIn(new ByteArrayInputStream(answers.getBytes(StandardCharsets.UTF_8)));
            return CommandLineRun.of("plan", "--ask", file.toString(), "-s", bay, "--json");
        } finally {
            System.setIn(before);
        }
    }

    @Test
    void askedForAndThenJudged() throws Exception {
        Path file = folder.resolve("new.toml");
        CommandLineRun run = asking(file, BAY, "\n0.6\n\nflows\n5 18 60\n" + "\n".repeat(8));
        assertEquals(0, run.code(), run.errors() + run.output());
        JsonNode points = new ObjectMapper().readTree(run.output()).get("points");
        assertEquals("small", points.get(0).get("measured_by").asText());
        assertEquals("large", points.get(2).get("measured_by").asText());
        String written = Files.readString(file);
        CommandLineRun again = asking(file, BAY, "\n".repeat(20));
        assertEquals(2, again.code());
        assertTrue(again.errors().contains("is there already and is not written over"));
        assertEquals(written, Files.readString(file));
    }

    @Test
    void inputThatEndsLeavesNothing() {
        Path file = folder.resolve("new.toml");
        CommandLineRun run = asking(file, BAY, "");
        assertEquals(2, run.code());
        assertTrue(run.errors().contains("The answers ended before the plan was whole"));
        assertTrue(Files.notExists(file));
        CommandLineRun nowhere = asking(folder.resolve("none/new.toml"), BAY, "\n".repeat(20));
        assertEquals(2, nowhere.code());
        assertTrue(nowhere.errors().contains("There is no folder"), nowhere.errors());
    }

    /** Once the bay has a data folder, what was tried of the scale there is looked up. */
    @Test
    void aScaleThatIsNotCheckedCannotStart() throws Exception {
        String line = "in_place = true\n";
        String example = Files.readString(Path.of(BAY));
        assertTrue(example.contains(line));
        Path bay = folder.resolve("bay.toml");
        Files.writeString(bay, example.replace(line, line + "weights_within_days = 30\n"));
        String plan = "../src/examples/flow-range.plan.toml";
        CommandLineRun unknown = CommandLineRun.of("plan", plan, "-s", bay.toString());
        assertEquals(0, unknown.code(), unknown.errors() + unknown.output());
        Files.createDirectories(folder.resolve("catchbay-data"));
        CommandLineRun known = CommandLineRun.of("plan", plan, "-s", bay.toString());
        assertEquals(1, known.code(), known.errors() + known.output());
        assertTrue(known.output().contains("CANNOT START"), known.output());
        assertTrue(known.output().contains("catchbay weights"), known.output());
    }
}
