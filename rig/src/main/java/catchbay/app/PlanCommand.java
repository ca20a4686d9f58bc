package catchbay.app;

import catchbay.plan.PlanForecast;
import catchbay.plan.TestPlan;
import catchbay.plan.Ways;
import catchbay.port.PortException;
import catchbay.record.PlanForecastText;
import catchbay.record.PlanText;
import catchbay.record.TraceLine;
import catchbay.run.RunSetup;
import catchbay.store.DataFolder;
import catchbay.store.JournalFolder;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Optional;
import java.util.concurrent.Callable;

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

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    PlanCommand() {}

    @Override
    public Integer call() throws PortException, IOException {
        Settings bay = chosen.settings();
        TestPlan read =
                PlanText.read(TomlFile.read(plan, "plan", "its path as the argument").fields());
        PlanForecast forecast = PlanForecast.of(read, ways(bay, Optional.of(read.truck())));
        PrintStream out = Page.out();
        if (json) {
            out.println(PlanForecastText.of(forecast));
        } else {
            PlanWords.print(out, forecast);
        }
        out.flush();
        return forecast.allRefusals().isEmpty() ? Exit.DONE : Exit.NO_RESULT;
    }

    /**
     * Of today, as the bay's clock tells it, with what was tried of the scale; as if a check had
     * passed where the bay has no data folder yet.
     */
    private static Ways ways(Settings bay, Optional<String> truck)
            throws PortException, IOException {
        RunSetup provisional = bay.ways(truck, LocalDate.EPOCH).usual();
        try (BayPorts ports = BayPorts.withTime(bay, provisional)) {
            LocalDate today = LocalDate.ofInstant(ports.time().wallTime(), bay.zone());
            Ways ways = bay.ways(truck, today);
            if (!Files.isDirectory(bay.data())) {
                return ways.each(CatchSession::untried);
            }
            KnownScaleTests tests =
                    KnownScaleTests.of(
                            new JournalFolder(DataFolder.scaleTests(bay.data())),
                            TraceLine.Origin.of(ports.wouldBeSimulated()));
            return ways.each(tests::applied);
        }
    }
}
