package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.BayCommand;
import catchbay.run.RunInput;

import java.util.ArrayDeque;
import java.util.Queue;
import java.util.function.Consumer;

/**
 * A loop's dealings with the ports in a turn: a port that fails is an input like any other, told at
 * the turn's end.
 */
final class PortRound {

    private final RunLoop.Ports ports;
    private final Queue<RunInput> failures = new ArrayDeque<>();

    PortRound(RunLoop.Ports ports) {
        this.ports = ports;
    }

    /** Drains all of them, each in its place. */
    void drain(long now, Consumer<RunInput> into) {
        for (RunLoop.NamedSource named : ports.sources()) {
            drain(named.name(), named.source(), now, into);
        }
        drain("pulse_output", ports.pulses(), now, into);
        drain("operator", ports.operator(), now, into);
    }

    /** Drains one more source. */
    void drain(String name, Source source, long now, Consumer<RunInput> into) {
        try {
            source.drain(into);
        } catch (PortException e) {
            failures.add(new RunInput.PortFailed(now, name, e.getMessage()));
        }
    }

    /** Tells what has failed since it was last asked. */
    void tellFailures(Consumer<RunInput> into) {
        while (!failures.isEmpty()) {
            into.accept(failures.remove());
        }
    }

    /** At the very end of a turn: whatever hangs in it keeps the outputs from hearing of it. */
    void tellOutputs(long now) {
        try {
            ports.outputs().turn();
        } catch (PortException e) {
            failures.add(new RunInput.PortFailed(now, "outputs", e.getMessage()));
        }
    }

    /** Performs a command at its output. */
    void perform(BayCommand.Output command, long atNanos) {
        switch (command) {
            case BayCommand.Switched switched ->
                    output("outputs", atNanos, () -> ports.outputs().perform(switched));
            case BayCommand.Pulses pulses ->
                    output("pulse_output", atNanos, () -> ports.pulses().perform(pulses));
        }
    }

    /** A command on its way to an output. */
    private interface Performance {
        void now() throws PortException;
    }

    private void output(String name, long atNanos, Performance performance) {
        try {
            performance.now();
        } catch (PortException e) {
            failures.add(new RunInput.PortFailed(atNanos, name, e.getMessage()));
        }
    }
}
