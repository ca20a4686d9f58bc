package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.Plan;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What the operator's answers mean to a run. */
final class Answers {

    private Answers() {}

    static RunStep confirmed(RunState state, long at, String by) {
        if (!(state instanceof RunState.Confirming s) || awaitsSpeed(s)) {
            return RunStep.to(state);
        }
        Sensed sensed = s.sensed().with(s.sensed().ledger().confirmed(by));
        // Of what a bay sends that does not tell of it, as none did at first, nobody was asked.
        boolean sends =
                sensed.plan().flowBy() == FlowBy.GROUND_SPEED && sensed.lines().sentSpeed().told();
        return sends
                ? RunStep.to(
                        new RunState.Confirming(sensed, at),
                        new BayCommand.Ask(Question.SPEED_CHECKLIST))
                : begun(sensed, at);
    }

    static RunStep speedConfirmed(RunState state, long at, String by) {
        return state instanceof RunState.Confirming s && awaitsSpeed(s)
                ? begun(s.sensed().with(s.sensed().ledger().speedConfirmed(by)), at)
                : RunStep.to(state);
    }

    /** Of the two that are confirmed one after the other, the first one is. */
    private static boolean awaitsSpeed(RunState.Confirming confirming) {
        return confirming.sensed().ledger().confirmedBy().isPresent();
    }

    /** A part of a sweep: who has confirmed its checklist has confirmed this one, too. */
    static RunStep standing(Sensed sensed, long at) {
        String by = sensed.setup().part().orElseThrow().confirmedBy();
        Ledger ledger = sensed.ledger().confirmed(by);
        return begun(
                sensed.with(
                        sensed.setup()
                                .part()
                                .flatMap(Part::speedConfirmedBy)
                                .map(ledger::speedConfirmed)
                                .orElse(ledger)),
                at);
    }

    private static RunStep begun(Sensed sensed, long at) {
        Optional<String> lost = Warmth.lostBefore(sensed);
        if (lost.isPresent()) {
            return Moves.end(
                    new RunState.Confirming(sensed, at),
                    new Outcome.Void(Cause.TEMPERATURE_LOST, lost.get()));
        }
        long emptied = sensed.setup().part().map(Part::emptyNanos).orElse(0L);
        return emptied == 0
                ? flowing(sensed, at)
                : RunStep.to(
                        new RunState.Emptying(sensed, at + emptied + sensed.plan().dripNanos()),
                        new BayCommand.Drain(true));
    }

    /** The flow begins, or rest is proven before it does. */
    static RunStep flowing(Sensed sensed, long at, BayCommand... before) {
        Plan plan = sensed.plan();
        List<BayCommand> commands = new ArrayList<>(List.of(before));
        if (plan.window() == Window.STANDING && plan.purgeNanos() == 0) {
            return Course.rest(sensed, at, commands);
        }
        if (plan.flowBy() == FlowBy.OPERATOR) {
            commands.add(new BayCommand.Ask(Question.START_FLOW));
            return new RunStep(new RunState.Starting(Moves.flowAsked(sensed, at), at), commands);
        }
        Sensed flowing = Moves.startFlow(sensed, at, commands);
        return new RunStep(new RunState.Purging(flowing, at + plan.purgeNanos()), commands);
    }

    static RunStep done(RunState state, long at, Question question) {
        return switch (question) {
            case START_FLOW -> flowStarted(state, at);
            case STOP_FLOW ->
                    state.sensed().ledger().flowing() ? flowStopped(state, at) : RunStep.to(state);
            case CHECKLIST,
                    SPEED_CHECKLIST,
                    PRESENCE,
                    TOTAL_BEFORE,
                    TOTAL_AFTER,
                    TOTAL_AGAIN,
                    SALT_REPORTED,
                    KEEP_RUN,
                    SEEN_MOVING,
                    SWEEP_STEP,
                    HUNT_STEP,
                    LOAD_SCALE ->
                    RunStep.to(state);
        };
    }

