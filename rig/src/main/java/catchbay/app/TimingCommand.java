package catchbay.app;

import catchbay.plan.Ways;
import catchbay.record.BayTest;
import catchbay.record.SelfTestRules;
import catchbay.run.RunSetup.MeasureBy;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.concurrent.Callable;

/** Finds the start-stop error of the bay's timing. */
@Command(
        name = "timing",
        description = {
            "Finds by how much longer liquid runs into the tank than the window lasts.",
            "Rounds of one long catch and many short ones at one flow, by the scale; what is",
            "found replaces diverter.timing_error_seconds in catches from this day on.",
            "",
            "Diverter, drain and supply move once somebody has confirmed the checklist. With a",
            "truck the bay's stops do not stop its engine, hydraulics, conveyor or spinner."
        })
final class TimingCommand implements Callable<Integer> {

    @Mixin private SelfTestOptions options = new SelfTestOptions();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    TimingCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings settings = options.settings();
        TestFlow flow = options.flow();
        SelfTestRules rules = options.rules(settings);
        TimingRounds rounds = new TimingRounds(rules);
        SelfTesting.Result result =
                options.testing(settings)
                        .of(
                                BayTest.TIMING,
                                day ->
                                        Ways.of(
                                                rounds.longOne(
                                                        flow.setup(
                                                                settings.setup(
                                                                        flow.asset(settings), day),
                                                                rules,
                                                                MeasureBy.SCALE))),
                                ways -> rounds.refuseUnfit(settings.name(), ways.usual()),
                                rules.timing().catches(),
                                rounds::found,
                                options::print);
        return SelfTestWords.exit(result);
    }
}
