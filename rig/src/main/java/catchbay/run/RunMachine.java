package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.EdgeBatch;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * The course of one catch test as a function: a state and an input give the next state and what is
 * to be done. Nothing here knows a clock or a wire. Edges only ever fold; every decision about them
 * waits for a turn, so that where a batch was split never shows.
 */
public final class RunMachine {

    /**
     * The version of everything that turns a trace into a result; a change of any result raises it.
     */
    public static final int METHOD_VERSION = 1;

    /** How long the medium may take to take the trace, ns. */
    private static final long SECURE_NANOS_MAX = 10_000_000_000L;

    private static final String STOP_UNCONFIRMED = "the stop of the flow was not confirmed";

    private RunMachine() {}

    /**
     * The state before the first turn: idle, or ended at once when the setup contradicts itself.
     */
    public static RunState begin(RunSetup setup) {
        Sensed sensed = Sensed.starting(setup);
        List<String> problems = SetupCheck.problems(setup);
        return problems.isEmpty()
                ? new RunState.Idle(sensed)
                : new RunState.Ended(sensed, new Outcome.Refused(String.join(" ", problems)));
    }

    /** One step. A turn that changes nothing answers the very same state and no command. */
    public static RunStep step(RunState state, RunInput input) {
        if (state instanceof RunState.Ended) {
            return RunStep.to(state);
        }
        Optional<Outcome> stopped = Interlocks.on(state.sensed(), input);
        if (stopped.isEmpty() && input instanceof RunInput.Turn(long now)) {
            stopped = Interlocks.atTurn(state, now);
        }
        if (stopped.isPresent()) {
            return end(state, stopped.get());
        }
        return switch (input) {
            case RunInput.Turn(long now) -> turn(state, now);
            case RunInput.Edges(PulseLine line, EdgeBatch batch) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().lines().take(line, batch))));
            case RunInput.Contact(long at, BayContact contact, boolean active) ->
                    contact(state, at, contact, active);
            case RunInput.Scale(long at, ScaleFrame frame) -> RunStep.to(scale(state, at, frame));
            case RunInput.ControllerTotal(long at, Volume total) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().total().take(at, total))));
            case RunInput.ChecklistConfirmed(long at, String by) -> confirmed(state, at, by);
            case RunInput.Done(long at, Question question) -> done(state, at, question);
            case RunInput.TotalTyped(long at, Volume total) -> typed(state, at, total);
            case RunInput.SaltTyped(long at, Mass salt) -> salt(state, at, salt);
            case RunInput.TraceDurable(long at, long upTo) ->
                    RunStep.to(
                            with(
                                    state,
                                    state.sensed().with(state.sensed().ledger().durable(upTo))));
            case RunInput.StopPressed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
            case RunInput.PortFailed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
            case RunInput.TraceFailed s ->
                    throw new AssertionError("the interlocks end the run on " + s);
        };
    }

    // Turns
    // ----------------------------------------------------------------------------------------------------------

    private static RunStep turn(RunState state, long now) {
        return switch (state) {
            case RunState.Idle s ->
                    RunStep.to(
                            new RunState.Confirming(s.sensed(), now),
                            safe(s.sensed(), new BayCommand.Ask(Question.CHECKLIST)));
            case RunState.Confirming s ->
                    answerDue(s, s.sinceNanos(), now, "the checklist was not confirmed");
            case RunState.Starting s ->
                    answerDue(s, s.sinceNanos(), now, "the start of the flow was not confirmed");
            case RunState.Purging s ->
                    now < s.untilNanos() ? RunStep.to(s) : purged(s.sensed(), now);
            case RunState.Resting s -> resting(s, now);
            case RunState.Settling s -> settling(s, now);
            case RunState.Opening s -> travelDue(s, s.commandedNanos(), now, "tank");
            case RunState.Catching s -> catching(s, now);
            case RunState.Closing s -> travelDue(s, s.commandedNanos(), now, "bypass");
            case RunState.Trailing s -> trailing(s, now);
            case RunState.Stilling s -> stilling(s, now);
            case RunState.Dripping s ->
                    now < s.untilNanos()
                            ? RunStep.to(s)
                            : RunStep.to(
                                    new RunState.Weighing(
                                            s.sensed().with(s.sensed().scale().restarted()), now));
            case RunState.Weighing s -> weighing(s, now);
            case RunState.Reading s ->
                    answerDue(
                            s,
                            s.sinceNanos(),
                            now,
                            "the question '" + s.question().words() + "' was not answered");
            case RunState.Comparing s -> comparing(s, now);
            case RunState.Draining s -> now < s.untilNanos() ? RunStep.to(s) : end(s, s.outcome());
            case RunState.Ended s -> RunStep.to(s);
        };
    }

    private static RunStep answerDue(RunState state, long since, long now, String what) {
        long limit = state.sensed().plan().answerNanosMax();
        if (now - since <= limit) {
            return RunStep.to(state);
        }
        return end(
                state,
                new Outcome.Void(
                        Cause.NO_ANSWER,
                        "Nobody answered for "
                                + seconds(limit)
                                + " s: "
                                + what
                                + "; begin again."));
    }

    private static RunStep travelDue(RunState state, long commanded, long now, String where) {
        long limit = state.sensed().setup().diverter().orElseThrow().travelNanosMax();
        return now - commanded <= limit ? RunStep.to(state) : end(state, notArrived(limit, where));
    }

    private static Outcome notArrived(long limit, String where) {
        return new Outcome.Void(
                Cause.DIVERTER_NOT_ARRIVED,
                "The diverter did not reach the "
                        + where
                        + " side within "
                        + seconds(limit)
                        + " s; check its air or current, its flap and its switches.");
    }

    /** After the purge: a flying catch settles with the flow on, a standing one stops it first. */
    private static RunStep purged(Sensed sensed, long now) {
        if (sensed.plan().window() == Window.FLYING) {
            Sensed fresh =
                    sensed.with(sensed.lines().with(sensed.lines().steadiness().restarted()))
                            .with(sensed.scale().restarted());
            return RunStep.to(new RunState.Settling(fresh, now));
        }
        List<BayCommand> commands = new ArrayList<>();
        Sensed stopped = sensed.ledger().flowing() ? stopFlow(sensed, now, commands) : sensed;
        return rest(stopped, now, commands);
    }

    /** Standing: the diverter goes to the tank while nothing flows; then rest is to be proven. */
    private static RunStep rest(Sensed sensed, long now, List<BayCommand> commands) {
        if (sensed.setup().diverter().isPresent() && !sensed.ledger().flowing()) {
            commands.add(new BayCommand.Divert(Way.TANK));
        }
        return new RunStep(
                new RunState.Resting(sensed.with(sensed.scale().restarted()), now), commands);
    }

    private static RunStep settling(RunState.Settling s, long now) {
        Sensed sensed = s.sensed();
        Plan plan = sensed.plan();
        FlowSteadiness steadiness = sensed.lines().steadiness();
        boolean toProve = plan.settleSlots() > 0 && sensed.lines().steadyBy().isPresent();
        boolean steady =
                !toProve || steadiness.judgeable() && steadiness.spread() <= plan.settleSpreadMax();
        if (steady && sensed.scaleAtRest()) {
            Ledger ledger = sensed.reading().map(sensed.ledger()::tare).orElse(sensed.ledger());
            Lines waiting = sensed.lines().each(PulseGate::await).with(steadiness.watchFrom(now));
            return RunStep.to(
                    new RunState.Opening(sensed.with(ledger).with(waiting), now, Ledger.NONE),
                    new BayCommand.Divert(Way.TANK));
        }
        if (now - s.sinceNanos() <= plan.settleNanosMax()) {
            return RunStep.to(s);
        }
        String why =
                !sensed.scaleAtRest()
                        ? "the scale was not at rest; look for wind, a swinging hose or liquid"
                                + " running into the tank"
                        : !steadiness.judgeable()
                                ? "too few pulses came to judge the flow; check the pump, the"
                                        + " coupler and the meter's wire"
                                : String.format(
                                        Locale.ROOT,
                                        "the flow still spread by %.1f %% (limit %.1f %%); check"
                                                + " for air, pump and controller",
                                        steadiness.spread() * 100,
                                        plan.settleSpreadMax() * 100);
        return end(
                s,
                new Outcome.Void(
                        Cause.NOT_SETTLED,
                        "Not settled within "
                                + seconds(plan.settleNanosMax())
                                + " s: "
                                + why
                                + "."));
    }

    private static RunStep resting(RunState.Resting s, long now) {
        Sensed sensed = s.sensed();
        if (sensed.ledger().flowing()) {
            return answerDue(s, s.sinceNanos(), now, STOP_UNCONFIRMED);
        }
        boolean diverted = stands(sensed, Way.TANK);
        if (!diverted && now - s.sinceNanos() > sensed.setup().diverter().get().travelNanosMax()) {
            return end(s, notArrived(sensed.setup().diverter().get().travelNanosMax(), "tank"));
        }
        if (diverted && silent(sensed, s.sinceNanos(), now) && sensed.scaleAtRest()) {
            Ledger ledger = sensed.reading().map(sensed.ledger()::tare).orElse(sensed.ledger());
            Sensed rested = sensed.with(ledger);
            if (ledger.totalBefore().isPresent()) {
                return stillWeighs(sensed, sensed.ledger().tare())
                        ? openStanding(rested, now)
                        : end(s, disturbed());
            }
            if (sensed.setup().reported() instanceof Reported.Display) {
                return RunStep.to(
                        new RunState.Reading(rested, now, Question.TOTAL_BEFORE, Optional.empty()),
                        new BayCommand.Ask(Question.TOTAL_BEFORE));
            }
            return openStanding(rested, now);
        }
        return restDue(s, s.sinceNanos(), now);
    }

    private static RunStep restDue(RunState state, long since, long now) {
        Sensed sensed = state.sensed();
        long limit = sensed.plan().restNanosMax() + sensed.setup().reported().lagNanos();
        if (now - since <= limit) {
            return RunStep.to(state);
        }
        String what =
                sensed.scaleAtRest()
                        ? "Pulses kept coming; shut the truck's valve and look for a leak."
                        : "The scale did not come to rest; look for liquid still running into the"
                                + " tank, wind or a swinging hose.";
        return end(
                state,
                new Outcome.Void(
                        Cause.NOT_AT_REST,
                        "Flow was not at rest within " + seconds(limit) + " s. " + what));
    }

    /** Standing: the window opens on a line at rest, and the flow is started into it. */
    private static RunStep openStanding(Sensed sensed, long now) {
        Sensed opened =
                sensed.with(sensed.lines().each(gate -> gate.open(now, true)))
                        .with(sensed.total().open(now));
        List<BayCommand> commands = new ArrayList<>();
        if (sensed.plan().flowBy() == FlowBy.OPERATOR) {
            commands.add(new BayCommand.Ask(Question.START_FLOW));
            return new RunStep(new RunState.Catching(opened, now, Long.MAX_VALUE), commands);
        }
        Sensed flowing = startFlow(opened, now, commands);
        return new RunStep(
                new RunState.Catching(flowing, now, now + sensed.plan().catchNanos()), commands);
    }

    private static RunStep catching(RunState.Catching s, long now) {
        if (s.untilNanos() == Long.MAX_VALUE) {
            return answerDue(s, s.openNanos(), now, "the start of the flow was not confirmed");
        }
        Sensed sensed = s.sensed();
        if (strayed(sensed, Way.TANK, s.openNanos(), now)) {
            return end(s, moved());
        }
        if (now < s.untilNanos()) {
            return RunStep.to(s);
        }
        if (sensed.plan().window() == Window.STANDING) {
            List<BayCommand> commands = new ArrayList<>();
            Sensed stopped = stopFlow(sensed, now, commands);
            return new RunStep(
                    new RunState.Stilling(stopped.with(stopped.scale().restarted()), now),
                    commands);
        }
        Lines lines = sensed.lines().each(PulseGate::await);
        Sensed waiting = sensed.with(lines.with(lines.steadiness().watchUntil(now)));
        return RunStep.to(
                new RunState.Closing(waiting, now, Ledger.NONE), new BayCommand.Divert(Way.BYPASS));
    }

    private static RunStep stilling(RunState.Stilling s, long now) {
        Sensed sensed = s.sensed();
        if (sensed.ledger().flowing()) {
            return answerDue(s, s.sinceNanos(), now, STOP_UNCONFIRMED);
        }
        if (!silent(sensed, s.sinceNanos(), now) || !sensed.scaleAtRest()) {
            return restDue(s, s.sinceNanos(), now);
        }
        Sensed closed =
                sensed.with(sensed.lines().each(gate -> gate.close(now)))
                        .with(sensed.total().close(now));
        RunState next = new RunState.Dripping(closed, now + sensed.plan().dripNanos());
        return sensed.setup().diverter().isPresent()
                ? RunStep.to(next, new BayCommand.Divert(Way.BYPASS))
                : RunStep.to(next);
    }

    private static RunStep trailing(RunState.Trailing s, long now) {
        Sensed sensed = s.sensed();
        if (strayed(sensed, Way.BYPASS, s.closeNanos(), now)) {
            return end(s, moved());
        }
        boolean complete = windowComplete(sensed) && stands(sensed, Way.BYPASS);
        if (!complete && now - s.closeNanos() <= sensed.plan().restNanosMax()) {
            return RunStep.to(s);
        }
        // An incomplete window is not an end here: the comparison says exactly what it lacks.
        List<BayCommand> commands = new ArrayList<>();
        Sensed stopped = stopFlow(sensed, now, commands);
        return new RunStep(
                new RunState.Dripping(stopped, now + sensed.plan().dripNanos()), commands);
    }

    /** Whether everything after the window's closing that its evaluation needs has come. */
    private static boolean windowComplete(Sensed sensed) {
        Lines lines = sensed.lines();
        boolean reference =
                sensed.setup().reference().isEmpty() || lines.reference().hasEdgeAfterClose();
        boolean others = ended(lines.speed()) && ended(lines.feeder());
        return reference
                && others
                && switch (sensed.setup().reported()) {
                    case Reported.MeterPulses r -> lines.truck().hasEdgeAfterClose();
                    case Reported.RunningLine r -> totalComplete(sensed);
                    case Reported.Display r -> true;
                };
    }

    private static boolean ended(PulseGate gate) {
        return gate.inside().pulses() == 0 || gate.hasEdgeAfterClose();
    }

    private static RunStep weighing(RunState.Weighing s, long now) {
        Sensed sensed = s.sensed();
        boolean late = now - s.sinceNanos() > sensed.plan().restNanosMax();
        if (!sensed.scaleAtRest()) {
            return late ? end(s, unweighed(sensed)) : RunStep.to(s);
        }
        // A total that never comes is not an end here: the comparison says that it is lacking.
        if (!totalComplete(sensed) && !late) {
            return RunStep.to(s);
        }
        if (sensed.ledger().totalAfter().isPresent()) {
            return stillWeighs(sensed, sensed.ledger().gross())
                    ? afterTotals(sensed, now)
                    : end(s, disturbed());
        }
        Ledger ledger = sensed.reading().map(sensed.ledger()::gross).orElse(sensed.ledger());
        Sensed weighed = sensed.with(ledger);
        return sensed.setup().reported() instanceof Reported.Display
                ? RunStep.to(
                        new RunState.Reading(weighed, now, Question.TOTAL_AFTER, Optional.empty()),
                        new BayCommand.Ask(Question.TOTAL_AFTER))
                : afterTotals(weighed, now);
    }

    private static Outcome unweighed(Sensed sensed) {
        return new Outcome.Void(
                Cause.SCALE_NOT_AT_REST,
                "The scale did not come to rest within "
                        + seconds(sensed.plan().restNanosMax())
                        + " s after the catch; look for dripping, wind or a swinging hose.");
    }

    /** Whether a running total, where there is one, has come that was sent after the closing. */
    private static boolean totalComplete(Sensed sensed) {
        return !(sensed.setup().reported() instanceof Reported.RunningLine)
                || sensed.total().lastNanos() >= sensed.total().closeNanos();
    }

    private static RunStep afterTotals(Sensed sensed, long now) {
        boolean askSalt =
                sensed.setup().asked().application() instanceof RunSetup.Application.PreWet preWet
                        && preWet.saltReported();
        if (askSalt && sensed.ledger().salt().isEmpty()) {
            return askSalt(sensed, now);
        }
        return RunStep.to(new RunState.Comparing(sensed, now), new BayCommand.SecureTrace());
    }

    private static RunStep comparing(RunState.Comparing s, long now) {
        if (s.sensed().ledger().durableNanos() < s.sinceNanos()) {
            return now - s.sinceNanos() <= SECURE_NANOS_MAX
                    ? RunStep.to(s)
                    : end(
                            s,
                            new Outcome.Void(
                                    Cause.TRACE_FAILED,
                                    "The trace was not on the medium within "
                                            + seconds(SECURE_NANOS_MAX)
                                            + " s; check the disk or card and repeat."));
        }
        Outcome outcome = Evaluation.of(s.sensed());
        long drain = s.sensed().plan().drainNanos();
        return drain == 0
                ? end(s, outcome)
                : RunStep.to(
                        new RunState.Draining(s.sensed(), now + drain, outcome),
                        new BayCommand.Drain(true));
    }

    // Contacts and scale
    // ---------------------------------------------------------------------------------------------

    private static RunStep contact(RunState state, long at, BayContact contact, boolean active) {
        Set<BayContact> next = new HashSet<>(state.sensed().active());
        if (active) {
            next.add(contact);
        } else {
            next.remove(contact);
        }
        Sensed sensed = state.sensed().with(Set.copyOf(next));
        if (state instanceof RunState.Opening s) {
            return opening(s, sensed, at, contact, active);
        }
        if (state instanceof RunState.Closing s) {
            return closing(s, sensed, at, contact, active);
        }
        if (state instanceof RunState.Settling s) {
            return unmoved(s, sensed, contact, active);
        }
        if (state instanceof RunState.Catching s) {
            boolean travelling =
                    sensed.setup()
                            .diverter()
                            .map(d -> at - s.openNanos() <= d.travelNanosMax())
                            .orElse(false);
            // Switches chatter while the flap still travels; where it stands then, a turn sees.
            return travelling
                    ? RunStep.to(with(s, sensed))
                    : unmovedFromTank(s, sensed, contact, active);
        }
        if (state instanceof RunState.Stilling s) {
            return unmovedFromTank(s, sensed, contact, active);
        }
        if (state instanceof RunState.Dripping s && sensed.plan().window() == Window.FLYING) {
            return unmoved(s, sensed, contact, active);
        }
        return RunStep.to(with(state, sensed));
    }

    private static RunStep opening(
            RunState.Opening s, Sensed sensed, long at, BayContact contact, boolean active) {
        if (at < s.commandedNanos()) {
            return RunStep.to(with(s, sensed));
        }
        if (feedback(sensed) == Feedback.TRIGGER) {
            return contact == BayContact.DIVERTER_TRIGGER && active
                    ? opened(s, sensed, at, at - s.commandedNanos())
                    : RunStep.to(with(s, sensed));
        }
        // A switch that chatters before the flap goes closes again: it left when it last opened.
        if (contact == BayContact.DIVERTER_AT_BYPASS) {
            return RunStep.to(
                    new RunState.Opening(sensed, s.commandedNanos(), active ? Ledger.NONE : at));
        }
        if (contact == BayContact.DIVERTER_AT_TANK && active && s.leftNanos() != Ledger.NONE) {
            return opened(s, sensed, midway(s.leftNanos(), at), at - s.leftNanos());
        }
        return RunStep.to(with(s, sensed));
    }

    private static RunStep opened(
            RunState.Opening s, Sensed sensed, long openNanos, long travelNanos) {
        Sensed open =
                sensed.with(sensed.lines().each(gate -> gate.open(openNanos, false)))
                        .with(sensed.total().open(openNanos))
                        .with(sensed.ledger().opened(travelNanos));
        return RunStep.to(
                new RunState.Catching(open, openNanos, openNanos + sensed.plan().catchNanos()));
    }

    private static RunStep closing(
            RunState.Closing s, Sensed sensed, long at, BayContact contact, boolean active) {
        if (at < s.commandedNanos()) {
            return RunStep.to(with(s, sensed));
        }
        if (feedback(sensed) == Feedback.TRIGGER) {
            return contact == BayContact.DIVERTER_TRIGGER && !active
                    ? closed(sensed, at, at - s.commandedNanos())
                    : RunStep.to(with(s, sensed));
        }
        if (contact == BayContact.DIVERTER_AT_TANK) {
            return RunStep.to(
                    new RunState.Closing(sensed, s.commandedNanos(), active ? Ledger.NONE : at));
        }
        if (contact == BayContact.DIVERTER_AT_BYPASS && active && s.leftNanos() != Ledger.NONE) {
            return closed(sensed, midway(s.leftNanos(), at), at - s.leftNanos());
        }
        return RunStep.to(with(s, sensed));
    }

    private static RunStep closed(Sensed sensed, long closeNanos, long travelNanos) {
        Sensed shut =
                sensed.with(sensed.lines().each(gate -> gate.close(closeNanos)))
                        .with(sensed.total().close(closeNanos))
                        .with(sensed.ledger().closed(travelNanos));
        return RunStep.to(new RunState.Trailing(shut, closeNanos));
    }

    private static RunStep unmoved(
            RunState state, Sensed sensed, BayContact contact, boolean active) {
        boolean left =
                contact == BayContact.DIVERTER_TRIGGER && active
                        || contact == BayContact.DIVERTER_AT_TANK && active
                        || contact == BayContact.DIVERTER_AT_BYPASS && !active;
        return left ? end(with(state, sensed), moved()) : RunStep.to(with(state, sensed));
    }

    private static RunStep unmovedFromTank(
            RunState state, Sensed sensed, BayContact contact, boolean active) {
        boolean left =
                contact == BayContact.DIVERTER_TRIGGER && !active
                        || contact == BayContact.DIVERTER_AT_TANK && !active
                        || contact == BayContact.DIVERTER_AT_BYPASS && active;
        return left ? end(with(state, sensed), moved()) : RunStep.to(with(state, sensed));
    }

    /** Whether the diverter has had time to travel and does not stand where it was sent. */
    private static boolean strayed(Sensed sensed, Way way, long since, long now) {
        return sensed.setup().diverter().isPresent()
                && now - since > sensed.setup().diverter().get().travelNanosMax()
                && !stands(sensed, way);
    }

    private static Outcome moved() {
        return new Outcome.Void(
                Cause.DIVERTER_MOVED,
                "The diverter moved without a command; check its valve, its air or current and its"
                        + " switches.");
    }

    /** Whether the diverter's switches say that it stands there; true where there is none. */
    private static boolean stands(Sensed sensed, Way way) {
        if (sensed.setup().diverter().isEmpty()) {
            return true;
        }
        boolean tank = way == Way.TANK;
        return switch (feedback(sensed)) {
            case TRIGGER -> sensed.isActive(BayContact.DIVERTER_TRIGGER) == tank;
            case ENDS ->
                    sensed.isActive(
                            tank ? BayContact.DIVERTER_AT_TANK : BayContact.DIVERTER_AT_BYPASS);
        };
    }

    private static Feedback feedback(Sensed sensed) {
        return sensed.setup().diverter().orElseThrow().feedback();
    }

    private static RunState scale(RunState state, long at, ScaleFrame frame) {
        Sensed sensed = state.sensed();
        return switch (frame) {
            case ScaleFrame.Weight weight ->
                    with(state, sensed.with(sensed.scale().take(at, weight)));
            // No weight is no rest; silence is judged by the last weight, so this does not feed it.
            case ScaleFrame.NoWeight none -> with(state, sensed.with(sensed.scale().restarted()));
        };
    }

    // Answers
    // --------------------------------------------------------------------------------------------------------

    private static RunStep confirmed(RunState state, long at, String by) {
        if (!(state instanceof RunState.Confirming s)) {
            return RunStep.to(state);
        }
        Sensed sensed = s.sensed().with(s.sensed().ledger().confirmed(by));
        Plan plan = sensed.plan();
        if (plan.window() == Window.STANDING && plan.purgeNanos() == 0) {
            return rest(sensed, at, new ArrayList<>());
        }
        if (plan.flowBy() == FlowBy.OPERATOR) {
            return RunStep.to(
                    new RunState.Starting(sensed, at), new BayCommand.Ask(Question.START_FLOW));
        }
        List<BayCommand> commands = new ArrayList<>();
        Sensed flowing = startFlow(sensed, at, commands);
        return new RunStep(new RunState.Purging(flowing, at + plan.purgeNanos()), commands);
    }

    private static RunStep done(RunState state, long at, Question question) {
        return switch (question) {
            case START_FLOW -> flowStarted(state, at);
            case STOP_FLOW ->
                    state.sensed().ledger().flowing() ? flowStopped(state, at) : RunStep.to(state);
            case CHECKLIST, TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN, SALT_REPORTED ->
                    RunStep.to(state);
        };
    }

    private static RunStep flowStarted(RunState state, long at) {
        Sensed flowing = state.sensed().with(state.sensed().ledger().flowOn(at));
        if (state instanceof RunState.Starting) {
            return RunStep.to(new RunState.Purging(flowing, at + flowing.plan().purgeNanos()));
        }
        if (state instanceof RunState.Catching s && s.untilNanos() == Long.MAX_VALUE) {
            return RunStep.to(
                    new RunState.Catching(
                            flowing, s.openNanos(), at + flowing.plan().catchNanos()));
        }
        return RunStep.to(state);
    }

    /**
     * The operator has stopped the flow where that was asked: rest is to be proven from here on.
     */
    private static RunStep flowStopped(RunState state, long at) {
        Sensed stopped = state.sensed().with(state.sensed().ledger().flowOff(at));
        if (state instanceof RunState.Resting) {
            return rest(stopped, at, new ArrayList<>());
        }
        if (state instanceof RunState.Stilling) {
            return RunStep.to(new RunState.Stilling(stopped.with(stopped.scale().restarted()), at));
        }
        boolean after = state instanceof RunState.Dripping || state instanceof RunState.Weighing;
        return RunStep.to(after ? with(state, stopped) : state);
    }

    private static RunStep typed(RunState state, long at, Volume total) {
        if (!(state instanceof RunState.Reading s)
                || !(s.sensed().setup().reported() instanceof Reported.Display display)) {
            return RunStep.to(state);
        }
        Sensed sensed = s.sensed();
        Ledger ledger = sensed.ledger();
        return switch (s.question()) {
            case TOTAL_BEFORE -> readBefore(s, total, at);
            case TOTAL_AFTER -> {
                Volume before = ledger.totalBefore().orElseThrow();
                double asked = Evaluation.asked(sensed).volume().litres();
                double off = Math.abs(total.litres() - before.litres() - asked) / asked;
                yield off <= display.band().value()
                        ? readAfter(sensed.with(ledger.totalAfter(total)), at)
                        : RunStep.to(
                                new RunState.Reading(
                                        sensed, at, Question.TOTAL_AGAIN, Optional.of(total)),
                                new BayCommand.Ask(Question.TOTAL_AGAIN));
            }
            case TOTAL_AGAIN -> {
                Volume first = s.first().orElseThrow();
                double apart = Math.abs(first.litres() - total.litres());
                yield apart <= display.step().litres() / 2
                        ? readAfter(sensed.with(ledger.totalAfter(total)), at)
                        : end(
                                s,
                                new Outcome.Void(
                                        Cause.REPORT_UNUSABLE,
                                        "The total was typed as "
                                                + Outcome.gallons(first)
                                                + " and then as "
                                                + Outcome.gallons(total)
                                                + "; read the display with a second person and"
                                                + " repeat the catch."));
            }
            case CHECKLIST, START_FLOW, STOP_FLOW, SALT_REPORTED -> RunStep.to(state);
        };
    }

    /**
     * The display was read at rest. What ran between the weighing and the typing would be in one of
     * the two amounts only, so a tank that does not rest is weighed once more before the window
     * opens.
     */
    private static RunStep readBefore(RunState.Reading s, Volume total, long at) {
        Sensed sensed = s.sensed().with(s.sensed().ledger().totalBefore(total));
        if (!stands(sensed, Way.TANK)) {
            return end(s, moved());
        }
        Lines lines = sensed.lines();
        if (Math.max(lines.reference().lastNanos(), lines.truck().lastNanos()) >= s.sinceNanos()) {
            return end(s, disturbed());
        }
        return stillWeighs(sensed, sensed.ledger().tare())
                ? openStanding(sensed, at)
                : rest(sensed, at, new ArrayList<>());
    }

    /** The same after the window; pulses that came since its end are found in the comparison. */
    private static RunStep readAfter(Sensed sensed, long at) {
        return stillWeighs(sensed, sensed.ledger().gross())
                ? afterTotals(sensed, at)
                : RunStep.to(new RunState.Weighing(sensed.with(sensed.scale().restarted()), at));
    }

    /** Whether the scale rests within its band of what it weighed; true where there is none. */
    private static boolean stillWeighs(Sensed sensed, Optional<Mass> weighed) {
        return weighed.map(mass -> sensed.scaleAtRest() && withinRestBand(sensed, mass))
                .orElse(true);
    }

    private static boolean withinRestBand(Sensed sensed, Mass weighed) {
        double band = sensed.setup().scale().orElseThrow().restBand().kilograms();
        double apart = sensed.reading().orElseThrow().minus(weighed).kilograms();
        return Math.abs(apart) <= band;
    }

    private static Outcome disturbed() {
        return new Outcome.Void(
                Cause.NOT_AT_REST,
                "Liquid ran while the truck's display was read; look for a leak or a dripping hose,"
                        + " lengthen the drip and repeat the catch.");
    }

    private static RunStep salt(RunState state, long at, Mass salt) {
        if (!(state instanceof RunState.Reading s) || s.question() != Question.SALT_REPORTED) {
            return RunStep.to(state);
        }
        // No salt would ask for no liquid: that is a slip of the hand, so it is asked again.
        return salt.kilograms() > 0
                ? afterTotals(s.sensed().with(s.sensed().ledger().salt(salt)), at)
                : askSalt(s.sensed(), at);
    }

    private static RunStep askSalt(Sensed sensed, long now) {
        return RunStep.to(
                new RunState.Reading(sensed, now, Question.SALT_REPORTED, Optional.empty()),
                new BayCommand.Ask(Question.SALT_REPORTED));
    }

    // Flow, rest and the end
    // -----------------------------------------------------------------------------------------

    private static Sensed startFlow(Sensed sensed, long now, List<BayCommand> commands) {
        switch (sensed.plan().flowBy()) {
            case GROUND_SPEED ->
                    commands.add(new BayCommand.GroundSpeed(groundSpeedHertz(sensed.setup())));
            case SUPPLY -> commands.add(new BayCommand.Supply(true));
            case OPERATOR -> commands.add(new BayCommand.Ask(Question.START_FLOW));
        }
        return sensed.with(sensed.ledger().flowOn(now));
    }

    /** The bay stops the flow at once; what an operator is asked for is done when he says so. */
    private static Sensed stopFlow(Sensed sensed, long now, List<BayCommand> commands) {
        Sensed stopped = sensed.with(sensed.ledger().flowOff(now));
        return switch (sensed.plan().flowBy()) {
            case GROUND_SPEED -> {
                commands.add(new BayCommand.GroundSpeed(0));
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

    /** Pulses/s that a truck at the asked speed gives. */
    private static double groundSpeedHertz(RunSetup setup) {
        double perMile = setup.asked().pulsesPerMile().orElseThrow();
        return perMile * setup.asked().speed().milesPerHour() / 3600;
    }

    /**
     * Whether no pulse has come for as long as rest must be proven, nor since the flow was to rest.
     * The truck's own figure must have had time to follow, too.
     */
    private static boolean silent(Sensed sensed, long since, long now) {
        long quiet = Math.max(sensed.plan().silenceNanos(), sensed.setup().reported().lagNanos());
        return now - since >= quiet
                && now - sensed.lines().reference().lastNanos() >= quiet
                && now - sensed.lines().truck().lastNanos() >= quiet;
    }

    private static BayCommand[] safe(Sensed sensed, BayCommand... more) {
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
    private static RunStep end(RunState state, Outcome outcome) {
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

    private static boolean awaitsStart(RunState state) {
        return state instanceof RunState.Starting
                || state instanceof RunState.Catching s && s.untilNanos() == Long.MAX_VALUE;
    }

    private static long midway(long left, long arrived) {
        return left + (arrived - left) / 2;
    }

    private static String seconds(long nanos) {
        return String.format(Locale.ROOT, "%.0f", nanos / 1e9);
    }

    /** The same state knowing more. */
    private static RunState with(RunState state, Sensed sensed) {
        return switch (state) {
            case RunState.Idle s -> new RunState.Idle(sensed);
            case RunState.Confirming s -> new RunState.Confirming(sensed, s.sinceNanos());
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
