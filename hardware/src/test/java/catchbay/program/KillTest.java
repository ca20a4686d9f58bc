package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.program.Kills.Killed;
import catchbay.program.Kills.Phase;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * The program is killed 32 times, on two data folders at a time; {@code src/kills} does it more
 * often.
 */
@Timeout(300)
final class KillTest {

    private static final int KILLS = 16;

    @TempDir Path folder;

    @Test
    void afterEachKillThereIsOldOrNew() throws Exception {
        List<Killed> killed = new ArrayList<>();
        try (ExecutorService both = Executors.newFixedThreadPool(2)) {
            for (Future<List<Killed>> each : both.invokeAll(List.of(kills(1), kills(2)))) {
                killed.addAll(each.get());
            }
        }
        assertEquals(2 * KILLS, killed.size());
        long phases = killed.stream().map(Killed::phase).distinct().count();
        assertTrue(phases >= 3, () -> "too few phases: " + killed);
        assertTrue(
                killed.stream().anyMatch(kill -> kill.phase() == Phase.CATCHING), killed::toString);
    }

    private Callable<List<Killed>> kills(long seed) {
        return () -> {
            Kills kills = new Kills(Files.createDirectories(folder.resolve("bay" + seed)), seed);
            List<Killed> killed = new ArrayList<>();
            while (killed.size() < KILLS) {
                killed.add(kills.next());
            }
            kills.end();
            return killed;
        };
    }
}
