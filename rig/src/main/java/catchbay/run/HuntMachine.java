package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.PulseConstant;
import catchbay.run.BayCommand.Way;
import catchbay.run.HuntReading.Answer;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.PressureSense;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The course of a hunt for an end of a truck's range as a function: a state and an input give the
 * next state and what is to be done. The flow goes on from step to step, to the bypass; meanwhile
 * the bay is watched over as a run is, by {@link RunMachine} itself, and what ends a run ends the
 * hunt. Its cautions were confirmed before it began.
 */
public final class HuntMachine {

    /** A run that waits for nothing but its interlocks; the hunt ends it. */
    private static final long NEVER = Long.MAX_VALUE;

    /**
     * Pulses of two lines that came at the same moment are told within so long of each other, ns.
     */
    private static final long TOLD_NANOS = 200_000_000L;

    /**
     * However slowly the truck's meter counts, a step is measured so many times as long at most.
     */
    private static final int READING_TIMES_MOST = 10;

    private HuntMachine() {}

    /** The state before the first turn. */
    public static HuntState begin(HuntSetup setup) {
        RunSetup first = setup.at(setup.from());
        return new HuntState(
                setup,
                new RunState.Purging(Sensed.starting(first), NEVER),
                new HuntPhase.Begun(),
                List.of());
    }

    /** One step. */
    public static HuntStep step(HuntState state, RunInput input) {
        // To nobody here it was put, and a run would go on to its catch with it.
        boolean unasked =
                input instanceof RunInput.Done(long _, Question question)
                        && question == Question.START_FLOW;
        if (unasked || state.phase() instanceof HuntPhase.Ended) {
            return HuntStep.to(state);
        }
        RunStep watched = RunMachine.step(state.run(), input);
        HuntState next = state.with(watched.state());
        if (watched.state() instanceof RunState.Ended ended) {
            return new HuntStep(
                    next.in(new HuntPhase.Ended(ended(state.phase(), ended.outcome()))),
                    watched.commands(),
                    Optional.empty());
        }
        return own(next, input).after(watched.commands());
    }

    private static HuntStep own(HuntState state, RunInput input) {
        if (input instanceof RunInput.Turn(long now)) {
            return turn(state, now);
        }
        return input instanceof RunInput.Done(long at, Question question)
                ? done(state, at, question)
                : HuntStep.to(state.in(state.phase().heard(input)));
    }

    /** What was found before the flow is stopped stands, whatever happens then. */
    private static HuntEnd ended(HuntPhase phase, Outcome outcome) {
        return phase instanceof HuntPhase.Stopping(HuntResult result, long since)
                ? new HuntEnd.Reached(result)
                : new HuntEnd.BrokenOff(outcome.reason());
    }

    private static HuntStep turn(HuntState state, long now) {
        return switch (state.phase()) {
            case HuntPhase.Begun _ -> next(state, now).after(List.of(Moves.safe(state.sensed())));
            case HuntPhase.Setting _ -> HuntStep.to(state);
            case HuntPhase.Settling s -> settling(state, s, now);
            case HuntPhase.Turning s -> turning(state, s, now);
            case HuntPhase.Reading s -> reading(state, s, now);
            case HuntPhase.Draining(long until) ->
                    now < until
                            ? HuntStep.to(state)
                            : next(state, now).after(List.of(new BayCommand.Drain(false)));
            case HuntPhase.Stopping s ->
                    now - s.sinceNanos() <= state.sensed().plan().answerNanosMax()
                            ? HuntStep.to(state)
                            : over(state, s.result());
            case HuntPhase.Ended _ -> HuntStep.to(state);
        };
    }

    // From step to step
    // ---------------------------------------------------------------------------------------------

    private static HuntStep next(HuntState state, long now) {
        return switch (HuntCourse.after(state.setup(), state.readings())) {
            case HuntCourse.Next.Step(FlowRate flow, boolean rising) ->
                    asked(state, now, flow, rising);
            case HuntCourse.Next.Over(HuntResult result) -> found(state, now, result);
        };
    }

