package catchbay.hardware.relay;

import catchbay.app.Settings;
import catchbay.run.RunSetup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Optional;

/** Setups of the example's bay, which has a diverter with a switch at mid-travel, and a drain. */
final class Bays {

    private Bays() {}

    /** With liquid that this makes flow: operator, supply, ground-speed. */
    static RunSetup flowBy(String means) throws IOException {
        return with("flow_by = \"ground-speed\"", "flow_by = \"" + means + "\"");
    }

    /** With the diverter's end switches. */
    static RunSetup ends() throws IOException {
        return with("feedback = \"trigger\"", "feedback = \"ends\"");
    }

    private static RunSetup with(String line, String other) throws IOException {
        Path example = Path.of("../src/examples/full-bay.toml");
        String text = Files.readString(example);
        if (!text.contains(line)) {
            throw new AssertionError(example + " has no line " + line);
        }
        return Settings.of("bay.toml", Path.of("."), text.replace(line, other))
                .setup(Optional.of("T-12"), LocalDate.of(2026, 2, 1));
    }
}
