package catchbay.app;

import catchbay.plan.SweepEvent;
import catchbay.plan.Ways;
import catchbay.port.Computer;
import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.port.Supervisor;
import catchbay.port.Timekeeper;
import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceText;
import catchbay.run.BayComputer;
import catchbay.run.BayContact;
import catchbay.run.HuntSetup;
import catchbay.run.HuntState;
import catchbay.run.Ledger;
import catchbay.run.Outcome;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.Sensed;
import catchbay.run.Series;
import catchbay.store.ClosedTrace;
import catchbay.store.StoreException;
import catchbay.store.TraceFile;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.io.InputStream;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * A bay whose ports are open, on which one catch after another can be run: each runs the loop, has
 * its trace sealed, and is recorded.
 */
final class OpenBay {

    private final RunLoop.Ports ports;
    private final KnownContacts contacts;
    private final FreshLines lines;
    private final Computer computer;
    private final Supervisor supervisor;
    private final boolean simulated;
    private final Function<LocalDate, Ways> ways;
    private final PulseLines pulses;
    private final ZoneId zone;
    private final TraceFolder traces;
    private final Bookkeeping books;
    private final Screen screen;
    private final LiveEvents events;
    private long presentNanos = Ledger.NONE;
    private BayComputer told;
    private Optional<String> fitted;

    /** Opens the pulse lines anew, for a run with another reference meter. */
    interface PulseLines {
        Source of(RunSetup run) throws PortException;
    }

    /**
     * @param opened its ports
     * @param fitted the setup for which they were opened
     * @param pulses its pulse lines once more
     * @param computer its own computer
     * @param supervisor whoever started the program
     * @param simulated whether any of them stands in for the real thing
     * @param ways the setup of a catch on a calendar day, and its other ways to measure the truck
     * @param zone where that day is
     * @param traces where its traces lie
     * @param books where its records are made
     * @param screen where progress goes
     * @param events for whoever else looks on
     */
    OpenBay(
            RunLoop.Ports opened,
            RunSetup fitted,
            PulseLines pulses,
            Computer computer,
            Supervisor supervisor,
            boolean simulated,
            Function<LocalDate, Ways> ways,
            ZoneId zone,
            TraceFolder traces,
            Bookkeeping books,
            Screen screen,
            LiveEvents events)
            throws StoreException {
        List<RunLoop.NamedSource> sources = new ArrayList<>(opened.sources());
        this.contacts = KnownContacts.among(sources, opened.time());
        this.lines = FreshLines.among(sources);
        this.ports =
                new RunLoop.Ports(
                        opened.time(),
                        sources,
                        opened.outputs(),
                        opened.pulses(),
                        opened.operator());
        this.computer = computer;
        this.supervisor = supervisor;
        this.simulated = simulated;
        this.ways = ways;
        this.fitted = meter(fitted);
        this.pulses = pulses;
        this.zone = zone;
        this.traces = traces;
        this.books = books;
        this.screen = screen;
        this.events = events;
        this.told = books.clock(opened.time(), opened.time().wallTime());
    }

    Timekeeper time() {
        return ports.time();
    }

    RunLoop.Ports ports() {
        return ports;
    }

    /** Where whoever else looks on is told. */
    LiveEvents events() {
        return events;
    }

    /** Whoever started the program. */
    Supervisor supervisor() {
        return supervisor;
    }

    /** What was told of the bay's computer since the bay was opened, and what it says now. */
    BayComputer told() {
        return told.and(computer.state());
    }

    /** How many of its runs are on record. */
    long records() throws StoreException {
        return books.records();
    }

    /** Where its results come from. */
    TraceLine.Origin origin() {
        return TraceLine.Origin.of(simulated);
    }

    /** The setup of a catch that begins now. */
    RunSetup setup() {
        return ways().usual();
    }

    /** Every way to measure the truck in a catch that begins now. */
    Ways ways() {
        return ways.apply(LocalDate.ofInstant(ports.time().wallTime(), zone));
    }

    private static Optional<String> meter(RunSetup setup) {
        return setup.reference().map(meter -> meter.certificate().serial());
    }

    /** Only the lines of the meter in use are held. */
    private void fit(RunSetup setup) throws PortException {
        Optional<String> meter = meter(setup);
        if (!meter.equals(fitted)) {
            lines.reopened(pulses.of(setup));
            fitted = meter;
        }
    }

    /** A name that no trace has yet: when the run begins, and the truck. */
    String freeName(RunSetup setup) throws IOException {
        return freeName(setup, name -> false);
    }

    /**
     * As {@link #freeName(RunSetup)}.
     *
     * @param taken whether a name is spoken for by more than a trace: after a power cut the clock
     *     may stand before the moment of a name that was given and of whose run nothing is left
     */
    String freeName(RunSetup setup, FreeName.Taken taken) throws IOException {
        return FreeName.at(
                ports.time().wallTime(),
                FreeName.ofTruck(setup.truck().asset()),
                name -> taken.test(name) || traces.form(name).isPresent());
    }

    /**
     * Runs one catch under this name.
     *
     * @param stop ends it from outside
     */
    CatchSession.Ended caught(String run, RunSetup setup, StopSignal stop)
            throws PortException, StoreException, IOException {
        fit(setup);
        TraceLine.Header header =
                TraceLine.Header.recorded(
                        RunMachine.METHOD_VERSION,
                        run,
                        origin(),
                        ports.time().bootId(),
                        ports.time().wallTime(),
                        Program.version(),
                        setup);
        try (TraceFile file = traces.begin(run)) {
            TraceText text = new TraceText();
            text.header(header);
            file.append(text.bytes(), 0, text.length());
            file.sync();
            return caught(stop, file, header);
        }
    }

