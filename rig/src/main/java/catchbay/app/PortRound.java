package catchbay.app;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.BayCommand;
import catchbay.run.RunInput;

import java.util.ArrayDeque;
import java.util.Locale;
import java.util.OptionalLong;
import java.util.Queue;
import java.util.function.Consumer;

/**
 * A loop's dealings with the ports in a turn: a port that fails is an input like any other, told at
 * the turn's end.
 */
final class PortRound {

    /**
     * A turn that begins so late, ns, was not late but stood still: suspended, or its computer in
     * such need that nothing was watched over. Common practice, no source; a watchdog relay drops
     * sooner.
     */
    private static final long STANDSTILL_NANOS = 1_000_000_000L;

    private final RunLoop.Ports ports;
    private final Queue<RunInput> failures = new ArrayDeque<>();
    private OptionalLong dueNanos = OptionalLong.empty();

    PortRound(RunLoop.Ports ports) {
        this.ports = ports;
    }

    /**
     * A turn begins. While liquid flows a standstill before it ends the run: nobody can say what
     * happened meanwhile, and what is silent since is not to blame.
     */
    void begin(long now, boolean flowing, Consumer<RunInput> into) {
        long late = now - dueNanos.orElse(now);
        if (flowing && late > STANDSTILL_NANOS) {
            into.accept(
                    new RunInput.PortFailed(
                            now,
                            "program",
                            String.format(
                                    Locale.ROOT,
                                    "The program itself stood still for %.1f s while liquid flowed,"
                                            + " and watched over nothing; see that nobody suspends"
                                            + " it and what else this computer does, reset the"
                                            + " watchdog relay and begin again.",
                                    late / 1e9)));
        }
    }

    /** The turn is over: sleeps until the next one. */
    void sleep(long now) {
        long due = now + RunLoop.TURN_NANOS;
        dueNanos = OptionalLong.of(due);
        ports.time().sleepUntil(due);
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
