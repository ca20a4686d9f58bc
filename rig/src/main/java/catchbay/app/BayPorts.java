package catchbay.app;

import catchbay.port.Computer;
import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Supervisor;
import catchbay.port.Timekeeper;
import catchbay.quantity.Speed;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;
import catchbay.store.DataFolder;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.StoreException;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.function.BiConsumer;
import java.util.function.Supplier;

/** The ports of one run, opened as the settings choose them, closed together. */
final class BayPorts implements AutoCloseable {

    /** The kinds that are sources, in the order in which a turn drains them. */
    private static final List<PortKind> SOURCES =
            List.of(
                    PortKind.CONTACTS,
                    PortKind.PULSES,
                    PortKind.SCALE,
                    PortKind.CONTROLLER,
                    PortKind.TEMPERATURE,
                    PortKind.PRESSURE);

    private final Deque<AutoCloseable> open = new ArrayDeque<>();
    private final Map<Class<?>, Object> shared = new HashMap<>();
    private final Settings settings;
    private final Map<PortKind, List<PortProvider>> providers = providers();
    private RunSetup setup;
    private boolean simulated;
    private Timekeeper time;
    private Computer computer;
    private Supervisor supervisor;
    private Source pulseLines;

    private BayPorts(Settings settings, RunSetup setup) {
        this.settings = settings;
        this.setup = setup;
    }

    /**
     * Opens the clock alone, which tells the day on which the run will be.
     *
     * @param provisional the run's setup as far as it is known without the day
     */
    static BayPorts withTime(Settings settings, RunSetup provisional) throws PortException {
        settings.refuseUnknownPorts();
        BayPorts bay = new BayPorts(settings, provisional);
        bay.time = (Timekeeper) bay.open(PortKind.TIME);
        return bay;
    }

    Timekeeper time() {
        return time;
    }

    /**
     * Opens every other port. The operator comes last: nobody is asked for anything by a bay that
     * cannot run.
     */
    RunLoop.Ports openAll(RunSetup run) throws PortException {
        return openAll(
                run,
                (kind, why) -> {
                    throw why;
                });
    }

    /**
     * As {@link #openAll(RunSetup)}, with an absent port in place of each that does not open.
     *
     * @param refused is told of each of those, and why
     */
    RunLoop.Ports openWhatOpens(RunSetup run, BiConsumer<PortKind, PortException> refused)
            throws PortException {
        return openAll(run, refused::accept);
    }

    /**
     * Closes the pulse lines and opens those of another run, as with another reference meter; once
     * all are open.
     */
    Source reopenPulses(RunSetup run) throws PortException {
        open.remove(pulseLines);
        pulseLines.close();
        setup = run;
        pulseLines = (Source) open(PortKind.PULSES);
        return pulseLines;
    }

    /** What becomes of a port that does not open: this may throw why, or let it be absent. */
    private interface Refusal {
        void of(PortKind kind, PortException why) throws PortException;
    }

    private RunLoop.Ports openAll(RunSetup run, Refusal refusal) throws PortException {
        setup = run;
        Outputs outputs = (Outputs) open(PortKind.OUTPUTS, refusal);
        PulseOutput pulses = (PulseOutput) open(PortKind.PULSE_OUTPUT, refusal);
        List<RunLoop.NamedSource> sources = new ArrayList<>();
        for (PortKind kind : SOURCES) {
            Source source = (Source) open(kind, refusal);
            pulseLines = kind == PortKind.PULSES ? source : pulseLines;
            sources.add(new RunLoop.NamedSource(kind.key(), source));
        }
        computer = (Computer) open(PortKind.COMPUTER, refusal);
        supervisor = (Supervisor) open(PortKind.SUPERVISOR, refusal);
        Operator operator = (Operator) open(PortKind.OPERATOR);
        return new RunLoop.Ports(time, sources, outputs, pulses, operator);
    }

    /** Opens what a test of the scale needs, with every output at its safe level. */
    RunLoop.Ports openScale(RunSetup run) throws PortException {
        setup = run;
        Outputs outputs = (Outputs) open(PortKind.OUTPUTS);
        PulseOutput pulses = (PulseOutput) open(PortKind.PULSE_OUTPUT);
        Source scale = (Source) open(PortKind.SCALE);
        computer = (Computer) open(PortKind.COMPUTER);
        Operator operator = (Operator) open(PortKind.OPERATOR);
        return new RunLoop.Ports(
                time,
                List.of(new RunLoop.NamedSource(PortKind.SCALE.key(), scale)),
                outputs,
                pulses,
                operator);
    }

    /**
     * What is to be known of the clock by whoever goes by the day: what the bay's computer says,
     * and the records of a data folder that is only read. Opens that computer.
     */
    BayComputer clock(Path data) throws PortException, StoreException {
        computer = (Computer) open(PortKind.COMPUTER);
        Path records = DataFolder.records(data);
        if (!Files.exists(records)) {
            return computer.state();
        }
        try (RecordStore store = SqliteStore.open(records)) {
            return computer.state().and(Bookkeeping.clock(store, time, time.wallTime()));
        }
    }

