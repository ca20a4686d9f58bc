package catchbay.app;

import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.Optional;

/** What the commands that try a scale have in common. */
final class ScaleTestOptions {

    @Mixin private ChosenBay chosen = new ChosenBay();

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
        return new ScaleTesting(chosen.settings(), by);
    }

    int print(ScaleTesting.Tried tried) {
        return ScaleTestWords.print(json, tried);
    }
}
