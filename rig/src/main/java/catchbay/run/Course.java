package catchbay.run;

import catchbay.run.BayCommand.Way;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.MassSteadiness;
import catchbay.signal.PulseGate;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a turn means to each state of a run: what waits for time, for rest, for steady flow. */
final class Course {

    /** How long the medium may take to take the trace, ns. */
    private static final long SECURE_NANOS_MAX = 10_000_000_000L;

    private static final String STOP_UNCONFIRMED = "the stop of the flow was not confirmed";

    private Course() {}

    static RunStep turn(RunState state, long now) {
        return switch (state) {
            case RunState.Idle s -> begun(s.sensed(), now);
            case RunState.Confirming s ->
                    s.sensed().setup().part().isPresent()
                            ? Answers.standing(s.sensed(), now)
                            : answerDue(s, s.sinceNanos(), now, "the checklist was not confirmed");
            case RunState.Emptying s ->
                    now < s.untilNanos()
                            ? RunStep.to(s)
                            : Answers.flowing(
                                    s.sensed().with(s.sensed().scale().restarted()),
                                    now,
                                    new BayCommand.Drain(false));
            case RunState.Starting s ->
                    answerDue(s, s.sinceNanos(), now, "the start of the flow was not confirmed");
            case RunState.Purging s ->
                    now < s.untilNanos() ? RunStep.to(s) : purged(s.sensed(), now);
            case RunState.Resting s -> resting(s, now);
            case RunState.Settling s -> settling(s, now);
            // The diverter's switches lead on from here; that they do is seen by an interlock.
            case RunState.Opening s -> RunStep.to(s);
            case RunState.Catching s -> catching(s, now);
            case RunState.Closing s -> RunStep.to(s);
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
            case RunState.Draining s ->
                    now < s.untilNanos() ? RunStep.to(s) : Moves.end(s, s.outcome());
            case RunState.Ended s -> RunStep.to(s);
        };
    }

    /**
     * The first turn: the safe state; a person is asked to confirm the checklist, unless that was
     * done for the whole of a sweep. Nothing moves before every port has told once how it stands.
     */
    private static RunStep begun(Sensed sensed, long now) {
        return RunStep.to(
                new RunState.Confirming(sensed, now),
                sensed.setup().part().isPresent()
                        ? Moves.safe(sensed)
                        : Moves.safe(sensed, new BayCommand.Ask(Question.CHECKLIST)));
    }

    static RunStep answerDue(RunState state, long since, long now, String what) {
        long limit = state.sensed().plan().answerNanosMax();
        if (now - since <= limit) {
            return RunStep.to(state);
        }
        return Moves.end(
                state,
                new Outcome.Void(
                        Cause.NO_ANSWER,
                        "Nobody answered for "
                                + Moves.seconds(limit)
                                + " s: "
                                + what
                                + "; begin again."));
    }

    /** After the purge: a flying catch settles with the flow on, a standing one stops it first. */
    static RunStep purged(Sensed sensed, long now) {
        if (sensed.plan().window() == Window.FLYING) {
            Sensed fresh =
                    sensed.with(sensed.lines().with(sensed.lines().steadiness().restarted()))
                            .with(sensed.scale().restarted());
            return RunStep.to(new RunState.Settling(fresh, now));
        }
        List<BayCommand> commands = new ArrayList<>();
        Sensed stopped = sensed.ledger().flowing() ? Moves.stopFlow(sensed, now, commands) : sensed;
        return rest(stopped, now, commands);
    }

    /** Standing: the diverter goes to the tank while nothing flows; then rest is to be proven. */
    static RunStep rest(Sensed sensed, long now, List<BayCommand> commands) {
        if (sensed.setup().diverter().isPresent() && !sensed.ledger().flowing()) {
            commands.add(new BayCommand.Divert(Way.TANK));
        }
        return new RunStep(
                new RunState.Resting(sensed.with(sensed.scale().restarted()), now), commands);
    }

