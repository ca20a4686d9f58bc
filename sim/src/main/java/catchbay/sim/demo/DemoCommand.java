package catchbay.sim.demo;

import catchbay.app.CatchCommand;
import catchbay.app.Settings;

import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Runs one catch on the stand-in bay that the program brings along. */
@Command(
        name = "demo",
        description = {
            "Runs one timed catch test on a simulated bay. Needs no hardware.",
            "The truck is invented; two and a half minutes of its time take a moment.",
            "Measures, compares and records it like any catch, marked as simulated."
        })
final class DemoCommand implements Callable<Integer> {

    private static final String SETTINGS = "demo.toml";

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            defaultValue = "catchbay-demo",
            description = "Where traces and records go (default: catchbay-demo here).")
    private Path data;

    @Option(
            names = "--seed",
            paramLabel = "N",
            description = "From which all chance of the simulated bay follows.")
    private Optional<Long> seed;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by {@link DemoCommands}. */
    DemoCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings settings = Settings.of(SETTINGS, Path.of("").toAbsolutePath(), text());
        settings.override("--data", "data", data.toString());
        seed.ifPresent(s -> settings.override("--seed", "port.outputs.seed", s));
        System.err.println(
                "A simulated bay with an invented truck; two and a half minutes of its time"
                        + " take a moment of yours.");
        int exit = CatchCommand.run(settings, Optional.empty(), json);
        System.err.println("Recorded in " + data + "; see: sh src/catchbay history --data " + data);
        return exit;
    }

    private static String text() {
        try (InputStream in = DemoCommand.class.getResourceAsStream(SETTINGS)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
