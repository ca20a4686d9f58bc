package catchbay.run;

import catchbay.run.BayCommand.Way;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.StepResponse;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What a run sets in motion and brings to rest: the flow, and everything, into the safe state. */
final class Moves {

    private Moves() {}

    /** It is watched how a flow comes up in which a window is opened, from when it is asked for. */
    static Sensed flowAsked(Sensed sensed, long now) {
        boolean watched =
                Vigil.wakes(sensed.setup())
                        && sensed.plan().window() == RunSetup.Window.FLYING
                        && sensed.lines().steadyBy().isPresent();
        StepResponse.Start start =
                sensed.plan().flowBy() == FlowBy.OPERATOR
                        ? StepResponse.Start.AT_FIRST_PULSE
                        : StepResponse.Start.AT_COMMAND;
        return watched ? sensed.with(sensed.lines().asked(start, now)) : sensed;
    }

    static Sensed startFlow(Sensed sensed, long now, List<BayCommand> commands) {
        switch (sensed.plan().flowBy()) {
            case GROUND_SPEED -> {
                RunSetup.Asked asked = sensed.setup().asked();
                commands.add(new BayCommand.GroundSpeed(asked.speedHertz().orElseThrow()));
                asked.feederHertz().ifPresent(hertz -> commands.add(new BayCommand.Feeder(hertz)));
            }
            case SUPPLY -> commands.add(new BayCommand.Supply(true));
            case OPERATOR -> commands.add(new BayCommand.Ask(Question.START_FLOW));
        }
        return flowAsked(sensed.with(sensed.ledger().flowOn(now)), now);
    }

    /** The bay stops the flow at once; what an operator is asked for is done when he says so. */
    static Sensed stopFlow(Sensed sensed, long now, List<BayCommand> commands) {
        Sensed stopped = sensed.with(sensed.ledger().flowOff(now));
        return switch (sensed.plan().flowBy()) {
            case GROUND_SPEED -> {
                commands.add(new BayCommand.GroundSpeed(0));
                if (sensed.setup().asked().feederHertz().isPresent()) {
                    commands.add(new BayCommand.Feeder(0));
                }
                yield stopped;
            }
            case SUPPLY -> {
                commands.add(new BayCommand.Supply(false));
                yield stopped;
            }
            case OPERATOR -> {
                commands.add(new BayCommand.Ask(Question.STOP_FLOW));
                yield sensed;
            }
        };
    }

    /**
     * Whether no pulse has come for as long as rest must be proven, nor since the flow was to rest.
     * The truck's own figure must have had time to follow, too.
     */
    static boolean silent(Sensed sensed, long since, long now) {
        long quiet = Math.max(sensed.plan().silenceNanos(), sensed.setup().reported().lagNanos());
        return now - since >= quiet
                && now - sensed.lines().reference().lastNanos() >= quiet
                && now - sensed.lines().second().lastNanos() >= quiet
                && now - sensed.lines().truck().lastNanos() >= quiet;
    }

    static BayCommand[] safe(Sensed sensed, BayCommand... more) {
        List<BayCommand> commands = new ArrayList<>();
        if (sensed.setup().diverter().isPresent()) {
            commands.add(new BayCommand.Divert(Way.BYPASS));
        }
        commands.add(new BayCommand.Drain(false));
        commands.add(new BayCommand.Supply(false));
        commands.add(new BayCommand.GroundSpeed(0));
        commands.add(new BayCommand.Feeder(0));
        commands.addAll(List.of(more));
        return commands.toArray(BayCommand[]::new);
    }

    /**
     * The safe state, and the end. An outcome that already stands is not undone by what happens
     * while draining.
     */
    static RunStep end(RunState state, Outcome outcome) {
        Sensed sensed = state.sensed();
        Outcome last = state instanceof RunState.Draining draining ? draining.outcome() : outcome;
        // Whoever was asked to start the flow may be about to: that question must not be the last.
        boolean mayPump = sensed.ledger().flowing() || awaitsStart(state);
        boolean byHand = sensed.plan().flowBy() == FlowBy.OPERATOR;
        BayCommand[] commands =
                mayPump && byHand
                        ? safe(sensed, new BayCommand.Ask(Question.STOP_FLOW))
                        : safe(sensed);
        return RunStep.to(new RunState.Ended(sensed, last), commands);
    }

    static boolean awaitsStart(RunState state) {
        return state instanceof RunState.Starting
                || state instanceof RunState.Catching s && s.untilNanos() == Long.MAX_VALUE;
    }

    /** Whether a person is asked something whose answer the run waits for. */
    static boolean awaitsAnswer(RunState state) {
        boolean stopAsked =
                state.sensed().plan().flowBy() == FlowBy.OPERATOR
                        && state.sensed().ledger().flowing();
        return switch (state) {
            case RunState.Confirming _, RunState.Starting _, RunState.Reading _ -> true;
            case RunState.Resting _,
                    RunState.Stilling _,
                    RunState.Dripping _,
                    RunState.Weighing _ ->
                    stopAsked;
            case RunState.Catching s -> s.untilNanos() == Long.MAX_VALUE;
            case RunState.Idle _,
                    RunState.Emptying _,
                    RunState.Purging _,
                    RunState.Settling _,
                    RunState.Opening _,
                    RunState.Closing _,
                    RunState.Trailing _,
                    RunState.Comparing _,
                    RunState.Draining _,
                    RunState.Ended _ ->
                    false;
        };
    }

    static long midway(long left, long arrived) {
        return left + (arrived - left) / 2;
    }

    static String seconds(long nanos) {
        return String.format(Locale.ROOT, "%.0f", nanos / 1e9);
    }
}
