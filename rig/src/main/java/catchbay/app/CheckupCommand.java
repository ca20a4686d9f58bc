package catchbay.app;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

import java.util.Optional;
import java.util.concurrent.Callable;

/** Looks at everything of a bay in turn. */
@Command(
        name = "checkup",
        description = {
            "Checks every line, port, sensor and output of the bay, with a person's help.",
            "Says of each whether it passed, failed, is not fitted or was not done, and how",
            "to mend what failed. Exit code 0: nothing failed; 1: something did, or the",
            "checkup was ended. The line 'stop' ends it at any time.",
            "",
            "Diverter and drain move, and pulses are sent, once somebody has confirmed the",
            "cautions; with --alone nothing moves. The shop's own rules come first."
        })
final class CheckupCommand implements Callable<Integer> {

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = "--alone",
            description = "Nobody is there: does only what needs no hand and moves nothing.")
    private boolean alone;

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for it; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    CheckupCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings bay = chosen.settings();
        boolean passed =
                new Checkup(bay, by, alone, Screen.standardError().lines())
                        .done(done -> CheckupWords.print(json, done))
                        .passed();
        return passed ? Exit.DONE : Exit.NO_RESULT;
    }
}