    private static HuntStep asked(HuntState state, long now, FlowRate flow, boolean rising) {
        Sensed sensed = state.sensed().with(state.setup().at(flow));
        Optional<HuntTask> task = state.setup().task(flow, rising);
        List<BayCommand> commands = new ArrayList<>();
        if (task.isEmpty()) {
            Sensed flowing = Moves.startFlow(sensed, now, commands);
            return new HuntStep(
                    settles(state.with(flowing), now, flow, rising), commands, Optional.empty());
        }
        boolean supplies = sensed.plan().flowBy() == FlowBy.SUPPLY && !sensed.ledger().flowing();
        Sensed fed = supplies ? Moves.startFlow(sensed, now, commands) : sensed;
        HuntState setting =
                state.with(new RunState.Starting(fed, now)).in(new HuntPhase.Setting(flow, rising));
        return new HuntStep(setting, commands, task);
    }

    private static HuntState settles(HuntState state, long at, FlowRate flow, boolean rising) {
        Sensed sensed = state.sensed();
        return state.with(new RunState.Purging(sensed, NEVER))
                .in(new HuntPhase.Settling(flow, rising, at, Lines.starting(sensed.setup())));
    }

    private static HuntStep done(HuntState state, long at, Question question) {
        if (question == Question.HUNT_STEP
                && state.phase() instanceof HuntPhase.Setting(FlowRate flow, boolean rising)) {
            Ledger ledger = state.sensed().ledger();
            Sensed flowing =
                    ledger.flowing() ? state.sensed() : state.sensed().with(ledger.flowOn(at));
            return HuntStep.to(settles(state.with(flowing), at, flow, rising));
        }
        return question == Question.STOP_FLOW
                        && state.phase() instanceof HuntPhase.Stopping(HuntResult result, long _)
                ? over(state, result)
                : HuntStep.to(state);
    }

    /** The bay stops what it has started; a person is asked to, and until then all is watched. */
    private static HuntStep found(HuntState state, long now, HuntResult result) {
        if (state.sensed().plan().flowBy() != FlowBy.OPERATOR) {
            return over(state, result);
        }
        return HuntStep.to(
                state.with(new RunState.Dripping(state.sensed(), NEVER))
                        .in(new HuntPhase.Stopping(result, now)),
                new BayCommand.Ask(Question.STOP_FLOW));
    }

    private static HuntStep over(HuntState state, HuntResult result) {
        return HuntStep.to(
                state.in(new HuntPhase.Ended(new HuntEnd.Reached(result))),
                Moves.safe(state.sensed()));
    }

    // One step
    // ---------------------------------------------------------------------------------------------

    private static HuntStep settling(HuntState state, HuntPhase.Settling s, long now) {
        RunSetup.Plan plan = state.sensed().plan();
        FlowSteadiness steadiness = s.lines().steadiness();
        boolean toProve = plan.settleSlots() > 0 && s.lines().steadyBy().isPresent();
        boolean steady =
                toProve
                        ? steadiness.judgeable() && steadiness.spread() <= plan.settleSpreadMax()
                        : now - s.sinceNanos() >= plan.purgeNanos();
        boolean settled = steady && !state.sensed().lines().sentSpeed().rising();
        if (!settled && now - s.sinceNanos() <= plan.settleNanosMax()) {
            return HuntStep.to(state);
        }
        if (state.setup().byScale()) {
            boolean turns = state.sensed().setup().diverter().isPresent();
            HuntState turning =
                    state.with(new RunState.Catching(state.sensed(), now, NEVER - 1))
                            .in(
                                    new HuntPhase.Turning(
                                            s.asked(), s.rising(), now, settled, s.lines()));
            return turns
                    ? HuntStep.to(turning, new BayCommand.Divert(Way.TANK))
                    : HuntStep.to(turning);
        }
        return HuntStep.to(opened(state, s.asked(), s.rising(), settled, s.lines(), now));
    }

