package catchbay.app;

import picocli.CommandLine.Option;

import java.nio.file.Path;
import java.util.Optional;

/** Which bay a command is for, and which of its scales and reference meters. */
final class ChosenBay {

    @Option(
            names = {"-s", "--settings"},
            paramLabel = "FILE",
            defaultValue = "bay.toml",
            description = "The bay's settings (default: bay.toml here).")
    private Path settings;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description = "The data folder, in place of the settings' one.")
    private Optional<Path> data;

    @Option(
            names = "--scale",
            paramLabel = "NAME",
            description = "Which scale; needed where the settings have several.")
    private Optional<String> scale;

    @Option(
            names = "--reference",
            paramLabel = "NAME",
            description =
                    "Which of several reference meters. Without it: the one certified at the flow"
                            + " asked for, of several the one with the smallest uncertainty there.")
    private Optional<String> reference;

    /** Filled by picocli. */
    ChosenBay() {}

    /** Its settings, with scale and reference meter chosen. */
    Settings settings() {
        Settings bay = Settings.read(settings);
        data.ifPresent(
                folder -> bay.override("--data", "data", folder.toAbsolutePath().toString()));
        bay.chooseScale(scale);
        bay.chooseReference(reference);
        return bay;
    }
}
