package catchbay.app;

import picocli.CommandLine.Option;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** Where the records are, as a command line says it: at most one of its options may be given. */
final class RecordsPlace {

    private static final Path USUAL = Path.of("bay.toml");

    @Option(
            names = {"-s", "--settings"},
            paramLabel = "FILE",
            description =
                    "The bay's settings, which name its data folder (default: bay.toml here).")
    private Path settings;

    @Option(names = "--data", paramLabel = "FOLDER", description = "The data folder itself.")
    private Path data;

    /** Filled by picocli. */
    RecordsPlace() {}

    /** The data folder. */
    Path data() {
        return data != null ? data : Settings.read(settings == null ? USUAL : settings).data();
    }

    /** The data folder, where the command line or the settings say it. */
    Optional<Path> knownData() {
        return data != null ? Optional.of(data) : settings().map(Settings::data);
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
