package catchbay.app;

import catchbay.plan.Ways;
import catchbay.record.BayTest;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.concurrent.Callable;

/** Watches for leaks with everything shut. */
@Command(
        name = "leak",
        description = {
            "Watches tank and reference meter with everything shut and liquid in the tank.",
            "A tank that grows lighter loses by its drain; one that grows heavier gains by",
            "supply or diverter; a meter that counts lets liquid past, or picks up noise.",
            "",
            "Everything is shut once somebody has confirmed the cautions; nothing is opened."
        })
final class LeakCommand implements Callable<Integer> {

    @Mixin private SelfTestOptions options = new SelfTestOptions();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    LeakCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings settings = options.settings();
        TestFlow flow = options.flow();
        LeakWatch watch = new LeakWatch(options.rules(settings));
        SelfTesting.Result result =
                options.testing(settings)
                        .of(
                                BayTest.LEAK,
                                day ->
                                        Ways.of(
                                                flow.still(
                                                        settings.setup(flow.asset(settings), day))),
                                ways -> watch.refuseUnfit(settings.name(), ways.usual()),
                                0,
                                watch::found,
                                options::print);
        return SelfTestWords.exit(result);
    }
}
