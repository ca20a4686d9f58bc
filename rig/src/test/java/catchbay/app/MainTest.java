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
}
