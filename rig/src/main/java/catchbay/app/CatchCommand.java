package catchbay.app;

import catchbay.run.Outcome;
import catchbay.run.SeriesResult;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Runs one catch test on the bay that a settings file describes. */
@Command(
        name = "catch",
        description = {
            "Runs one timed catch test on the bay that the settings describe.",
            "Measures, compares and records it. Questions come on the terminal; the line",
            "'stop' ends the run at any time.",
            "",
            Cautions.OF_THE_BAYS_STOPS,
            "When speed pulses are sent, conveyor, auger and spinner may turn."
        })
public final class CatchCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = {"-t", "--truck"},
            paramLabel = "NUMBER",
            description =
                    "The truck's number in the fleet; needed where the settings have several.")
    private Optional<String> truck;

    @Option(
            names = "--seconds",
            paramLabel = "S",
            description = "How long to catch, in place of catch.seconds.")
    private Optional<Double> seconds;

    @Option(names = "--mph", paramLabel = "V", description = "Speed, in place of asked.speed_mph.")
    private Optional<Double> mph;

    @Option(
            names = "--by",
            paramLabel = "NAME",
            description = "Who answers for the run; one of the settings' people, if they list any.")
    private Optional<String> by;

    @Option(
            names = "--as-left",
            description = "The truck was adjusted; without this it counts as found.")
    private boolean asLeft;

    @Option(
            names = "--override",
            paramLabel = "REASON",
            description =
                    "Why a certificate out of date is used all the same; takes a manager. The"
                            + " reason stays in the record for ever.")
    private Optional<String> override;

    @Option(
            names = "--repeats",
            description =
                    "Repeats the catch until the runs agree, as the settings' section repeats plans"
                            + " it, and prints the mean.")
    private boolean repeats;

    @Option(
            names = "--least",
            paramLabel = "N",
            description = "With --repeats: how many runs are planned, in place of repeats.least.")
    private Optional<Long> least;

    @Option(
            names = "--most",
            paramLabel = "N",
            description = "With --repeats: after how many it ends, in place of repeats.most.")
    private Optional<Long> most;

    @Option(
            names = "--events",
            paramLabel = "FILE",
            description =
                    "Appends how it goes to a file or a pipe, a line of JSON a second and at each"
                            + " change, for whoever else looks on.")
    private Optional<Path> events;

    @Option(names = "--json", description = "Prints the result as one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    CatchCommand() {}

    @Override
    public Integer call() throws Exception {
        Settings bay = chosen.settings();
        seconds.ifPresent(s -> bay.override("--seconds", "catch.seconds", s));
        mph.ifPresent(v -> bay.override("--mph", Settings.SPEED, v));
        least.ifPresent(n -> bay.override("--least", "repeats.least", n));
        most.ifPresent(n -> bay.override("--most", "repeats.most", n));
        if (!repeats && (least.isPresent() || most.isPresent())) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--least and --most plan a series; give --repeats too, or leave them out");
        }
        bay.session(by, asLeft, override);
        CatchSession session = new CatchSession(bay, Screen.standardError()).followed(events);
        return repeats ? series(session, truck, json) : run(session, truck, json);
    }

    private static int series(CatchSession bay, Optional<String> truck, boolean json)
            throws Exception {
        SeriesResult result =
                bay.repeats(truck, (done, computer) -> Page.print(json, done, computer));
        return result.end().how().asPlanned() ? Exit.DONE : Exit.NO_RESULT;
    }

    /**
     * Runs one catch and prints its result.
     *
     * @return the exit code
     */
    public static int run(Settings bay, Optional<String> truck, boolean json) throws Exception {
        return run(new CatchSession(bay, Screen.standardError()), truck, json);
    }

    private static int run(CatchSession bay, Optional<String> truck, boolean json)
            throws Exception {
        CatchSession.Ended ended =
                bay.run(
                        truck,
                        done -> Page.print(json, done.provenance(), done.setup(), done.outcome()));
        return ended.outcome() instanceof Outcome.Measured ? Exit.DONE : Exit.NO_RESULT;
    }
}
