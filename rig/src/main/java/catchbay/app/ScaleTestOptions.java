package catchbay.app;

import picocli.CommandLine.Option;

import java.nio.file.Path;
import java.util.Optional;

/** What the commands that try a scale have in common. */
final class ScaleTestOptions {

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

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for it; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    /** Filled by picocli. */
    ScaleTestOptions() {}

    ScaleTesting testing() {
        Settings bay = Settings.read(settings);
        bay.chooseScale(scale);
        return new ScaleTesting(bay, by);
    }

    int print(ScaleTesting.Result result) {
        return ScaleTestWords.print(json, result);
    }
}
