package catchbay.app;

import picocli.CommandLine.Option;

import java.nio.file.Path;
import java.util.Optional;

/** Which bay a command is for, and which of its scales. */
final class ChosenBay {

    @Option(
            names = {"-s", "--settings"},
            paramLabel = "FILE",
            defaultValue = "bay.toml",
            description = "The bay's settings (default: bay.toml here).")
    private Path settings;

    @Option(
            names = "--scale",
            paramLabel = "NAME",
            description = "Which scale; needed where the settings have several.")
    private Optional<String> scale;

    /** Filled by picocli. */
    ChosenBay() {}

    /** Its settings, with the scale chosen. */
    Settings settings() {
        Settings bay = Settings.read(settings);
        bay.chooseScale(scale);
        return bay;
    }
}