    private static HuntStep turning(HuntState state, HuntPhase.Turning s, long now) {
        long travel =
                state.sensed().setup().diverter().map(RunSetup.Diverter::travelNanosMax).orElse(0L);
        return now - s.sinceNanos() <= travel + Vigil.CHUTE_NANOS
                ? HuntStep.to(state)
                : HuntStep.to(opened(state, s.asked(), s.rising(), s.settled(), s.lines(), now));
    }

    private static HuntState opened(
            HuntState state,
            FlowRate asked,
            boolean rising,
            boolean settled,
            Lines lines,
            long now) {
        Lines watching = lines.with(lines.steadiness().watchFrom(now)).open(now, false);
        Sensed open =
                state.sensed()
                        .with(state.sensed().thermometers().open(now))
                        .with(PressureSense.SILENT.opened());
        return state.with(open)
                .in(
                        new HuntPhase.Reading(
                                asked,
                                rising,
                                settled,
                                now + readingNanos(state, asked, lines),
                                watching,
                                TruckTrain.opened(now),
                                HuntPhase.Weighed.NONE));
    }

    /** Until the truck's meter owes enough pulses that their lack means something. */
    private static long readingNanos(HuntState state, FlowRate asked, Lines lines) {
        HuntRules rules = state.setup().rules();
        double owedPerSecond = flowNow(state, lines).orElse(asked).litresPerSecond() * owed(state);
        double most = (double) READING_TIMES_MOST * rules.readingNanos();
        double wanted = owedPerSecond == 0 ? 0 : rules.pulsesLeast() * 1e9 / owedPerSecond;
        return (long) Math.min(most, Math.max(rules.readingNanos(), wanted));
    }

    /** Pulses of the truck's meter for a litre; 0 where they are not tapped, or not known. */
    private static double owed(HuntState state) {
        RunSetup setup = state.sensed().setup();
        return setup.reported() instanceof RunSetup.Reported.MeterPulses
                ? setup.truck().constant().pulses().map(PulseConstant::pulsesPerLitre).orElse(0.0)
                : 0;
    }

    /** The flow by the last slots, about; empty where the reference does not tell it. */
    private static Optional<FlowRate> flowNow(HuntState state, Lines lines) {
        double rate = lines.steadiness().pulsesPerSecond();
        return rate == 0
                ? Optional.empty()
                : state.sensed()
                        .setup()
                        .reference()
                        .map(meter -> new FlowRate(rate / Vigil.pulsesPerLitre(meter)));
    }

    private static HuntStep reading(HuntState state, HuntPhase.Reading s, long now) {
        long closed = s.train().closeNanos();
        if (s.isOpen()) {
            return now < s.untilNanos() ? HuntStep.to(state) : HuntStep.to(closed(state, s, now));
        }
        boolean told =
                now - closed >= TOLD_NANOS
                        && (state.setup().byScale()
                                || s.lines().reference().hasEdgeAfterClose()
                                || now - closed > state.sensed().plan().restNanosMax());
        if (!told) {
            return HuntStep.to(state);
        }
        HuntState read = state.and(judged(state, s));
        HuntState back = read.with(new RunState.Purging(read.sensed(), NEVER));
        return state.setup().byScale() ? emptied(back, now) : next(back, now);
    }

    /** Each step finds the tank as empty as the one before, where the bay can drain it. */
    private static HuntStep emptied(HuntState state, long now) {
        RunSetup setup = state.sensed().setup();
        List<BayCommand> commands = new ArrayList<>();
        if (setup.diverter().isPresent()) {
            commands.add(new BayCommand.Divert(Way.BYPASS));
        }
        long drain = setup.plan().drainNanos();
        if (drain == 0) {
            return next(state, now).after(commands);
        }
        commands.add(new BayCommand.Drain(true));
        return new HuntStep(
                state.in(new HuntPhase.Draining(now + drain)), commands, Optional.empty());
    }

