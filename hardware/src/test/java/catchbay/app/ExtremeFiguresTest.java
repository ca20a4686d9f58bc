package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A figure that was mistyped by many powers of ten ends in a sentence that can be read, whichever
 * it is of the example's: never in a failure, and never in rows of zeros.
 */
final class ExtremeFiguresTest {

    private static final Pattern FIGURE = Pattern.compile("[a-z] = (-?[0-9][0-9.]*)(?=[ ,\\n}])");

    private static final Pattern UNREADABLE =
            Pattern.compile("0{18}|[1-9][0-9]{18}|Infinity|-1e15 to|[0-9]E\\+?[0-9]");

    @TempDir private Path folder;

    private Path bay;
    private Path plan;

    @BeforeEach
    void write() throws IOException {
        bay = folder.resolve("bay.toml");
        plan = folder.resolve("plan.toml");
        Files.writeString(
                bay,
                example("full-bay.toml")
                        .replace("provider = \"system\"", "provider = \"virtual\"")
                        .replace("[curve]", "[guard]\nrun_seconds = 3600\n[curve]"));
        Files.writeString(
                plan,
                example("flow-range.plan.toml")
                                .replace(
                                        "longest_seconds = 180",
                                        "purge_us_gal = 2\nsettle_us_gal = 2")
                        + "[application]\nrate_us_gal_per_lane_mile = 15\nlanes = 1\n");
    }

    private static String example(String name) throws IOException {
        return Files.readString(Path.of("../src/examples", name));
    }

    private static CommandLineRun readable(String label, String... words) {
        CommandLineRun run = CommandLineRun.of(words);
        String all = run.output() + run.errors();
        assertTrue(run.code() >= 0 && run.code() <= 2, label + ": " + all);
        assertFalse(UNREADABLE.matcher(all).find(), label + ": " + all);
        if (run.code() == 2) {
            assertEquals(1, run.errors().lines().count(), label + ": " + all);
        }
        return run;
    }

    private void each(Path file, String value, String... words) throws IOException {
        String text = Files.readString(file);
        int tried = 0;
        Matcher matcher = FIGURE.matcher(text);
        while (matcher.find()) {
            int row = text.lastIndexOf('\n', matcher.start()) + 1;
            if (text.substring(row, matcher.start()).contains("#")) {
                continue;
            }
            Files.writeString(
                    file,
                    text.substring(0, matcher.start(1)) + value + text.substring(matcher.end(1)));
            String label = text.substring(row, matcher.end(1)) + " -> " + value;
            readable(label, words);
            tried++;
        }
        assertTrue(tried > 10, "figures of " + file);
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e300", "1e-300", "-1", "0", "nan", "-inf", "\"\"", ""})
    void ofTheSettings(String value) throws IOException {
        each(bay, value, "catch", "-t", "T-12", "-s", bay.toString());
    }

    @ParameterizedTest
    @ValueSource(strings = {"1e300", "1e9", "1e-300", "-1", "nan"})
    void ofAPlan(String value) throws IOException {
        each(plan, value, "plan", plan.toString(), "-s", bay.toString());
    }

    @Test
    void ofTheCommandLine() {
        String settings = bay.toString();
        for (String value : List.of("1e300", "-1e16", "1e999", "NaN")) {
            for (List<String> line :
                    List.of(
                            List.of("catch", "-t", "T-12", "-s", settings, "--mph"),
                            List.of("catch", "-t", "T-12", "-s", settings, "--seconds"),
                            List.of("leak", "-s", settings, "--flow"),
                            List.of("timing", "-s", settings, "--flow"),
                            List.of("density", "--liquid", "nacl", "--mass-fraction"),
                            List.of("density", "--liquid", "nacl", "--celsius"),
                            List.of("curve", "T-12", "-s", settings, "--shown-mph"))) {
                String[] words = new String[line.size() + 1];
                line.toArray(words);
                words[line.size()] = (line.getLast().equals("--shown-mph") ? "R=" : "") + value;
                CommandLineRun run = readable(line + value, words);
                assertEquals(2, run.code(), line + value);
                assertTrue(run.errors().contains(value), run.errors());
                assertTrue(run.errors().contains(line.getLast()), run.errors());
            }
        }
    }

    /** A sweep must not find out at its first catch what its plan could have told. */
    @Test
    void aPlanIsRefusedThatNoCatchCouldBeMadeBy() throws IOException {
        Files.writeString(
                plan, Files.readString(plan).replace("[tank]", "[tank]\ndrip_seconds = 3601"));
        CommandLineRun run = readable("drip", "plan", plan.toString(), "-s", bay.toString());
        assertTrue(run.errors().contains("it must be from 0 to 3600 seconds"), run.errors());
    }
}
