package catchbay.app;

import catchbay.plan.SweepResult;
import catchbay.plan.TestPlan;
import catchbay.record.DocumentException;
import catchbay.record.PlanText;
import catchbay.record.SweepText;
import catchbay.run.BayComputer;
import catchbay.store.DataFolder;
import catchbay.store.JournalFolder;

import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Runs a plan across the flow range. */
@Command(
        name = "sweep",
        description = {
            "Runs a plan of points and repeats; it begins by saying where it needs a hand.",
            "As found, the new constant, its verification, as left: each catch is recorded",
            "by itself. 'catchbay plan' says before what it will achieve and take.",
            "",
            "Somebody stays within reach of the truck's own stop until the end, and shows so",
            "when asked. The line 'stop' ends it; the catch under way is then void.",
            Cautions.OF_THE_BAYS_STOPS
        })
final class SweepCommand implements Callable<Integer> {

    /** A new one, or one that was interrupted. */
    private static final class Which {
        @Parameters(paramLabel = "PLAN", description = "The plan (.toml).")
        private Path plan;

        @Option(
                names = "--resume",
                paramLabel = "NAME",
                description =
                        "Goes on with the sweep called so, at the next whole catch, once its"
                                + " checklist is confirmed again.")
        private String resume;
    }

    @ArgGroup(multiplicity = "1")
    private Which which;

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = "--anew",
            description = "Begins a new sweep although the truck has one that was interrupted.")
    private boolean anew;

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for it; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(
            names = "--events",
            paramLabel = "FILE",
            description =
                    "Appends how it goes to a file or a pipe, a line of JSON a second and at each"
                            + " change, for whoever else looks on.")
    private Optional<Path> events;

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    SweepCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings bay = chosen.settings();
        bay.session(by, false, Optional.empty());
        if (anew && which.resume != null) {
            throw new DocumentException(
                    "--anew begins a new sweep, and --resume goes on with one; give one of them");
        }
        PlannedSweep planned = which.resume == null ? planned() : resumed(bay);
        SweepResult result =
                new CatchSession(bay, Screen.standardError())
                        .followed(events)
                        .sweep(planned, this::print);
        boolean over = result.closing() != SweepResult.Closing.UNFINISHED && !result.resumable();
        return over ? Exit.DONE : Exit.NO_RESULT;
    }

    private PlannedSweep planned() {
        TomlFile file = TomlFile.read(which.plan, "plan", "its path as the argument");
        TestPlan plan = PlanText.read(file.fields());
        return PlannedSweep.anew(file, plan, anew);
    }

    private PlannedSweep resumed(Settings bay) throws Exception {
        JournalFolder sweeps = DataFolder.sweeps(bay.data());
        return PlannedSweep.goOn(KnownSweeps.of(sweeps).toResume(which.resume));
    }

    private void print(SweepResult result, BayComputer computer) {
        Page.print(
                json, () -> SweepText.of(result), out -> SweepWords.print(out, result), computer);
    }
}