    /** Who provides a port, as the settings or this machine have it. */
    String provider(PortKind kind) {
        return settings.provider(
                kind,
                switch (kind) {
                    case COMPUTER -> ofThisMachine(kind, "linux");
                    case SUPERVISOR -> ofThisMachine(kind, "systemd");
                    case TIME -> "system";
                    case OPERATOR -> "terminal";
                    case CONTACTS,
                            PULSES,
                            SCALE,
                            CONTROLLER,
                            TEMPERATURE,
                            PRESSURE,
                            OUTPUTS,
                            PULSE_OUTPUT ->
                            AbsentPorts.NAME;
                });
    }

    /** The bay's own computer; there once all are open. */
    Computer computer() {
        return computer;
    }

    /** Whoever started the program; there once all are open. */
    Supervisor supervisor() {
        return supervisor;
    }

    /** Whether any of them stands in for the real thing. */
    boolean simulated() {
        return simulated;
    }

    /** Whether it would be, were all of them open, as far as the settings tell. */
    boolean wouldBeSimulated() {
        return simulated
                || Arrays.stream(PortKind.values())
                        .anyMatch(kind ->
                                providers.getOrDefault(kind, List.of()).stream()
                                        .filter(port -> port.name().equals(provider(kind)))
                                        .anyMatch(PortProvider::simulated));
    }

    /** A provider that needs no settings, wherever it is there; virtual time has no machine. */
    private String ofThisMachine(PortKind kind, String name) {
        boolean there =
                providers.getOrDefault(kind, List.of()).stream()
                        .anyMatch(provider -> provider.name().equals(name));
        return there && !time.movesOnlyInSleep() ? name : AbsentPorts.NAME;
    }

    private Object open(PortKind kind, Refusal refusal) throws PortException {
        try {
            return open(kind);
        } catch (PortException why) {
            refusal.of(kind, why);
            return AbsentPorts.of(kind).open(new Opening(settings.portSection(kind, setup)));
        }
    }

    private Object open(PortKind kind) throws PortException {
        String name = provider(kind);
        List<PortProvider> known = providers.getOrDefault(kind, List.of());
        List<PortProvider> chosen = known.stream().filter(p -> p.name().equals(name)).toList();
        if (chosen.size() != 1) {
            List<String> names = known.stream().map(PortProvider::name).sorted().toList();
            throw settings.portSection(kind, setup)
                    .refused(
                            "provider",
                            chosen.isEmpty()
                                    ? "nothing called '"
                                            + name
                                            + "' provides "
                                            + kind.key()
                                            + " here; use one of "
                                            + String.join(", ", names)
                                    : "'"
                                            + name
                                            + "' is provided "
                                            + chosen.size()
                                            + " times; take one of the program's jars out");
        }
        PortProvider provider = chosen.getFirst();
        simulated |= provider.simulated();
        Settings.PortSection section = settings.portSection(kind, setup);
        Object port = provider.open(new Opening(section));
        if (port instanceof AutoCloseable closeable) {
            open.push(closeable);
        }
        section.finish();
        return port;
    }

    private static Map<PortKind, List<PortProvider>> providers() {
        Map<PortKind, List<PortProvider>> found = new HashMap<>();
        for (PortProvider provider : ServiceLoader.load(PortProvider.class)) {
            found.computeIfAbsent(provider.kind(), k -> new ArrayList<>()).add(provider);
        }
        for (PortKind kind : SOURCES) {
            found.computeIfAbsent(kind, k -> new ArrayList<>()).add(AbsentPorts.of(kind));
        }
        for (PortKind kind :
                List.of(
                        PortKind.OUTPUTS,
                        PortKind.PULSE_OUTPUT,
                        PortKind.COMPUTER,
                        PortKind.SUPERVISOR)) {
            found.computeIfAbsent(kind, k -> new ArrayList<>()).add(AbsentPorts.of(kind));
        }
        found.computeIfAbsent(PortKind.OPERATOR, k -> new ArrayList<>())
                .add(new TerminalOperator.Provider());
        return found;
    }

    /**
     * Closes in the reverse order of opening, all of them whatever fails; the first failure is told
     * then.
     */
    @Override
    public void close() throws PortException {
        Exception failure = null;
        while (!open.isEmpty()) {
            try {
                open.pop().close();
            } catch (Exception e) {
                failure = failure == null ? e : failure;
            }
        }
        if (failure != null) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "a port could not be closed ("
                            + failure.getMessage()
                            + "); check its wiring and its power",
                    failure);
        }
    }

    private final class Opening implements PortOpening {

        private final PortSettings section;

        Opening(PortSettings section) {
            this.section = section;
        }

        @Override
        public RunSetup setup() {
            return setup;
        }

        @Override
        public Speed usualSpeed() {
            return settings.replacedSpeed().orElse(setup.asked().speed());
        }

        @Override
        public PortSettings settings() {
            return section;
        }

        @Override
        public PortSettings settings(PortKind other) {
            return settings.portSection(other, setup);
        }

        @Override
        public Timekeeper time() {
            if (time == null) {
                throw new IllegalStateException("the clock is still being opened");
            }
            return time;
        }

        @Override
        public void markSimulated() {
            simulated = true;
        }

        @Override
        public void tell(String found) {
            System.err.println("catchbay: " + found);
        }

        @Override
        public <T> T shared(Class<T> kind, Supplier<T> maker) {
            return kind.cast(shared.computeIfAbsent(kind, k -> maker.get()));
        }
    }
}