    static RunStep settling(RunState.Settling s, long now) {
        Sensed sensed = s.sensed();
        Plan plan = sensed.plan();
        FlowSteadiness steadiness = sensed.lines().steadiness();
        boolean toProve = plan.settleSlots() > 0 && sensed.lines().steadyBy().isPresent();
        boolean steady =
                !toProve || steadiness.judgeable() && steadiness.spread() <= plan.settleSpreadMax();
        boolean rising = sensed.lines().sentSpeed().rising();
        if (steady && !rising && sensed.scaleAtRest()) {
            Ledger ledger = sensed.reading().map(sensed.ledger()::tare).orElse(sensed.ledger());
            Lines risen = sensed.lines().risen(plan.silenceNanos());
            Lines waiting = risen.await().with(steadiness.watchFrom(now));
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
                        : rising
                                ? "the speed sent was still rising; lengthen purge_seconds or"
                                        + " shorten ramp_seconds"
                                : !steadiness.judgeable()
                                        ? "too few pulses came to judge the flow; check the pump,"
                                                + " the coupler and the meter's wire"
                                        : String.format(
                                                Locale.ROOT,
                                                "the flow still spread by %.1f %% (limit %.1f %%);"
                                                        + " check for air, pump and controller",
                                                steadiness.spread() * 100,
                                                plan.settleSpreadMax() * 100);
        return Moves.end(
                s,
                new Outcome.Void(
                        Cause.NOT_SETTLED,
                        "Not settled within "
                                + Moves.seconds(plan.settleNanosMax())
                                + " s: "
                                + why
                                + "."));
    }

    static RunStep resting(RunState.Resting s, long now) {
        Sensed sensed = s.sensed();
        if (sensed.ledger().flowing()) {
            return answerDue(s, s.sinceNanos(), now, STOP_UNCONFIRMED);
        }
        boolean diverted = DiverterWatch.stands(sensed, Way.TANK);
        long dripped = s.sinceNanos() + chuteDripNanos(sensed);
        if (now < dripped) {
            return RunStep.to(s);
        }
        MassSteadiness rest = sensed.scale().rest();
        if (rest.readings() > 0 && rest.sinceNanos() < dripped) {
            return RunStep.to(
                    new RunState.Resting(sensed.with(sensed.scale().restarted()), s.sinceNanos()));
        }
        if (diverted && Moves.silent(sensed, s.sinceNanos(), now) && sensed.scaleAtRest()) {
            Ledger ledger = sensed.reading().map(sensed.ledger()::tare).orElse(sensed.ledger());
            Sensed rested = sensed.with(ledger);
            if (ledger.totalBefore().isPresent()) {
                return Answers.stillWeighs(sensed, sensed.ledger().tare())
                        ? openStanding(rested, now)
                        : Moves.end(s, Answers.disturbed());
            }
            if (sensed.setup().reported() instanceof Reported.Display) {
                return RunStep.to(
                        new RunState.Reading(rested, now, Question.TOTAL_BEFORE, Optional.empty()),
                        new BayCommand.Ask(Question.TOTAL_BEFORE));
            }
            return openStanding(rested, now);
        }
        return restDue(s, dripped, now);
    }

    /**
     * What the purge left in the chute runs into the tank when the flap turns: it must not be
     * caught between the two weighings.
     */
    private static long chuteDripNanos(Sensed sensed) {
        boolean purged = sensed.setup().diverter().isPresent() && sensed.plan().purgeNanos() > 0;
        return purged && sensed.setup().scale().isPresent() ? sensed.plan().dripNanos() : 0;
    }

    static RunStep restDue(RunState state, long since, long now) {
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
        return Moves.end(
                state,
                new Outcome.Void(
                        Cause.NOT_AT_REST,
                        "Flow was not at rest within " + Moves.seconds(limit) + " s. " + what));
    }

    /** Standing: the window opens on a line at rest, and the flow is started into it. */
    static RunStep openStanding(Sensed sensed, long now) {
        Sensed opened =
                sensed.with(sensed.lines().open(now, true))
                        .with(sensed.total().open(now))
                        .with(sensed.thermometers().open(now))
                        .with(sensed.coupler().opened());
        List<BayCommand> commands = new ArrayList<>();
        if (sensed.plan().flowBy() == FlowBy.OPERATOR) {
            commands.add(new BayCommand.Ask(Question.START_FLOW));
            return new RunStep(new RunState.Catching(opened, now, Long.MAX_VALUE), commands);
        }
        Sensed flowing = Moves.startFlow(opened, now, commands);
        return new RunStep(
                new RunState.Catching(flowing, now, now + sensed.plan().catchNanos()), commands);
    }

    static RunStep catching(RunState.Catching s, long now) {
        if (s.untilNanos() == Long.MAX_VALUE) {
            return answerDue(s, s.openNanos(), now, "the start of the flow was not confirmed");
        }
        Sensed sensed = s.sensed();
        if (DiverterWatch.strayed(sensed, Way.TANK, s.openNanos(), now)) {
            return Moves.end(s, DiverterWatch.moved());
        }
        if (now < s.untilNanos()) {
            return RunStep.to(s);
        }
        if (sensed.plan().window() == Window.STANDING) {
            List<BayCommand> commands = new ArrayList<>();
            Sensed stopped = Moves.stopFlow(sensed, now, commands);
            return new RunStep(
                    new RunState.Stilling(stopped.with(stopped.scale().restarted()), now),
                    commands);
        }
        Lines lines = sensed.lines().await();
        Sensed waiting = sensed.with(lines.with(lines.steadiness().watchUntil(now)));
        return RunStep.to(
                new RunState.Closing(waiting, now, Ledger.NONE), new BayCommand.Divert(Way.BYPASS));
    }

    static RunStep stilling(RunState.Stilling s, long now) {
        Sensed sensed = s.sensed();
        if (sensed.ledger().flowing()) {
            return answerDue(s, s.sinceNanos(), now, STOP_UNCONFIRMED);
        }
        if (!Moves.silent(sensed, s.sinceNanos(), now) || !sensed.scaleAtRest()) {
            return restDue(s, s.sinceNanos(), now);
        }
        Sensed closed =
                sensed.with(sensed.lines().close(now))
                        .with(sensed.total().close(now))
                        .with(sensed.thermometers().close(now))
                        .with(sensed.coupler().closed());
        RunState next = new RunState.Dripping(closed, now + sensed.plan().dripNanos());
        return sensed.setup().diverter().isPresent()
                ? RunStep.to(next, new BayCommand.Divert(Way.BYPASS))
                : RunStep.to(next);
    }

    static RunStep trailing(RunState.Trailing s, long now) {
        Sensed sensed = s.sensed();
        if (DiverterWatch.strayed(sensed, Way.BYPASS, s.closeNanos(), now)) {
            return Moves.end(s, DiverterWatch.moved());
        }
        boolean complete = windowComplete(sensed) && DiverterWatch.stands(sensed, Way.BYPASS);
        if (!complete && now - s.closeNanos() <= sensed.plan().restNanosMax()) {
            return RunStep.to(s);
        }
        // An incomplete window is not an end here: the comparison says exactly what it lacks.
        List<BayCommand> commands = new ArrayList<>();
        Sensed stopped = Moves.stopFlow(sensed, now, commands);
        return new RunStep(
                new RunState.Dripping(stopped, now + sensed.plan().dripNanos()), commands);
    }

    /** Whether everything after the window's closing that its evaluation needs has come. */
    static boolean windowComplete(Sensed sensed) {
        Lines lines = sensed.lines();
        boolean reference =
                sensed.setup().reference().isEmpty() || lines.reference().hasEdgeAfterClose();
        boolean second = lines.channels().isEmpty() || lines.second().hasEdgeAfterClose();
        boolean others = ended(lines.speed()) && ended(lines.feeder());
        return reference
                && second
                && others
                && switch (sensed.setup().reported()) {
                    case Reported.MeterPulses r -> lines.truck().hasEdgeAfterClose();
                    case Reported.RunningLine r -> totalComplete(sensed);
                    case Reported.Display r -> true;
                    case Reported.Nothing r -> true;
                };
    }

    static boolean ended(PulseGate gate) {
        return gate.inside().pulses() == 0 || gate.hasEdgeAfterClose();
    }

    static RunStep weighing(RunState.Weighing s, long now) {
        Sensed sensed = s.sensed();
        boolean late = now - s.sinceNanos() > sensed.plan().restNanosMax();
        if (!sensed.scaleAtRest()) {
            return late ? Moves.end(s, unweighed(sensed)) : RunStep.to(s);
        }
        // A total that never comes is not an end here: the comparison says that it is lacking.
        if (!totalComplete(sensed) && !late) {
            return RunStep.to(s);
        }
        if (sensed.ledger().totalAfter().isPresent()) {
            return Answers.stillWeighs(sensed, sensed.ledger().gross())
                    ? afterTotals(sensed, now)
                    : Moves.end(s, Answers.disturbed());
        }
        Ledger ledger = sensed.reading().map(sensed.ledger()::gross).orElse(sensed.ledger());
        Sensed weighed = sensed.with(ledger);
        return sensed.setup().reported() instanceof Reported.Display
                ? RunStep.to(
                        new RunState.Reading(weighed, now, Question.TOTAL_AFTER, Optional.empty()),
                        new BayCommand.Ask(Question.TOTAL_AFTER))
                : afterTotals(weighed, now);
    }

    static Outcome unweighed(Sensed sensed) {
        return new Outcome.Void(
                Cause.SCALE_NOT_AT_REST,
                "The scale did not come to rest within "
                        + Moves.seconds(sensed.plan().restNanosMax())
                        + " s after the catch; look for dripping, wind or a swinging hose.");
    }

    /** Whether a running total, where there is one, has come that was sent after the closing. */
    static boolean totalComplete(Sensed sensed) {
        return !(sensed.setup().reported() instanceof Reported.RunningLine)
                || sensed.total().lastNanos() >= sensed.total().closeNanos();
    }

    static RunStep afterTotals(Sensed sensed, long now) {
        boolean askSalt =
                sensed.setup().asked().application() instanceof RunSetup.Application.PreWet preWet
                        && preWet.saltReported();
        if (askSalt && sensed.ledger().salt().isEmpty()) {
            return Answers.askSalt(sensed, now);
        }
        return RunStep.to(new RunState.Comparing(sensed, now), new BayCommand.SecureTrace());
    }

    static RunStep comparing(RunState.Comparing s, long now) {
        if (s.sensed().ledger().durableNanos() < s.sinceNanos()) {
            return now - s.sinceNanos() <= SECURE_NANOS_MAX
                    ? RunStep.to(s)
                    : Moves.end(
                            s,
                            new Outcome.Void(
                                    Cause.TRACE_FAILED,
                                    "The trace was not on the medium within "
                                            + Moves.seconds(SECURE_NANOS_MAX)
                                            + " s; check the disk or card and repeat."));
        }
        Outcome outcome = Evaluation.of(s.sensed());
        long drain = s.sensed().plan().drainNanos();
        return drain == 0
                ? Moves.end(s, outcome)
                : RunStep.to(
                        new RunState.Draining(s.sensed(), now + drain, outcome),
                        new BayCommand.Drain(true));
    }
}
