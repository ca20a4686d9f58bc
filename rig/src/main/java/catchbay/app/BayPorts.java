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
import catchbay.run.RunSetup;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
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
        bay.time = (Timekeeper) bay.open(PortKind.TIME, "system");
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
        setup = run;
        Outputs outputs = (Outputs) open(PortKind.OUTPUTS, AbsentPorts.NAME);
        PulseOutput pulses = (PulseOutput) open(PortKind.PULSE_OUTPUT, AbsentPorts.NAME);
        List<RunLoop.NamedSource> sources = new ArrayList<>();
        for (PortKind kind : SOURCES) {
            sources.add(new RunLoop.NamedSource(kind.key(), (Source) open(kind, AbsentPorts.NAME)));
        }
        computer = (Computer) open(PortKind.COMPUTER, ofThisMachine(PortKind.COMPUTER, "linux"));
        supervisor =
                (Supervisor)
                        open(PortKind.SUPERVISOR, ofThisMachine(PortKind.SUPERVISOR, "systemd"));
        Operator operator = (Operator) open(PortKind.OPERATOR, "terminal");
        return new RunLoop.Ports(time, sources, outputs, pulses, operator);
    }

    /** Opens what a test of the scale needs, with every output at its safe level. */
    RunLoop.Ports openScale(RunSetup run) throws PortException {
        setup = run;
        Outputs outputs = (Outputs) open(PortKind.OUTPUTS, AbsentPorts.NAME);
        PulseOutput pulses = (PulseOutput) open(PortKind.PULSE_OUTPUT, AbsentPorts.NAME);
        Source scale = (Source) open(PortKind.SCALE, AbsentPorts.NAME);
        Operator operator = (Operator) open(PortKind.OPERATOR, "terminal");
        return new RunLoop.Ports(
                time,
                List.of(new RunLoop.NamedSource(PortKind.SCALE.key(), scale)),
                outputs,
                pulses,
                operator);
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

    /** A provider that needs no settings, wherever it is there; virtual time has no machine. */
    private String ofThisMachine(PortKind kind, String name) {
        boolean there =
                providers.getOrDefault(kind, List.of()).stream()
                        .anyMatch(provider -> provider.name().equals(name));
        return there && !time.movesOnlyInSleep() ? name : AbsentPorts.NAME;
    }

    private Object open(PortKind kind, String otherwise) throws PortException {
        String name = settings.provider(kind, otherwise);
        List<PortProvider> known = providers.getOrDefault(kind, List.of());
        List<PortProvider> chosen = known.stream().filter(p -> p.name().equals(name)).toList();
        if (chosen.size() != 1) {
            List<String> names = known.stream().map(PortProvider::name).sorted().toList();
            throw settings.portSection(kind)
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
        Settings.PortSection section = settings.portSection(kind);
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
        public PortSettings settings() {
            return section;
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
        public <T> T shared(Class<T> kind, Supplier<T> maker) {
            return kind.cast(shared.computeIfAbsent(kind, k -> maker.get()));
        }
    }
}
