package catchbay.app;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.concurrent.Callable;

/** Holds the scale against check weights. */
@Command(
        name = "weights",
        description = {
            "Checks the scale under the tank with check weights, where it stands.",
            "Each weight of the section scale_test is asked for in turn, then all together, or",
            "one upon the other and off again (stacked); the empty scale is read before and",
            "after. Catches know the result from then on.",
            "",
            "Lift by the shop's rules; nobody stands under a hanging load."
        })
final class WeightsCommand implements Callable<Integer> {

    @Mixin private ScaleTestOptions options = new ScaleTestOptions();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    WeightsCommand() {}

    @Override
    public Integer call() throws Exception {
        return options.print(options.testing().weights());
    }
}
