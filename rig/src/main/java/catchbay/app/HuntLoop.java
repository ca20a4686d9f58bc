package catchbay.app;

import catchbay.run.BayCommand;
import catchbay.run.HuntMachine;
import catchbay.run.HuntPhase;
import catchbay.run.HuntSetup;
import catchbay.run.HuntState;
import catchbay.run.HuntStep;
import catchbay.run.RunInput;

import java.util.function.Consumer;

/**
 * The loop of a hunt for an end of a truck's range; as {@link RunLoop}, but that it has no trace:
 * what its steps came to is written down once the bay is safe again.
 */
public final class HuntLoop {

    /** Told of every turn, on the loop's thread; must return at once. */
    public interface Watcher {
        /** The state after a turn. */
        void after(HuntState state, long nowNanos);
    }

    private final RunLoop.Ports ports;
    private final PortRound round;
    private final Watcher watcher;
    private final Consumer<RunInput> deliver = this::deliver;
    private HuntState state;

    /** A loop for one hunt. */
    public HuntLoop(RunLoop.Ports ports, Watcher watcher) {
        this.ports = ports;
        this.round = new PortRound(ports);
        this.watcher = watcher;
    }

    /** Runs it to its end. The outputs are in their safe state when this returns or throws. */
    public HuntState run(HuntSetup setup) {
        state = HuntMachine.begin(setup);
        try {
            while (!(state.phase() instanceof HuntPhase.Ended)) {
                turn();
            }
            return state;
        } finally {
            ports.makeSafe();
        }
    }

    private void turn() {
        long now = ports.time().monotonicNanos();
        round.begin(now, state.run().sensed().ledger().flowing(), deliver);
        deliver(new RunInput.Turn(now));
        round.drain(now, deliver);
        round.tellFailures(deliver);
        watcher.after(state, now);
        if (!(state.phase() instanceof HuntPhase.Ended)) {
            round.tellOutputs(now);
            round.sleep(now);
        }
    }

    private void deliver(RunInput input) {
        HuntStep step = HuntMachine.step(state, input);
        state = step.state();
        for (BayCommand command : step.commands()) {
            perform(command, input.atNanos());
        }
        step.task().ifPresent(ports.operator()::ask);
    }

    private void perform(BayCommand command, long atNanos) {
        switch (command) {
            case BayCommand.Output output -> round.perform(output, atNanos);
            case BayCommand.Ask ask -> ports.operator().ask(ask.question());
            case BayCommand.SecureTrace _ ->
                    throw new AssertionError("a hunt has no trace to secure");
        }
    }
}
