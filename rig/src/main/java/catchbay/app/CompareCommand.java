package catchbay.app;

import catchbay.record.BayTest;
import catchbay.record.SelfTestRules;
import catchbay.run.RunSetup.MeasureBy;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.concurrent.Callable;

/** Holds the bay's instruments against each other. */
@Command(
        name = "compare",
        description = {
            "Holds the reference meters against the scale by several catches at one flow.",
            "Every meter that is certified at the flow makes them in turn; of two, the one is",
            "held against the other, too. Name one with --reference to try it alone.",
            "",
            "Diverter, drain and supply move once somebody has confirmed the checklist. With a",
            "truck the bay's stops do not stop its engine, hydraulics, conveyor or spinner."
        })
final class CompareCommand implements Callable<Integer> {

    @Mixin private SelfTestOptions options = new SelfTestOptions();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    CompareCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings settings = options.settings();
        TestFlow flow = options.flow();
        SelfTestRules rules = options.rules(settings);
        SelfTesting.Result result =
                options.testing(settings)
                        .of(
                                BayTest.COMPARE,
                                day ->
                                        settings.ways(flow.asset(settings), day)
                                                .each(today ->
                                                        flow.apart(
                                                                flow.setup(
                                                                        today,
                                                                        rules,
                                                                        MeasureBy.SCALE))),
                                ways -> MeterCatches.refuseUnfit(settings.name(), ways),
                                2 * rules.compare().catches(),
                                new MeterCatches(rules)::found,
                                options::print);
        return SelfTestWords.exit(result);
    }
}
