package catchbay.app;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.VolumeUnit;
import catchbay.record.DocumentException;
import catchbay.record.SelfTestRules;
import catchbay.run.BayComputer;

import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.math.BigDecimal;
import java.util.Optional;

/** What the commands by which a bay tries itself with flowing liquid have in common. */
final class SelfTestOptions {

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = {"-t", "--truck"},
            paramLabel = "NUMBER",
            description =
                    "The truck that gives the liquid, coupled as for a catch. Without it: the bay's"
                            + " own supply.")
    private Optional<String> truck;

    @Option(
            names = "--flow",
            paramLabel = "Q",
            description = "US gal/min, in place of the flow that the settings ask for.")
    private Optional<Double> usGallonsPerMinute;

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for it; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    /** Filled by picocli. */
    SelfTestOptions() {}

    Settings settings() {
        Settings settings = chosen.settings();
        usGallonsPerMinute.ifPresent(gallons -> ask(settings, gallons));
        return settings;
    }

    private void ask(Settings settings, double gallons) {
        if (gallons <= 0) {
            throw new DocumentException(
                    "option --flow: "
                            + Numeral.of(BigDecimal.valueOf(gallons))
                            + " US gal/min is no flow; give one above 0");
        }
        flow().ask(settings, "--flow", FlowRate.perMinute(gallons, VolumeUnit.US_GALLON));
    }

    /** How the bay tries itself. */
    SelfTestRules rules(Settings settings) {
        return settings.selfTests(settings.anyMeter(flow().asset(settings)).plan());
    }

    TestFlow flow() {
        return new TestFlow(truck);
    }

    SelfTesting testing(Settings settings) {
        return new SelfTesting(settings, Screen.standardError(), flow(), by);
    }

    void print(SelfTesting.Result result, BayComputer computer) {
        SelfTestWords.print(json, result, computer);
    }
}
