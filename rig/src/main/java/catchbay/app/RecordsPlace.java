package catchbay.app;

import picocli.CommandLine.Option;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Where the records are, as a command line says it. A data folder that it names is taken in place
 * of the settings' one; by itself it asks for no settings.
 */
final class RecordsPlace {

    private static final Path USUAL = Path.of("bay.toml");

    @Option(
            names = {"-s", "--settings"},
            paramLabel = "FILE",
            description =
                    "The bay's settings, which name its data folder (default: bay.toml here).")
    private Path settings;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description =
                    "The data folder, in place of the settings' one; alone it needs no settings.")
    private Path data;

    /** Filled by picocli. */
    RecordsPlace() {}

    /** The data folder. Settings that are named are read in any case, so that a typo shows. */
    Path data() {
        return knownData().orElseGet(() -> Settings.read(USUAL).data());
    }

    /** The data folder, where the command line or the settings say it. */
    Optional<Path> knownData() {
        Optional<Path> ofSettings = settings().map(Settings::data);
        return data != null ? Optional.of(data) : ofSettings;
    }

    /** The settings, where the command line names them or they lie here. */
    Optional<Settings> settings() {
        if (settings != null) {
            return Optional.of(Settings.read(settings));
        }
        return data == null && Files.exists(USUAL)
                ? Optional.of(Settings.read(USUAL))
                : Optional.empty();
    }
}
