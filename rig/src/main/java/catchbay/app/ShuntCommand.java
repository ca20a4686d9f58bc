package catchbay.app;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.concurrent.Callable;

/** Finds what the hose carries of the tank. */
@Command(
        name = "shunt",
        description = {
            "Finds what the hose carries of the catch tank.",
            "The same load is read with the hose off, on and off again. Catches allow for the",
            "result from then on. Best with the tank about as full as in a catch."
        })
final class ShuntCommand implements Callable<Integer> {

    @Mixin private ScaleTestOptions options = new ScaleTestOptions();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    ShuntCommand() {}

    @Override
    public Integer call() throws Exception {
        return options.print(options.testing().shunt());
    }
}
