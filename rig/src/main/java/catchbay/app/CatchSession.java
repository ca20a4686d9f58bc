package catchbay.app;

import catchbay.plan.PlanForecast;
import catchbay.plan.Sweep;
import catchbay.plan.SweepResult;
import catchbay.plan.SweepSetup;
import catchbay.plan.TestPlan;
import catchbay.plan.Ways;
import catchbay.port.PortException;
import catchbay.record.DocumentException;
import catchbay.record.HuntText;
import catchbay.record.ResultText;
import catchbay.record.TraceLine;
import catchbay.run.BayComputer;
import catchbay.run.HuntSetup;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTests;
import catchbay.run.SeriesResult;
import catchbay.run.SetupCheck;
import catchbay.store.DataFolder;
import catchbay.store.JournalFolder;
import catchbay.store.RecordStore;
import catchbay.store.Storage;
import catchbay.store.StoreException;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;

/**
 * One catch test, or a series of them, from the settings to its records: opens what the settings
 * name and has the catches run. Used once.
 */
public final class CatchSession {

    /** Free space must be this many times the size that the traces may reach. */
    private static final int FREE_FACTOR = 3;

    /** Bytes of an edge in a trace, with its share of the line. */
    private static final long EDGE_BYTES = 12;

    /** Bytes a second of everything else: scale frames, totals, turns. */
    private static final long OTHER_BYTES_PER_SECOND = 4_000;

    /**
     * How a catch ended.
     *
     * @param run the run's name, by which its trace is found
     */
    public record Ended(
            String run, ResultText.Provenance provenance, RunSetup setup, Outcome outcome) {}

    /** What is run on an open bay. */
    interface Course<T> {
        T on(OpenBay bay, DataFolder folder) throws PortException, StoreException, IOException;
    }

    /** The same, of a truck whose sweeps are known. */
    private interface TruckCourse<T> {
        T on(OpenBay bay, DataFolder folder, KnownSweeps sweeps)
                throws PortException, StoreException, IOException;
    }

    /** Refuses what cannot be run on a bay whose scale was tried so. */
    private interface Check {
        void of(Ways today, UnaryOperator<RunSetup> tried);
    }

    private final Settings settings;
    private final Screen screen;
    private final Storage storage;
    private final Optional<Path> events;

    /**
     * @param settings the bay's settings
     * @param screen where progress and remarks go
     */
    CatchSession(Settings settings, Screen screen) {
        this(settings, screen, Storage.ON_DISK, Optional.empty());
    }

    /** As {@link #CatchSession(Settings, Screen)}, on another medium than the disk. */
    CatchSession(Settings settings, Screen screen, Storage storage) {
        this(settings, screen, storage, Optional.empty());
    }

    private CatchSession(Settings settings, Screen screen, Storage storage, Optional<Path> events) {
        this.settings = settings;
        this.screen = screen;
        this.storage = storage;
        this.events = events;
    }

    /** The same, whose runs others may follow in this file or pipe, as {@link LiveEvents} says. */
    CatchSession followed(Optional<Path> file) {
        return new CatchSession(settings, screen, storage, file);
    }

    /**
     * Runs one catch.
     *
     * @param asset the truck; may be empty where the settings have one truck only
     * @param page prints the result; done before a signal may end the program
     * @throws DocumentException when the settings are refused; nothing has moved
     */
    public Ended run(Optional<String> asset, Consumer<Ended> page)
            throws PortException, StoreException, IOException {
        return withTruck(
                usual(asset),
                check(asset),
                1,
                (bay, folder, _) -> {
                    try (StopSignal stop = StopSignal.listening(bay.time())) {
                        RunSetup setup = bay.setup();
                        Ended ended = bay.caught(bay.freeName(setup), setup, stop);
                        page.accept(ended);
                        return ended;
                    }
                });
    }

    /**
     * Runs one catch after another until they agree, or until the plan of the settings or a person
     * ends the series. As {@link #run}.
     *
     * @param page prints the result, with what was told of the bay's computer
     */
    SeriesResult repeats(Optional<String> asset, BiConsumer<SeriesResult, BayComputer> page)
            throws PortException, StoreException, IOException {
        int most = settings.setup(asset, LocalDate.EPOCH).repeats().plan().runsMax();
        return withTruck(
                usual(asset),
                check(asset),
                most,
                (bay, folder, _) -> {
                    try (StopSignal stop = StopSignal.listening(bay.time())) {
                        SeriesResult result =
                                new Repeating(bay, folder.series(), stop, screen.lines()).result();
                        page.accept(result, bay.told());
                        return result;
                    }
                });
    }

