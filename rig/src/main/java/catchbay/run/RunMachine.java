package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The course of one catch test as a function: a state and an input give the next state and what is
 * to be done. Nothing here knows a clock or a wire. Edges only ever fold; every decision about them
 * waits for a turn, so that where a batch was split never shows.
 */
public final class RunMachine {

    /**
     * The version of everything that turns a trace into a result; a change of any result raises it.
     */
    public static final int METHOD_VERSION = 5;

    /**
     * The first method version whose setups say by what a truck is judged; on an earlier catch no
     * verdict is passed, since a rule is chosen before measuring.
     */
    public static final int JUDGED_SINCE = 2;

    /** What each method version computes otherwise than the one before it, from version 2 on. */
    private static final List<String> CHANGES =
            List.of(
                    "every amount and every error has a budget of its uncertainty, 95 % by"
                        + " Student's t; the diverter's timing error is applied to the scale, and"
                        + " volumes are stated at the truck meter's temperature; what a setup of"
                        + " then does not say of drift, liquid, line, temperatures and scatter is"
                        + " taken as is common practice today; no verdict is passed on it",
                    "where evenly spread terms lead, intervals and verdicts are those of the terms'"
                        + " own distributions; a reference may bend between its certified flows;"
                        + " uneven pulses, and a controller's total that is read between two, make"
                        + " the ends of a window less uncertain than was said; after a purge the"
                        + " chute drips before a standing catch is tared",
                    "a controller's total is uncertain by the whole pulses it is made of; what the"
                        + " next catch should show has its own interval, about the meter error that"
                        + " rounding the new constant leaves: wider, where the scatter it comes"
                        + " from is known from a few runs; a truck's meter that gave no pulse at"
                        + " all has reported nothing, where the catch was void",
                    "pulse spacings that leap void a catch also where the train is uneven for a"
                        + " part of the window only, or was even before it; what runs out as a run"
                        + " begins is no flow that nobody has started");

    private RunMachine() {}

    /**
     * What has changed since a method version, in words.
     *
     * @param version an earlier one, from 1 on
     */
    public static String changesSince(int version) {
        return String.join("; ", CHANGES.subList(version - 1, CHANGES.size()));
    }

    /**
     * The state before the first turn: idle, or ended at once when the setup contradicts itself.
     */
    public static RunState begin(RunSetup setup) {
        Sensed sensed = Sensed.starting(setup);
        List<String> problems = SetupCheck.problems(setup);
        return problems.isEmpty()
                ? new RunState.Idle(sensed)
                : new RunState.Ended(sensed, new Outcome.Refused(SetupCheck.sentences(problems)));
    }

    /** One step. A turn that changes nothing answers the very same state and no command. */
    public static RunStep step(RunState state, RunInput input) {
        if (state instanceof RunState.Ended) {
            return RunStep.to(state);
        }
        Optional<Outcome> stopped = Interlock.first(state, input);
        if (stopped.isPresent()) {
            return Moves.end(state, stopped.get());
        }
        return Vigil.wakes(state.sensed().setup())
                ? reminded(after(watched(state, input), input), input)
                : after(state, input);
    }

    /** The same state, in which the interlocks remember this input. */
    private static RunState watched(RunState state, RunInput input) {
        Vigil vigil = state.sensed().vigil();
        Vigil next =
                input instanceof RunInput.Turn(long now)
                        ? vigil.turn(state, now)
                        : vigil.take(state.sensed(), input);
        return next == vigil ? state : with(state, state.sensed().with(next));
    }

    /** Reminds an attendant in time, unless a question waits for an answer that tells as much. */
    private static RunStep reminded(RunStep step, RunInput input) {
        Sensed sensed = step.state().sensed();
        Optional<Part.Presence> presence = sensed.setup().part().flatMap(Part::presence);
        if (presence.isEmpty()
                || !(input instanceof RunInput.Turn(long now))
                || !sensed.vigil().reminds(presence.get(), now)
                || Moves.awaitsAnswer(step.state())) {
            return step;
        }
        List<BayCommand> commands = new ArrayList<>(step.commands());
        commands.add(new BayCommand.Ask(Question.PRESENCE));
        return new RunStep(with(step.state(), sensed.with(sensed.vigil().reminded(now))), commands);
    }

