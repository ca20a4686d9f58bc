package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.Timekeeper;
import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.TraceLine;
import catchbay.record.TraceText;
import catchbay.run.Outcome;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.store.ClosedTrace;
import catchbay.store.DataFolder;
import catchbay.store.DiskFiles;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.StoreException;
import catchbay.store.TraceFile;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * One catch test from the settings to its record: opens what the settings name, runs the loop,
 * seals the trace, records it. Used once.
 */
public final class CatchSession {

    /** Free space must be this many times the size that the trace may reach. */
    private static final int FREE_FACTOR = 3;

    /** Bytes of an edge in a trace, with its share of the line. */
    private static final long EDGE_BYTES = 12;

    /** Bytes a second of everything else: scale frames, totals, turns. */
    private static final long OTHER_BYTES_PER_SECOND = 4_000;

    private static final DateTimeFormatter RUN_NAME =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss", Locale.ROOT).withZone(ZoneOffset.UTC);

    /**
     * How a session ended.
     *
     * @param run the run's name, by which its trace is found
     */
    public record Ended(
            String run, ResultText.Provenance provenance, RunSetup setup, Outcome outcome) {}

    private final Settings settings;
    private final PrintStream err;

    /**
     * @param settings the bay's settings
     * @param err where progress and remarks go
     */
    public CatchSession(Settings settings, PrintStream err) {
        this.settings = settings;
        this.err = err;
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
        RunSetup provisional = settings.setup(asset, LocalDate.EPOCH);
        try (BayPorts ports = BayPorts.withTime(settings, provisional)) {
            Instant now = ports.time().wallTime();
            RunSetup setup = settings.setup(asset, LocalDate.ofInstant(now, settings.zone()));
            refuseImpossible(setup);
            Path data = settings.data();
            try (DataFolder folder = DataFolder.open(data, now);
                    RecordStore store = SqliteStore.open(folder.records())) {
                TraceFolder traces = new TraceFolder(folder.traces(), new DiskFiles());
                Bookkeeping books = new Bookkeeping(traces, store);
                books.takeStock().forEach(err::println);
                refuseLittleSpace(traces, setup);
                return run(ports, setup, now, traces, books, page);
            }
        }
    }

    private Ended run(
            BayPorts ports,
            RunSetup setup,
            Instant now,
            TraceFolder traces,
            Bookkeeping books,
            Consumer<Ended> page)
            throws PortException, StoreException, IOException {
        RunLoop.Ports opened = ports.openAll(setup);
        String run = name(traces, now, setup);
        TraceLine.Header header =
                TraceLine.Header.recorded(
                        RunMachine.METHOD_VERSION,
                        run,
                        ports.simulated() ? TraceLine.Origin.SIMULATED : TraceLine.Origin.BAY,
                        ports.time().bootId(),
                        now,
                        Program.version(),
                        setup);
        try (TraceFile file = traces.begin(run);
                StopSignal stop = StopSignal.listening(ports.time())) {
            TraceText text = new TraceText();
            text.header(header);
            file.append(text.bytes(), 0, text.length());
            file.sync();
            Ended ended = run(opened, stop, file, header, books);
            page.accept(ended);
            return ended;
        }
    }

    private Ended run(
            RunLoop.Ports opened,
            StopSignal stop,
            TraceFile file,
            TraceLine.Header header,
            Bookkeeping books)
            throws StoreException, IOException {
        Timekeeper time = opened.time();
        RunSetup setup = header.setup();
        List<RunLoop.NamedSource> sources = new ArrayList<>();
        sources.add(new RunLoop.NamedSource("stop", stop));
        sources.addAll(opened.sources());
        RunLoop.Ports ports = new RunLoop.Ports(time, sources, opened.outputs(), opened.operator());
        boolean bars =
                System.console() != null
                        && System.console().isTerminal()
                        && !time.movesOnlyInSleep();
        try (TraceLog log =
                        time.movesOnlyInSleep()
                                ? new InlineTraceLog(file)
                                : new ThreadedTraceLog(file);
                Progress progress = new Progress(err, bars)) {
            RunLoop loop = new RunLoop(ports, log, progress);
            Outcome outcome = loop.run(setup);
            return close(log, header, outcome, loop.endedNanos(), books);
        }
    }

    /**
     * Seals the trace and records it. A trace that cannot be sealed leaves a run that does not
     * count.
     */
    private Ended close(
            TraceLog log,
            TraceLine.Header header,
            Outcome outcome,
            long endedNanos,
            Bookkeeping books)
            throws StoreException, IOException {
        return switch (log.seal(endedNanos, outcome.key(), outcome.reason())) {
            case TraceLog.End.Closed(ClosedTrace trace) -> {
                books.record(trace);
                yield ended(header, ResultText.Seal.SEALED, outcome);
            }
            case TraceLog.End.Lost(String sentence) ->
                    ended(
                            header,
                            ResultText.Seal.UNSEALED,
                            new Outcome.Void(Outcome.Cause.TRACE_FAILED, sentence));
        };
    }

    private static Ended ended(TraceLine.Header header, ResultText.Seal seal, Outcome outcome) {
        return new Ended(
                header.run().orElseThrow(),
                Replay.provenance(header, seal),
                header.setup(),
                outcome);
    }

    private void refuseImpossible(RunSetup setup) {
        List<String> problems = new ArrayList<>(SetupCheck.problems(setup));
        problems.addAll(PortNeeds.problems(settings, setup));
        if (!problems.isEmpty()) {
            throw new DocumentException(settings.name() + ": " + SetupCheck.sentences(problems));
        }
    }

    /** A name that no trace has yet: when the run began, and the truck. */
    private static String name(TraceFolder traces, Instant now, RunSetup setup) throws IOException {
        String asset = setup.truck().asset().replaceAll("[^A-Za-z0-9_-]", "_");
        String stem = RUN_NAME.format(now) + "-" + asset.substring(0, Math.min(asset.length(), 32));
        String name = stem;
        for (int i = 2; traces.form(name).isPresent(); i++) {
            name = stem + "-" + i;
        }
        return name;
    }

    private static void refuseLittleSpace(TraceFolder traces, RunSetup setup)
            throws StoreException, IOException {
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
        long predicted = (long) (seconds * (edges * EDGE_BYTES + OTHER_BYTES_PER_SECOND));
        long free = traces.freeBytes();
        if (free < FREE_FACTOR * predicted) {
            throw new StoreException(
                    "the data folder has "
                            + free / 1_000_000
                            + " MB free, and a run may need "
                            + FREE_FACTOR * predicted / 1_000_000
                            + " MB to be safe; free some space or choose another data folder");
        }
    }
}
