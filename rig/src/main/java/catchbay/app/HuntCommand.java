package catchbay.app;

import catchbay.record.HuntText;
import catchbay.run.HuntEnd;
import catchbay.run.HuntResult;
import catchbay.run.RangeEnd;

import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;

import java.util.Optional;
import java.util.concurrent.Callable;

/** Looks for an end of a truck's range. */
@Command(
        name = "hunt",
        description = {
            "Finds where a truck's meter begins to count, or its pump gives no more.",
            "low: a person opens the valve by hand, a step at a time, the controller in manual;",
            "high: more and more is asked, until the flow no longer follows. Plans know the",
            "result from then on. Exit code 1: it was not found, or was broken off.",
            "",
            "Somebody stays at the truck's own stop all the time. The line 'stop' ends it.",
            Cautions.OF_THE_BAYS_STOPS
        })
final class HuntCommand implements Callable<Integer> {

    /** Reads an end by the name that commands and records give it. */
    static final class End implements ITypeConverter<RangeEnd> {

        /** Made by picocli. */
        End() {}

        @Override
        public RangeEnd convert(String word) {
            for (RangeEnd end : RangeEnd.values()) {
                if (end.key().equalsIgnoreCase(word)) {
                    return end;
                }
            }
            throw new TypeConversionException(
                    "'" + word + "' is no end of a truck's range; say low or high");
        }
    }

    @Spec private CommandSpec spec;

    @Parameters(
            paramLabel = "low|high",
            converter = End.class,
            description = "The end of the truck's range that is looked for: low or high.")
    private RangeEnd end;

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = {"-t", "--truck"},
            paramLabel = "NUMBER",
            description =
                    "The truck's number in the fleet; needed where the settings have several.")
    private Optional<String> truck;

    @Option(
            names = "--lowering",
            description =
                    "With low: then lowers the flow again, to find where the meter ceases to"
                            + " count.")
    private boolean lowering;

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for it; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    HuntCommand() {}

    @Override
    public Integer call() throws Exception {
        if (lowering && end == RangeEnd.HIGH) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--lowering belongs to the low end; leave it out, or hunt for low");
        }
        Settings bay = chosen.settings();
        bay.session(by, false, Optional.empty());
        HuntText.Done done =
                new CatchSession(bay, Screen.standardError())
                        .hunt(
                                truck,
                                new Hunting.Wanted(end, bay.hunt(), lowering, by),
                                (hunted, computer) -> HuntWords.print(json, hunted, computer));
        boolean found =
                done.end() instanceof HuntEnd.Reached(HuntResult result)
                        && !(result instanceof HuntResult.NotFound);
        return found ? Exit.DONE : Exit.NO_RESULT;
    }
}
