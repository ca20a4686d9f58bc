package catchbay.app;

import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.record.TraceText;
import catchbay.run.BayCommand;
import catchbay.run.Outcome;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.RunState;
import catchbay.run.RunStep;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/**
 * The one loop: tell the time, drain the ports, step, do what the step wants, write down what
 * happened, sleep. It runs unmodified on real and on virtual time, on one thread, and never touches
 * a disk, a database or a socket.
 */
public final class RunLoop {

    /** From the beginning of one turn to that of the next, ns. */
    public static final long TURN_NANOS = 10_000_000;

    /** Told of every turn, on the loop's thread; must return at once. */
    public interface Watcher {
        /** The state after a turn. */
        void after(RunState state, long nowNanos);
    }

    /**
     * The ports of a run.
     *
     * @param time the clock
     * @param sources what is drained each turn, in this order
     * @param outputs the bay's outputs that are on or off
     * @param pulses its pulses to the truck, drained after the sources
     * @param operator the person at the bay, drained last
     */
    public record Ports(
            Timekeeper time,
            List<NamedSource> sources,
            Outputs outputs,
            PulseOutput pulses,
            Operator operator) {
        public Ports {
            sources = List.copyOf(sources);
        }

        /** The same, with what may end a run from outside drained before them. */
        Ports endedBy(Source stop) {
            List<NamedSource> all = new ArrayList<>();
            all.add(new NamedSource("stop", stop));
            all.addAll(sources);
            return new Ports(time, all, outputs, pulses, operator);
        }

        /** The same, with one more source drained after them. */
        Ports with(NamedSource more) {
            List<NamedSource> all = new ArrayList<>(sources);
            all.add(more);
            return new Ports(time, all, outputs, pulses, operator);
        }

        /** Drains sources and operator between two runs; the first that fails ends it. */
        void drain(Consumer<RunInput> into) throws PortException {
            for (NamedSource named : sources) {
                named.source().drain(into);
            }
            pulses.drain(into);
            operator.drain(into);
        }

        /** Everything that the bay drives, to its safe state. */
        void makeSafe() {
            boolean still = false;
            try {
                still = pulses.makeSafe();
            } finally {
                outputs.makeSafe();
                if (!still) {
                    outputs.letGo();
                }
            }
        }
    }

    /** A source, and what sentences and traces call it. */
    public record NamedSource(String name, Source source) {}

    private final Ports ports;
    private final TraceLog log;
    private final Watcher watcher;
    private final TraceText text = new TraceText();
    private final PortRound round;
    private final Consumer<RunInput> deliver = this::deliver;
    private RunState state;
    private long endedNanos;

    /** A loop for one run. */
    public RunLoop(Ports ports, TraceLog log, Watcher watcher) {
        this.ports = ports;
        this.round = new PortRound(ports);
        this.log = log;
        this.watcher = watcher;
    }

    /**
     * Runs one catch to its end. The outputs are in their safe state when this returns or throws.
     */
    public Outcome run(RunSetup setup) {
        state = RunMachine.begin(setup);
        try {
            while (!(state instanceof RunState.Ended)) {
                turn();
            }
            return ((RunState.Ended) state).outcome();
        } finally {
            ports.makeSafe();
        }
    }

    /** The stamp of the input that ended the run: the one its closing line bears. */
    public long endedNanos() {
        return endedNanos;
    }

    private void turn() {
        long now = ports.time().monotonicNanos();
        round.begin(now, state.sensed().ledger().flowing(), deliver);
        deliver(new RunInput.Turn(now));
        round.drain(now, deliver);
        round.drain("trace", log, now, deliver);
        round.tellFailures(deliver);
        watcher.after(state, now);
        if (!(state instanceof RunState.Ended)) {
            round.tellOutputs(now);
            round.sleep(now);
        }
    }

    private void deliver(RunInput input) {
        if (state instanceof RunState.Ended) {
            return;
        }
        RunStep step = RunMachine.step(state, input);
        boolean idleTurn =
                input instanceof RunInput.Turn
                        && step.state() == state
                        && step.commands().isEmpty();
        if (idleTurn) {
            return;
        }
        String before = state.key();
        state = step.state();
        endedNanos = input.atNanos();
        text.clear();
        text.input(input);
        if (!state.key().equals(before)) {
            text.state(input.atNanos(), state.key());
        }
        for (BayCommand command : step.commands()) {
            text.command(input.atNanos(), command);
        }
        log.append(text.bytes(), 0, text.length(), input.atNanos());
        for (BayCommand command : step.commands()) {
            perform(command, input.atNanos());
        }
    }

    private void perform(BayCommand command, long atNanos) {
        switch (command) {
            case BayCommand.Output output -> round.perform(output, atNanos);
            case BayCommand.Ask ask -> ports.operator().ask(ask.question());
            case BayCommand.SecureTrace secure -> log.requestSync();
        }
    }
}
