package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;

/** The questions for a plan in a process of its own, which a signal can end. */
@Timeout(300)
final class PlanQuestionsProcessTest {

    private static final Path BAY =
            Path.of("../src/examples/full-bay.toml").toAbsolutePath().normalize();

    @TempDir Path folder;

    /** SIGTERM here; Ctrl-C takes the same way through the program. */
    @Test
    void aSignalAmongTheQuestionsEndsThemInOneSentence() throws Exception {
        try (Started asking =
                Started.in(folder, "plan", "--ask", "new.toml", "-s", BAY.toString())) {
            asking.type("T-99");
            asking.awaitError("'T-99' is none of T-12, T-31");
            asking.terminate();
            Started.Ended ended = asking.ended();
            assertEquals(143, ended.code(), ended::toString);
            assertEquals(
                    "catchbay: The questions were ended by Ctrl-C or a signal, so nothing was"
                            + " written.",
                    ended.errors().getLast());
            assertTrue(Files.notExists(folder.resolve("new.toml")));
        }
    }
}