    /**
     * A contact that lets no run go on while it is active, as it stood when it was last looked at.
     */
    Optional<BayContact> held() {
        return contacts.held();
    }

    private CatchSession.Ended caught(StopSignal stop, TraceFile file, TraceLine.Header header)
            throws StoreException, IOException {
        boolean virtual = ports.time().movesOnlyInSleep();
        BayComputer clock = books.clock(ports.time(), header.wall().orElseThrow());
        contacts.tellAgain();
        lines.begin();
        try (TraceLog log = virtual ? new InlineTraceLog(file) : new ThreadedTraceLog(file);
                Progress progress =
                        new Progress(screen, !virtual, events, header.run().orElseThrow());
                Source disk = disk(header.setup())) {
            ComputerWatch watch = new ComputerWatch(computer, log);
            watch.tell(clock.and(space()), ports.time().monotonicNanos());
            RunLoop loop =
                    new RunLoop(
                            ports.endedBy(stop).with(new RunLoop.NamedSource("disk", disk)),
                            log,
                            (state, nowNanos) -> {
                                progress.after(state, nowNanos);
                                watch.after(state, nowNanos);
                                supervisor.turn(Words.of(state));
                                presentNanos = state.sensed().presentNanos();
                            });
            Outcome outcome = loop.run(header.setup());
            supervisor.idle();
            watch.tell(space(), loop.endedNanos());
            told = told.and(watch.all());
            return closed(log, header, outcome, watch.all(), loop.endedNanos());
        }
    }

    /**
     * Hunts for an end of the truck's range.
     *
     * @param stop ends it from outside
     */
    HuntState hunted(HuntSetup setup, StopSignal stop) {
        contacts.tellAgain();
        lines.begin();
        try (Source disk = disk(setup.bay())) {
            HuntProgress progress = new HuntProgress(screen, !ports.time().movesOnlyInSleep());
            HuntState ended =
                    new HuntLoop(
                                    ports.endedBy(stop).with(new RunLoop.NamedSource("disk", disk)),
                                    (state, nowNanos) -> {
                                        progress.after(state, nowNanos);
                                        supervisor.turn(HuntWords.doing(state.phase()));
                                    })
                            .run(setup);
            supervisor.idle();
            return ended;
        }
    }

    /** When an attendant last showed to be there in the latest run; as {@link Sensed} says. */
    long presentNanos() {
        return presentNanos;
    }

    /**
     * How a sweep's run of an earlier program ended, by its trace. One that is not on record did
     * not end, also where its trace got as far as its last line.
     */
    SweepEvent.Caught replayed(int leg, boolean emptied, String run) {
        try (InputStream bytes = traces.read(run);
                TraceReader reader = new TraceReader(bytes, run)) {
            Replay.Result result = Replay.of(reader);
            Outcome outcome =
                    books.doubt(run)
                            .<Outcome>map(Outcome.Interrupted::new)
                            .orElse(result.outcome());
            return new SweepEvent.Caught(
                    leg,
                    emptied,
                    new Series.Run(run, result.setup().day(), outcome),
                    Optional.of(result.setup()));
        } catch (StoreException | IOException | DocumentException unreadable) {
            Outcome outcome = new Outcome.Interrupted("No trace can be read that tells of it.");
            return new SweepEvent.Caught(
                    leg, emptied, new Series.Run(run, setup().day(), outcome), Optional.empty());
        }
    }

    /** What tells how much of the disk is free, where a guard watches it, on real time. */
    private Source disk(RunSetup setup) {
        return setup.guard().isPresent() && !ports.time().movesOnlyInSleep()
                ? new DiskWatch(traces, ports.time())
                : Source.NOTHING;
    }

    /** Free space; not in virtual time, whose traces are the same on every machine. */
    private BayComputer space() {
        try {
            return ports.time().movesOnlyInSleep()
                    ? BayComputer.UNKNOWN
                    : BayComputer.ofFreeBytes(traces.freeBytes());
        } catch (IOException notTold) {
            // A disk that fails shows itself where the trace is written.
            return BayComputer.UNKNOWN;
        }
    }

    /**
     * Seals the trace and records it. A trace that cannot be sealed leaves a run that does not
     * count.
     */
    private CatchSession.Ended closed(
            TraceLog log,
            TraceLine.Header header,
            Outcome outcome,
            BayComputer told,
            long endedNanos)
            throws StoreException, IOException {
        return switch (log.seal(endedNanos, outcome.key(), outcome.reason())) {
            case TraceLog.End.Closed(ClosedTrace trace) -> {
                books.record(trace);
                yield ended(header, ResultText.Seal.SEALED, told, outcome);
            }
            case TraceLog.End.Lost(String sentence) ->
                    ended(
                            header,
                            ResultText.Seal.UNSEALED,
                            told,
                            new Outcome.Void(Outcome.Cause.TRACE_FAILED, sentence));
        };
    }

    private static CatchSession.Ended ended(
            TraceLine.Header header, ResultText.Seal seal, BayComputer told, Outcome outcome) {
        return new CatchSession.Ended(
                header.run().orElseThrow(),
                Replay.provenance(header, seal).on(told),
                header.setup(),
                outcome);
    }
}
