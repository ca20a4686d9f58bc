package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;

/** The page about the stand-in bay knows every option and every fault. */
final class StandInBayPageTest {

    @Test
    void everyOptionAndFaultHasItsRow() throws IOException {
        String page = Files.readString(Path.of("..", "src", "docs", "stand-in-bay.md"));
        SettingsOf section = new SettingsOf(Map.of());
        RunSetup setup = Setups.ordinary(1).setup();
        OptionSheet.read(section, setup, setup.asked().speed());
        for (String key : section.asked()) {
            assertTrue(page.contains("`" + key + "`"), "option " + key);
        }
        for (FaultKind kind : FaultKind.values()) {
            assertTrue(page.contains("| `" + kind.key() + "` |"), "fault " + kind.key());
        }
    }
}
