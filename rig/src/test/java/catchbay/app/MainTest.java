package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** What a person tries first on a program that is new to him. */
final class MainTest {

    @Test
    void helpAndVersionAreFoundByEveryName() {
        String usage = CommandLineRun.of().output();
        assertTrue(usage.startsWith("Usage: catchbay"), usage);
        assertEquals(usage, CommandLineRun.of("help").output());
        assertEquals(usage, CommandLineRun.of("--help").output());
        assertEquals(
                CommandLineRun.of("catch", "--help").output(),
                CommandLineRun.of("help", "catch").output());
        String version = CommandLineRun.of("version").output();
        assertTrue(version.startsWith("Catchbay "), version);
        assertEquals(version, CommandLineRun.of("--version").output());
    }

    @Test
    void whatIsNoCommandIsRefusedInOneSentence() {
        CommandLineRun unknown = CommandLineRun.of("help", "nothing");
        assertEquals(2, unknown.code());
        assertEquals(
                "catchbay: there is no command 'nothing'. See: catchbay --help\n",
                unknown.errors());
    }

    @Test
    void whatIsWrongWithALineIsSaid() {
        said("hunt middle", "'middle' is no end of a truck's range; say low or high.");
        said("hunt", "low|high is missing; give the end of the truck's range");
        said("plan", "PLAN is missing; give the plan (.toml).");
        said("sweep", "PLAN is missing; give the plan (.toml), or --resume.");
        said("sweep p.toml --resume x", "--resume x and PLAN exclude each other; give one");
        said("history --sweeps --hunts", "--sweeps and --hunts exclude each other; give one");
        said("history -s a --hunts --sweeps", "--hunts and --sweeps exclude each other; give");
    }

    private static void said(String line, String sentence) {
        CommandLineRun run = CommandLineRun.of(line.split(" "));
        assertEquals(2, run.code(), line);
        assertEquals(1, run.errors().lines().count(), run.errors());
        assertTrue(run.errors().startsWith("catchbay: " + sentence), run.errors());
    }
}