    private static RunStep after(RunState state, RunInput input) {
        return switch (input) {
            case RunInput.Turn(long now) -> Course.turn(state, now);
            case RunInput.Edges(PulseLine line, EdgeBatch batch) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().lines().take(line, batch))));
            case RunInput.Contact(long at, BayContact contact, boolean active) ->
                    DiverterWatch.contact(state, at, contact, active);
            case RunInput.Scale(long at, ScaleFrame frame) -> RunStep.to(scale(state, at, frame));
            case RunInput.ControllerTotal(long at, Volume total) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().total().take(at, total))));
            case RunInput.Thermometer(
                            long at,
                            TemperaturePlace place,
                            TemperatureReading reading) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed()
                                            .with(
                                                    state.sensed()
                                                            .thermometers()
                                                            .take(at, place, reading))));
            case RunInput.CouplerPressure(long at, PressureReading reading) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().coupler().take(reading))));
            // Only an interlock asks how much of the disk is free.
            case RunInput.DiskFree free -> RunStep.to(state);
            case RunInput.PulsesSent sent ->
                    RunStep.to(with(state, state.sensed().with(state.sensed().lines().take(sent))));
            case RunInput.ChecklistConfirmed(long at, String by) ->
                    Answers.confirmed(state, at, by);
            case RunInput.SpeedConfirmed(long at, String by) ->
                    Answers.speedConfirmed(state, at, by);
            case RunInput.Done(long at, Question question) -> Answers.done(state, at, question);
            case RunInput.TotalTyped(long at, Volume total) -> Answers.typed(state, at, total);
            case RunInput.SaltTyped(long at, Mass salt) -> Answers.salt(state, at, salt);
            case RunInput.TraceDurable(long at, long upTo) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().ledger().durable(upTo))));
            case RunInput.Unread(long at, String port, long frames, long bytes, String reason) ->
                    RunStep.to(
                            port.equals(Sensed.SCALE)
                                    ? with(
                                            state,
                                            state.sensed()
                                                    .with(state.sensed().scale().unread(reason)))
                                    : state);
            case RunInput.StopPressed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
            case RunInput.PortFailed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
            case RunInput.TraceFailed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
        };
    }

    static RunState scale(RunState state, long at, ScaleFrame frame) {
        Sensed sensed = state.sensed();
        return switch (frame) {
            case ScaleFrame.Weight weight ->
                    with(state, sensed.with(sensed.scale().take(at, weight)));
            // No weight is no rest; silence is judged by the last weight, so this does not feed it.
            case ScaleFrame.NoWeight(String reason) ->
                    with(state, sensed.with(sensed.scale().restarted().unread(reason)));
        };
    }

    /** The same state knowing more. */
    static RunState with(RunState state, Sensed sensed) {
        return switch (state) {
            case RunState.Idle s -> new RunState.Idle(sensed);
            case RunState.Confirming s -> new RunState.Confirming(sensed, s.sinceNanos());
            case RunState.Emptying s -> new RunState.Emptying(sensed, s.untilNanos());
            case RunState.Starting s -> new RunState.Starting(sensed, s.sinceNanos());
            case RunState.Purging s -> new RunState.Purging(sensed, s.untilNanos());
            case RunState.Resting s -> new RunState.Resting(sensed, s.sinceNanos());
            case RunState.Settling s -> new RunState.Settling(sensed, s.sinceNanos());
            case RunState.Opening s ->
                    new RunState.Opening(sensed, s.commandedNanos(), s.leftNanos());
            case RunState.Catching s ->
                    new RunState.Catching(sensed, s.openNanos(), s.untilNanos());
            case RunState.Closing s ->
                    new RunState.Closing(sensed, s.commandedNanos(), s.leftNanos());
            case RunState.Trailing s -> new RunState.Trailing(sensed, s.closeNanos());
            case RunState.Stilling s -> new RunState.Stilling(sensed, s.sinceNanos());
            case RunState.Dripping s -> new RunState.Dripping(sensed, s.untilNanos());
            case RunState.Weighing s -> new RunState.Weighing(sensed, s.sinceNanos());
            case RunState.Reading s ->
                    new RunState.Reading(sensed, s.sinceNanos(), s.question(), s.first());
            case RunState.Comparing s -> new RunState.Comparing(sensed, s.sinceNanos());
            case RunState.Draining s -> new RunState.Draining(sensed, s.untilNanos(), s.outcome());
            case RunState.Ended s -> new RunState.Ended(sensed, s.outcome());
        };
    }
}
