package catchbay.app;

import catchbay.plan.KnownEnds;
import catchbay.plan.PlanForecast;
import catchbay.plan.TestPlan;
import catchbay.plan.Ways;
import catchbay.port.PortException;
import catchbay.record.DocumentException;
import catchbay.record.PlanForecastText;
import catchbay.record.PlanText;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;
import catchbay.store.DataFolder;
import catchbay.store.StoreException;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;

/** Judges a plan before anything moves. */
@Command(
        name = "plan",
        description = {
            "Judges a plan of points and repeats before anything moves.",
            "For each point: flow, length of a catch, uncertainty of the truck's meter error,",
            "repeats, tank level; and of all of it time and liquid. Nothing is moved.",
            "",
            "Exit code 1: the plan cannot be done so, and the sentences say why."
        })
final class PlanCommand implements Callable<Integer> {

    @Parameters(paramLabel = "PLAN", description = "The plan (.toml).")
    private Path plan;

    @Mixin private ChosenBay chosen = new ChosenBay();

    @Option(
            names = "--ask",
            description =
                    "Asks for the plan in plain words and writes it to PLAN, a new file. The line"
                            + " 'stop' ends it with nothing written.")
    private boolean ask;

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    private final Screen screen = Screen.standardError();

    /** Made by picocli. */
    PlanCommand() {}

    @Override
    public Integer call() throws PortException, StoreException, IOException {
        Settings bay = chosen.settings();
        if (ask) {
            composed(bay);
        }
        TestPlan read =
                PlanText.read(TomlFile.read(plan, "plan", "its path as the argument").fields());
        Known known = known(bay, Optional.of(read.truck()));
        known.remarks.stream().map(screen::wrapped).forEach(System.err::println);
        PlanForecast forecast = PlanForecast.of(read, known.ways, known.ends);
        Page.print(
                json,
                () -> PlanForecastText.of(forecast).toString(),
                out -> PlanWords.print(out, forecast),
                known.computer);
        return forecast.allRefusals().isEmpty() ? Exit.DONE : Exit.NO_RESULT;
    }

    /** Writes what the questions come to; a file that is there already is left as it is. */
    private void composed(Settings bay) throws IOException {
        Path file = plan.toAbsolutePath();
        if (Files.exists(file)) {
            throw exists();
        }
        if (!Files.isDirectory(file.getParent())) {
            throw new DocumentException(
                    "There is no folder " + file.getParent() + " for the plan; make it first.");
        }
        BufferedReader answers =
                new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
        String text;
        try (LastWord _ =
                LastWord.of(
                        "The questions were ended by Ctrl-C or a signal, so nothing was"
                                + " written.")) {
            text = new PlanQuestions(bay, answers, System.err, screen).composed();
        }
        PlanText.read(TomlFile.of(file.getFileName().toString(), text).fields());
        try {
            Files.writeString(file, text, StandardOpenOption.CREATE_NEW);
        } catch (FileAlreadyExistsException meanwhile) {
            throw exists();
        } catch (IOException unwritten) {
            throw new DocumentException(
                    "The plan cannot be written to "
                            + file
                            + " ("
                            + unwritten.getMessage()
                            + "); name a file in a folder that may be written to.");
        }
        System.err.println(screen.wrapped("The plan is written to " + plan + "."));
    }

    private DocumentException exists() {
        return new DocumentException(
                plan + " is there already and is not written over; name a new file.");
    }

    /**
     * The bay and its truck, what was hunted for of it, what its sweeps make a person do, each a
     * sentence, and what is to be known of the bay's computer.
     */
    private record Known(Ways ways, KnownEnds ends, List<String> remarks, BayComputer computer) {}

    /**
     * Of today, as the bay's clock tells it, with what was tried of the scale; as if a check had
     * passed where the bay has no data folder yet.
     */
    private static Known known(Settings bay, Optional<String> truck)
            throws PortException, StoreException, IOException {
        RunSetup provisional = bay.ways(truck, LocalDate.EPOCH).usual();
        try (BayPorts ports = BayPorts.withTime(bay, provisional)) {
            LocalDate today = LocalDate.ofInstant(ports.time().wallTime(), bay.zone());
            Ways ways = bay.ways(truck, today);
            BayComputer computer = ports.clock(bay.data());
            if (!Files.isDirectory(bay.data())) {
                return new Known(
                        ways.each(CatchSession::untried), KnownEnds.NONE, List.of(), computer);
            }
            TraceLine.Origin origin = TraceLine.Origin.of(ports.wouldBeSimulated());
            KnownTests tests = KnownTests.of(bay, origin);
            KnownHunts hunts = KnownHunts.of(DataFolder.hunts(bay.data()), origin);
            RunSetup.Truck found = ways.usual().truck();
            KnownSweeps sweeps = KnownSweeps.ofTruck(found.asset(), DataFolder.sweeps(bay.data()));
            return new Known(
                    ways.each(tests::applied),
                    hunts.of(ways.usual()),
                    Stream.concat(
                                    sweeps.remarks(found, origin).stream(),
                                    PlannedSweep.inTheWay(found.asset(), sweeps).stream())
                            .toList(),
                    computer);
        }
    }
}
