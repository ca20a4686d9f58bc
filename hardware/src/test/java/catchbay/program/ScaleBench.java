package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;

/**
 * A folder to catch in, as a checkout is one: the example settings with shorter times, and a
 * stand-in scale, a process of its own on a real pseudo-terminal.
 */
final class ScaleBench implements AutoCloseable {

    static final String SETTINGS = "src/examples/scale-only.toml";
    static final double KILOGRAMS_PER_SECOND = 1.49;

    /**
     * What would only make a test wait; a scale that is slow on a busy machine is no fault of the
     * program.
     */
    private static final Map<String, String> SHORTER =
            Map.of(
                    "rest_seconds = 2 ", "rest_seconds = 0.5 ",
                    "silent_seconds = 2 ", "silent_seconds = 3 ",
                    "lag_seconds = 1 ", "lag_seconds = 0.2 ",
                    "drip_seconds = 3 ", "silence_seconds = 0.5\ndrip_seconds = 0.5 ");

    private final Path folder;
    private final Started scale;

    ScaleBench(Path folder, String commandLine) throws Exception {
        this(folder, commandLine, Map.of());
    }

    /**
     * @param others what else stands in the settings in place of what is in the example
     */
    ScaleBench(Path folder, String commandLine, Map<String, String> others) throws Exception {
        this.folder = folder;
        String text = Files.readString(Path.of("..", SETTINGS));
        Map<String, String> changes = new HashMap<>(SHORTER);
        changes.putAll(others);
        for (Map.Entry<String, String> change : changes.entrySet()) {
            assertTrue(text.contains(change.getKey()), change.getKey() + "is in the example");
            text = text.replace(change.getKey(), change.getValue());
        }
        Files.createDirectories(folder.resolve(SETTINGS).getParent());
        Files.writeString(folder.resolve(SETTINGS), text);
        scale = start(commandLine);
        scale.awaitOutput("ready ");
        order("mass 20");
    }

    /** A command line as the page has it; the start script is what StartScriptTest tests. */
    Started start(String commandLine) throws IOException {
        return start(Map.of(), commandLine);
    }

    /** The same with these variables in its environment. */
    Started start(Map<String, String> environment, String commandLine) throws IOException {
        String script = "sh src/catchbay ";
        assertTrue(commandLine.startsWith(script), commandLine);
        return Started.in(folder, environment, commandLine.substring(script.length()).split(" "));
    }

    Started catching(int seconds) throws IOException {
        return start("sh src/catchbay catch -s " + SETTINGS + " --json --seconds " + seconds);
    }

    /** Tells the scale something. */
    void order(String order) throws IOException {
        scale.type(order);
    }

    /** Answers until the flow is on; liquid runs. */
    void startFlow(Started run) throws Exception {
        run.awaitError("? Walk through the checklist;");
        run.type("M. Example");
        run.awaitError("? Nothing flows.");
        run.type("1000");
        run.awaitError("? Start the truck's liquid flow");
        order("flow " + KILOGRAMS_PER_SECOND);
        run.type("");
        run.awaitError("catching for ");
    }

    /** What truly lies on it, kg. */
    double kilograms() throws Exception {
        order("show");
        return Double.parseDouble(scale.awaitOutput("mass ").replaceAll("mass (.+) kg", "$1"));
    }

    /** Says that it is plugged in again. */
    void replug() throws Exception {
        order("replug");
        scale.awaitOutput("ready ");
    }

    /** The traces that have got so far, by the ending of their names. */
    long traces(String ending) throws IOException {
        try (var files = Files.list(folder.resolve("src/examples/catchbay-data/traces"))) {
            return files.filter(file ->
                            file.getFileName().toString().matches("[A-Za-z0-9_-]+" + ending))
                    .count();
        }
    }

    @Override
    public void close() {
        scale.close();
    }
}