    private static HuntState closed(HuntState state, HuntPhase.Reading s, long now) {
        Sensed sensed = state.sensed();
        return state.with(
                        sensed.with(sensed.thermometers().close(now))
                                .with(sensed.coupler().closed()))
                .in(s.closed(now));
    }

    // What a step shows
    // ---------------------------------------------------------------------------------------------

    private static HuntReading judged(HuntState state, HuntPhase.Reading s) {
        long window = s.lines().reference().closeNanos() - s.lines().reference().openNanos();
        try {
            Lines lines = s.lines();
            if (lines.truck().inside().missing() > 0) {
                throw new Unfit(
                        Outcome.Cause.EDGES_LOST,
                        Interlocks.edgesLostSentence(lines.truck().inside().missing()));
            }
            MeasuredFlow flow = HuntMeter.flow(state.sensed().with(lines), s.weighed());
            Optional<HuntReading.Train> train =
                    owed(state) == 0
                            ? Optional.empty()
                            : Optional.of(train(state, s, flow, window));
            Answer answer =
                    switch (state.setup().end()) {
                        case LOW -> counts(state, s, train.orElseThrow(), window);
                        case HIGH -> follows(state, s, flow);
                    };
            return reading(
                    state, s, Optional.of(flow), answer, train, window, note(state, s, train));
        } catch (Unfit unfit) {
            return reading(
                    state,
                    s,
                    Optional.empty(),
                    Answer.UNTOLD,
                    Optional.empty(),
                    window,
                    Optional.of(unfit.getMessage()));
        }
    }

    private static HuntReading.Train train(
            HuntState state, HuntPhase.Reading s, MeasuredFlow flow, long window) {
        return new HuntReading.Train(
                s.lines().truck().inside().pulses(),
                flow.rate().during(window).litres() * owed(state),
                s.train().silenceNanos());
    }

    private static Answer counts(
            HuntState state, HuntPhase.Reading s, HuntReading.Train train, long window) {
        HuntRules rules = state.setup().rules();
        if (!s.settled() || owesLittle(state, train)) {
            return Answer.UNTOLD;
        }
        if (train.pulses() == 0) {
            return Answer.SILENT;
        }
        boolean gap = train.silenceNanos() * (double) train.pulses() > rules.gapMost() * window;
        boolean few = train.pulses() < rules.countedLeast().value() * train.due();
        return gap || few ? Answer.INTERMITTENT : Answer.COUNTING;
    }

    private static Answer follows(HuntState state, HuntPhase.Reading s, MeasuredFlow flow) {
        return s.settled() && HuntCourse.follows(state.setup(), state.readings(), s.asked(), flow)
                ? Answer.FOLLOWS
                : Answer.FALLS_SHORT;
    }

    private static Optional<String> note(
            HuntState state, HuntPhase.Reading s, Optional<HuntReading.Train> train) {
        if (!s.settled()) {
            return Optional.of(
                    String.format(
                            Locale.ROOT,
                            "The flow did not become steady in time (it spread by %.1f %%).",
                            s.lines().steadiness().spread() * 100));
        }
        return state.setup().end() == RangeEnd.LOW && owesLittle(state, train.orElseThrow())
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The truck's meter owed no more than %.1f pulses, too few to tell;"
                                        + " lengthen hunt.reading_seconds.",
                                train.get().due()))
                : Optional.empty();
    }

    private static boolean owesLittle(HuntState state, HuntReading.Train train) {
        return train.due() < state.setup().rules().pulsesLeast() / 2.0;
    }

    private static HuntReading reading(
            HuntState state,
            HuntPhase.Reading s,
            Optional<MeasuredFlow> flow,
            Answer answer,
            Optional<HuntReading.Train> train,
            long window,
            Optional<String> note) {
        return new HuntReading(
                state.readings().size() + 1,
                s.rising(),
                s.asked(),
                flow,
                answer,
                train,
                window,
                state.sensed().coupler().inWindow().map(PressureSense.InWindow::most),
                note);
    }
}