    static RunStep flowStarted(RunState state, long at) {
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
    static RunStep flowStopped(RunState state, long at) {
        Sensed stopped = state.sensed().with(state.sensed().ledger().flowOff(at));
        if (state instanceof RunState.Resting) {
            return Course.rest(stopped, at, new ArrayList<>());
        }
        if (state instanceof RunState.Stilling) {
            return RunStep.to(new RunState.Stilling(stopped.with(stopped.scale().restarted()), at));
        }
        boolean after = state instanceof RunState.Dripping || state instanceof RunState.Weighing;
        return RunStep.to(after ? RunMachine.with(state, stopped) : state);
    }

    static RunStep typed(RunState state, long at, Volume total) {
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
                double asked = Evaluation.asked(sensed).litres();
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
                        : Moves.end(
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
            case CHECKLIST,
                    SPEED_CHECKLIST,
                    PRESENCE,
                    START_FLOW,
                    STOP_FLOW,
                    SALT_REPORTED,
                    KEEP_RUN,
                    SEEN_MOVING,
                    SWEEP_STEP,
                    HUNT_STEP,
                    LOAD_SCALE ->
                    RunStep.to(state);
        };
    }

    /**
     * The display was read at rest. What ran between the weighing and the typing would be in one of
     * the two amounts only, so a tank that does not rest is weighed once more before the window
     * opens.
     */
    static RunStep readBefore(RunState.Reading s, Volume total, long at) {
        Sensed sensed = s.sensed().with(s.sensed().ledger().totalBefore(total));
        if (!DiverterWatch.stands(sensed, Way.TANK)) {
            return Moves.end(s, DiverterWatch.moved());
        }
        Lines lines = sensed.lines();
        if (Math.max(lines.reference().lastNanos(), lines.truck().lastNanos()) >= s.sinceNanos()) {
            return Moves.end(s, disturbed());
        }
        return stillWeighs(sensed, sensed.ledger().tare())
                ? Course.openStanding(sensed, at)
                : Course.rest(sensed, at, new ArrayList<>());
    }

    /** The same after the window; pulses that came since its end are found in the comparison. */
    static RunStep readAfter(Sensed sensed, long at) {
        return stillWeighs(sensed, sensed.ledger().gross())
                ? Course.afterTotals(sensed, at)
                : RunStep.to(new RunState.Weighing(sensed.with(sensed.scale().restarted()), at));
    }

    /** Whether the scale rests within its band of what it weighed; true where there is none. */
    static boolean stillWeighs(Sensed sensed, Optional<Mass> weighed) {
        return weighed.map(mass -> sensed.scaleAtRest() && withinRestBand(sensed, mass))
                .orElse(true);
    }

    static boolean withinRestBand(Sensed sensed, Mass weighed) {
        double band = sensed.setup().scale().orElseThrow().restBand().kilograms();
        double apart = sensed.reading().orElseThrow().minus(weighed).kilograms();
        return Math.abs(apart) <= band;
    }

    static Outcome disturbed() {
        return new Outcome.Void(
                Cause.NOT_AT_REST,
                "Liquid ran while the truck's display was read; look for a leak or a dripping hose,"
                        + " lengthen the drip and repeat the catch.");
    }

    static RunStep salt(RunState state, long at, Mass salt) {
        if (!(state instanceof RunState.Reading s) || s.question() != Question.SALT_REPORTED) {
            return RunStep.to(state);
        }
        // No salt would ask for no liquid: that is a slip of the hand, so it is asked again.
        return salt.kilograms() > 0
                ? Course.afterTotals(s.sensed().with(s.sensed().ledger().salt(salt)), at)
                : askSalt(s.sensed(), at);
    }

    static RunStep askSalt(Sensed sensed, long now) {
        return RunStep.to(
                new RunState.Reading(sensed, now, Question.SALT_REPORTED, Optional.empty()),
                new BayCommand.Ask(Question.SALT_REPORTED));
    }
}