    /**
     * Runs a plan across the flow range; as {@link #run}.
     *
     * @param plan the plan, and what of it has been done before
     * @param page as of {@link #repeats}
     */
    SweepResult sweep(PlannedSweep plan, BiConsumer<SweepResult, BayComputer> page)
            throws PortException, StoreException, IOException {
        TestPlan test = plan.plan();
        return withTruck(
                day -> settings.ways(Optional.of(test.truck()), day).each(plan::asBegun),
                (today, tried) -> refuse(portProblems(today.usual())),
                test.points().size() + test.verification().points().size(),
                (bay, folder, known) -> {
                    JournalFolder sweeps = folder.sweeps();
                    KnownHunts hunts = KnownHunts.of(folder.hunts(), bay.origin());
                    Ways ways = bay.ways();
                    PlanForecast forecast = PlanForecast.of(test, ways, hunts.of(ways.usual()));
                    refuse(plan.name(), forecast.allRefusals());
                    refuse(problems(forecast));
                    Sweeping.Begin begin = plan.begin(bay, sweeps, known);
                    try (StopSignal stop = StopSignal.listening(bay.time())) {
                        SweepResult result =
                                new Sweeping(bay, sweeps, stop, screen.lines())
                                        .result(
                                                begin,
                                                Sweep.planned(
                                                        forecast,
                                                        settings.curve().mix(),
                                                        settings.curve().limits().follow()));
                        page.accept(result, bay.told());
                        return result;
                    }
                });
    }

    /**
     * Hunts for an end of a truck's range; as {@link #run}.
     *
     * @param asset the truck; may be empty where the settings have one truck only
     * @param page as of {@link #repeats}
     */
    HuntText.Done hunt(
            Optional<String> asset,
            Hunting.Wanted wanted,
            BiConsumer<HuntText.Done, BayComputer> page)
            throws PortException, StoreException, IOException {
        return withTruck(
                usual(asset),
                (today, tried) -> {
                    refuse(HuntSetup.problems(wanted.end(), today.usual(), wanted.rules()));
                    refuseImpossible(
                            today.usual().day(),
                            asset,
                            setup ->
                                    HuntSetup.judged(
                                            wanted.end(), tried.apply(setup), wanted.rules()));
                },
                0,
                (bay, folder, _) -> {
                    try (StopSignal stop = StopSignal.listening(bay.time())) {
                        HuntText.Done done = new Hunting(bay, folder.hunts(), stop).done(wanted);
                        page.accept(done, bay.told());
                        return done;
                    }
                });
    }

    /**
     * Has the bay try itself; as {@link #run}.
     *
     * @param ways the setups of the test's runs on a calendar day
     * @param unfit refuses a bay that cannot be tried so
     * @param runs how many runs it takes
     */
    <T> T tried(Function<LocalDate, Ways> ways, Consumer<Ways> unfit, int runs, Course<T> course)
            throws PortException, StoreException, IOException {
        return opened(
                ways,
                (today, tried) -> {
                    Ways known = today.each(tried);
                    unfit.accept(known);
                    refuse(
                            Stream.concat(
                                            SetupCheck.problems(known.usual()).stream(),
                                            portProblems(known.usual()).stream())
                                    .toList());
                },
                runs,
                course);
    }

    /** Why the bay cannot make the catches of a plan. */
    private List<String> problems(PlanForecast forecast) {
        return Stream.concat(forecast.points().stream(), forecast.verification().stream())
                .map(point -> SweepSetup.at(point, forecast.plan(), point.way().setup()))
                .flatMap(setup ->
                        Stream.concat(
                                SetupCheck.problems(setup).stream(), portProblems(setup).stream()))
                .distinct()
                .toList();
    }

    private List<String> portProblems(RunSetup setup) {
        return PortNeeds.problems(settings, setup);
    }

    private void refuse(List<String> problems) {
        refuse(settings.name(), problems);
    }

    private static void refuse(String file, List<String> problems) {
        if (!problems.isEmpty()) {
            throw new DocumentException(file + ": " + SetupCheck.sentences(problems));
        }
    }

    private Function<LocalDate, Ways> usual(Optional<String> asset) {
        return day -> Ways.of(settings.setup(asset, day));
    }

    private Check check(Optional<String> asset) {
        return (today, tried) -> refuseImpossible(today.usual().day(), asset, tried);
    }

    /**
     * As {@link #opened}, with a truck; says first where the settings hold a constant that is no
     * longer in its controller.
     */
    private <T> T withTruck(
            Function<LocalDate, Ways> ways, Check check, int runs, TruckCourse<T> course)
            throws PortException, StoreException, IOException {
        return opened(
                ways,
                check,
                runs,
                (bay, folder) -> {
                    RunSetup today = bay.setup();
                    String asset = today.truck().asset();
                    RunSetup.Truck truck = settings.setup(Optional.of(asset), today.day()).truck();
                    KnownSweeps known = KnownSweeps.ofTruck(asset, folder.sweeps());
                    known.remarks(truck, bay.origin()).forEach(screen.lines()::println);
                    return course.on(bay, folder, known);
                });
    }

    private <T> T opened(Function<LocalDate, Ways> ways, Check check, int runs, Course<T> course)
            throws PortException, StoreException, IOException {
        RunSetup provisional = ways.apply(LocalDate.EPOCH).usual();
        try (BayPorts ports = BayPorts.withTime(settings, provisional)) {
            Instant now = ports.time().wallTime();
            Ways today = ways.apply(LocalDate.ofInstant(now, settings.zone()));
            RunSetup setup = today.usual();
            check.of(today, CatchSession::untried);
            try (DataFolder folder =
                            DataFolder.open(settings.data(), now.atZone(settings.zone()), storage);
                    RecordStore store = folder.openRecords();
                    LiveEvents onlookers = events.map(LiveEvents::new).orElse(LiveEvents.NONE)) {
                TraceFolder traces = folder.traces();
                Bookkeeping books = new Bookkeeping(traces, store);
                books.takeStock().forEach(screen.lines()::println);
                refuseLittleSpace(traces, setup, runs);
                RunLoop.Ports open = ports.openAll(setup);
                TraceLine.Origin origin = TraceLine.Origin.of(ports.simulated());
                KnownTests tests = KnownTests.of(settings, origin);
                check.of(today, tests::applied);
                tests.applied(setup).session().overdueSentence().ifPresent(screen.lines()::println);
                return course.on(
                        new OpenBay(
                                open,
                                setup,
                                ports::reopenPulses,
                                ports.computer(),
                                ports.supervisor(),
                                ports.simulated(),
                                day -> ways.apply(day).each(tests::applied),
                                settings.zone(),
                                traces,
                                books,
                                screen,
                                onlookers),
                        folder);
            }
        }
    }

    /**
     * The setup as far as it can be judged before the data folder is ours, which knows what was
     * tried of the scale: as if a check had passed, long ago where a manager decides otherwise.
     */
    static RunSetup untried(RunSetup setup) {
        if (setup.scale().isEmpty()) {
            return setup;
        }
        RunSetup.Scale scale = setup.scale().get();
        LocalDate day = setup.session().override().isPresent() ? LocalDate.EPOCH : setup.day();
        return setup.with(
                scale.with(
                        new ScaleTests(
                                scale.tests().withinDays(),
                                Optional.of(
                                        new ScaleTests.Weights(
                                                "not looked up", day, true, scale.capacity())),
                                Optional.empty())),
                setup.doubts().scale());
    }

    /**
     * @param tried the setup with what is known of its bay
     */
    private void refuseImpossible(
            LocalDate day, Optional<String> asset, UnaryOperator<RunSetup> tried) {
        RunSetup setup = tried.apply(settings.setup(asset, day));
        List<String> problems = new ArrayList<>(SetupCheck.problems(setup));
        problems.addAll(PortNeeds.problems(settings, setup));
        if (problems.isEmpty()) {
            return;
        }
        List<String> others =
                settings.otherScales(() ->
                        SetupCheck.problems(tried.apply(settings.setup(asset, day))).isEmpty());
        throw new DocumentException(
                settings.name()
                        + ": "
                        + SetupCheck.sentences(problems)
                        + (others.isEmpty()
                                ? ""
                                : " It can be made with --scale "
                                        + String.join(" or --scale ", others)
                                        + "."));
    }

    private static void refuseLittleSpace(TraceFolder traces, RunSetup setup, int runs)
            throws StoreException, IOException {
        long wanted = freeBytesWanted(setup, runs);
        long free = traces.freeBytes();
        if (free < wanted) {
            throw new StoreException(
                    "the data folder has "
                            + free / 1_000_000
                            + " MB free, and a run may need "
                            + wanted / 1_000_000
                            + " MB to be safe; free some space or choose another data folder");
        }
    }

    /** What must be free before so many runs begin. */
    static long freeBytesWanted(RunSetup setup, int runs) {
        RunSetup.Plan plan = setup.plan();
        double seconds =
                (plan.purgeNanos()
                                + plan.settleNanosMax()
                                + plan.catchNanos()
                                + 3 * plan.restNanosMax()
                                + plan.dripNanos()
                                + plan.drainNanos())
                        / 1e9;
        double edges =
                setup.reference().map(RunSetup.Reference::pulsesPerSecondMax).orElse(0.0) * 2;
        long predicted = (long) (runs * seconds * (edges * EDGE_BYTES + OTHER_BYTES_PER_SECOND));
        return FREE_FACTOR * predicted;
    }
}
