package catchbay.sim.honesty;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.LiquidDensity;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand;
import catchbay.run.BayContact;
import catchbay.run.Doubts;
import catchbay.run.Ledger;
import catchbay.run.Outcome;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.RunState;
import catchbay.run.RunStep;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.Tally;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * One catch in a drawn bay, by the program's own state machine: what it would have learned, with
 * every error really in it, and what was true. The flow is steady and begins and ends at once.
 */
final class PlayedCatch {

    /** What was true, volumes in litres at the truck meter's temperature, errors as ratios. */
    record Truth(
            double measured, double meterError, double controlError, double applicationError) {}

    private static final long TURN_NANOS = 500_000_000L;
    private static final long RUN_NANOS_MAX = 1_000_000_000_000L;
    private static final long NEVER = -1;
    private static final double GALLON = Volume.ofUsGallons(1).litres();

    private record Due(long atNanos, RunInput input) {}

    private final Bay bay;
    private final Day day;
    private final Dice dice;
    private final RunSetup setup;
    private final double truckError;

    /** True litres/s at the truck's meter. */
    private final double flow;

    /** The same as the truck counts it. */
    private final double counted;

    /** Asked litres/s, as fast as the truck really goes. */
    private final double asked;

    private final double storedShare;
    private final double tareNoise;
    private final double grossNoise;
    private final double otherKilograms;
    private final double startKilograms;
    private final double startGallons;
    private final double sendPhase;

    private final Map<PulseLine, Double> hertz = new EnumMap<>(PulseLine.class);
    private final Map<PulseLine, Double> phase = new EnumMap<>(PulseLine.class);
    private final Map<PulseLine, Long> number = new EnumMap<>(PulseLine.class);
    private final List<Due> due = new ArrayList<>();
    private RunState state;
    private long now;
    private boolean flowing;
    private boolean sent;
    private long flowOnNanos = NEVER;
    private long flowOffNanos = NEVER;

    private PlayedCatch(Bay bay, Day day, double truckError, Dice dice) {
        this.bay = bay;
        this.day = day;
        this.dice = dice;
        this.setup = bay.setup();
        this.truckError = truckError;
        double set = askedLitresPerSecond(setup.asked());
        asked = setup.asked().pulsesPerMile().isPresent() ? set : set * (1 + bay.errors().speed());
        flow = set * (1 + dice.even(0.03));
        double scatter = day.scatter() + dice.normal(bay.runDeviation());
        // The model's own convention: reported / measured (1 + scatter) is the truck's own error.
        counted = flow * (1 + truckError) / (1 + scatter);
        Doubts.Line line = setup.doubts().line();
        double stored =
                dice.even(line.kelvin() * Math.abs(expansion()) * line.stored().litres())
                        + dice.even(line.swell().litres());
        storedShare = stored / (flow * setup.plan().catchNanos() / 1e9);
        Doubts.Scale scale = setup.doubts().scale();
        tareNoise = dice.normal(scale.repeatability().kilograms());
        grossNoise = dice.normal(scale.repeatability().kilograms());
        otherKilograms =
                bay.errors().load()
                        + dice.even(scale.zeroDrift().kilograms())
                        + dice.even(scale.drip().kilograms());
        startKilograms = dice.between(20, 21);
        startGallons = dice.between(100, 101);
        sendPhase = dice.between(0, 0.99);
        lines();
        state = RunMachine.begin(setup);
    }

    /** Plays a catch to its end. */
    static PlayedCatch of(Bay bay, Day day, double truckError, Dice dice) {
        PlayedCatch played = new PlayedCatch(bay, day, truckError, dice);
        played.play();
        return played;
    }

    Outcome outcome() {
        return ((RunState.Ended) state).outcome();
    }

    Truth truth() {
        return new Truth(flow * windowSeconds(), truckError, counted / asked - 1, flow / asked - 1);
    }

    private static double askedLitresPerSecond(RunSetup.Asked asked) {
        RunSetup.Application.Direct direct = (RunSetup.Application.Direct) asked.application();
        return direct.rate().over(asked.speed().during(1e9), direct.lanes()).litres();
    }

    private double expansion() {
        LiquidDensity stated = bay.liquid().stated();
        return -stated.slopePerCelsius().orElseThrow() / stated.density().kilogramsPerCubicMetre();
    }

    /** By how much a volume is larger at the truck's meter than at the reference. */
    private double warming() {
        return 1 + expansion() * (1 + bay.errors().expansion()) * bay.errors().warmer();
    }

    private void lines() {
        setup.reference()
                .ifPresent(reference -> {
                    double here = flow * (1 - storedShare) / warming();
                    double constant =
                            Bay.pulsesPerLitre(reference.curve(), here, bay.errors().bend())
                                    * (1 + bay.errors().constant());
                    hertz.put(PulseLine.REFERENCE, here * constant);
                });
        double truckConstant = setup.truck().constant().pulses().orElseThrow().pulsesPerLitre();
        hertz.put(PulseLine.TRUCK, counted * truckConstant);
        setup.asked()
                .pulsesPerMile()
                .ifPresent(perMile ->
                        hertz.put(
                                PulseLine.SPEED,
                                perMile * setup.asked().speed().milesPerHour() / 3600));
        for (PulseLine line : hertz.keySet()) {
            phase.put(line, dice.between(0, 1));
            number.put(line, 0L);
        }
    }

    // The loop
    // ----------------------------------------------------------------------------------------------------

    private void play() {
        if (byEnds()) {
            due.add(new Due(0, new RunInput.Contact(0, BayContact.DIVERTER_AT_BYPASS, true)));
        }
        while (!(state instanceof RunState.Ended)) {
            if (now > RUN_NANOS_MAX) {
                throw new AssertionError("a played catch never ends: " + state.key());
            }
            turn();
        }
    }

    private void turn() {
        long before = now;
        give(new RunInput.Turn(now));
        now += TURN_NANOS;
        if (flowing) {
            hertz.keySet().forEach(line -> pulses(line, before));
        }
        List<Due> ripe =
                due.stream()
                        .filter(d -> d.atNanos <= now)
                        .sorted(Comparator.comparingLong(Due::atNanos))
                        .toList();
        due.removeAll(ripe);
        for (Due d : ripe) {
            give(d.input);
        }
        if (setup.scale().isPresent()) {
            give(new RunInput.Scale(now, weight()));
        }
        if (setup.reported() instanceof RunSetup.Reported.RunningLine line) {
            long at = now - (long) (sendPhase * TURN_NANOS);
            long seen = at - (long) (line.lagNanos() * dice.between(0, 1));
            give(new RunInput.ControllerTotal(at, shown(line.step(), seen, 0)));
        }
    }

    private void give(RunInput input) {
        if (state instanceof RunState.Ended) {
            return;
        }
        RunStep step = RunMachine.step(state, input);
        state = step.state();
        step.commands().forEach(this::perform);
    }

    private void pulses(PulseLine line, long before) {
        double perNano = hertz.get(line) / 1e9;
        double start = phase.get(line);
        double end = start + perNano * (now - before);
        long first = (long) Math.floor(start) + 1;
        int count = (int) ((long) Math.floor(end) - first + 1);
        phase.put(line, end);
        if (count == 0) {
            return;
        }
        long[] stamps = new long[count];
        for (int i = 0; i < count; i++) {
            double uneven = line == PulseLine.SPEED ? 0 : dice.normal(bay.uneven());
            long stamp = before + Math.round((first + i - start + uneven) / perNano);
            stamps[i] = Math.clamp(stamp, before + 1, now);
        }
        give(new RunInput.Edges(line, EdgeBatch.of(number.get(line), stamps)));
        number.merge(line, (long) count, Long::sum);
    }

    private void perform(BayCommand command) {
        switch (command) {
            case BayCommand.Divert(BayCommand.Way way) -> divert(way);
            case BayCommand.GroundSpeed(double rate) -> {
                if (setup.plan().flowBy() == RunSetup.FlowBy.GROUND_SPEED) {
                    flow(rate > 0);
                }
            }
            case BayCommand.Supply(boolean on) -> {
                if (setup.plan().flowBy() == RunSetup.FlowBy.SUPPLY) {
                    flow(on);
                }
            }
            case BayCommand.Drain _, BayCommand.Feeder _ -> {}
            case BayCommand.Ask(Question question) -> answer(question);
            case BayCommand.SecureTrace _ ->
                    due.add(
                            new Due(
                                    now + TURN_NANOS,
                                    new RunInput.TraceDurable(now + TURN_NANOS, now + TURN_NANOS)));
        }
    }

    private void flow(boolean on) {
        if (on && flowOnNanos == NEVER) {
            flowOnNanos = now;
        } else if (!on && flowing) {
            flowOffNanos = now;
        }
        flowing = on;
    }

    /** For how long liquid had flowed at a stamp, s. */
    private double flowedSeconds(long nanos) {
        if (flowOnNanos == NEVER) {
            return 0;
        }
        long end = flowOffNanos == NEVER ? nanos : Math.min(nanos, flowOffNanos);
        return Math.max(0, end - flowOnNanos) / 1e9;
    }

    /** Triggers pass after a while; end switches open and close, a while apart. */
    private void divert(BayCommand.Way way) {
        boolean tank = way == BayCommand.Way.TANK;
        if (tank == sent) {
            return;
        }
        sent = tank;
        if (!byEnds()) {
            contact(dice.between(0.1, 0.5), BayContact.DIVERTER_TRIGGER, tank);
            return;
        }
        double leaves = dice.between(0.05, 0.15);
        contact(leaves, tank ? BayContact.DIVERTER_AT_BYPASS : BayContact.DIVERTER_AT_TANK, false);
        contact(
                leaves + dice.between(0.1, 0.3),
                tank ? BayContact.DIVERTER_AT_TANK : BayContact.DIVERTER_AT_BYPASS,
                true);
    }

    private void contact(double seconds, BayContact contact, boolean active) {
        long at = now + Math.round(seconds * 1e9);
        due.add(new Due(at, new RunInput.Contact(at, contact, active)));
    }

    private boolean byEnds() {
        return setup.diverter()
                .map(diverter -> diverter.feedback() == RunSetup.Feedback.ENDS)
                .orElse(false);
    }

    private void answer(Question question) {
        long at = now + TURN_NANOS;
        RunInput answer =
                switch (question) {
                    case CHECKLIST -> new RunInput.ChecklistConfirmed(at, "study");
                    case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                            new RunInput.TotalTyped(at, shown(setup.reported().step(), at, 0.5));
                    case SPEED_CHECKLIST,
                            START_FLOW,
                            STOP_FLOW,
                            SALT_REPORTED,
                            KEEP_RUN,
                            PRESENCE,
                            LOAD_SCALE,
                            SWEEP_STEP,
                            HUNT_STEP,
                            SEEN_MOVING ->
                            throw new AssertionError("the study asks nobody to " + question);
                };
        due.add(new Due(at, answer));
    }

    /** The truck's total in its steps: a display rounds (up from 0.5), a counter cuts off (0). */
    private Volume shown(Volume step, long atNanos, double up) {
        double total = startGallons * GALLON + counted * flowedSeconds(atNanos);
        return new Volume(Math.floor(total / step.litres() + up) * step.litres());
    }

    // The scale
    // ---------------------------------------------------------------------------------------------------

    private ScaleFrame weight() {
        double step = setup.scale().orElseThrow().resolution().kilograms();
        PulseGate window = state.sensed().lines().reference();
        boolean done = standing() ? flowOffNanos != NEVER : window.closeNanos() != Tally.NONE;
        boolean begun = standing() ? flowOnNanos != NEVER : window.openNanos() != Tally.NONE;
        double more = done ? netKilograms() + grossNoise : begun ? filledKilograms() : tareNoise;
        return new ScaleFrame.Weight(
                Math.rint((startKilograms + more) / step) * step,
                MassUnit.KILOGRAM,
                false,
                begun && !done);
    }

    /** What has run into the tank so far, near enough for a weight that nothing is computed of. */
    private double filledKilograms() {
        double seconds =
                standing()
                        ? flowedSeconds(now)
                        : (now - state.sensed().lines().reference().openNanos()) / 1e9;
        return flow * seconds / 1000 * day.density();
    }

    /** What the scale would show of the catch if it had no steps and did not scatter. */
    private double netKilograms() {
        double litres = flow * windowSeconds() * (1 - storedShare);
        if (!standing()) {
            Ledger ledger = state.sensed().ledger();
            double travel = (ledger.openTravelNanos() + ledger.closeTravelNanos()) / 1e9;
            double more = bay.errors().timing() + (byEnds() ? bay.errors().crossing() * travel : 0);
            litres *= (windowSeconds() + more) / windowSeconds();
        }
        Mass mass = new Mass(litres / warming() / 1000 * day.density());
        double inAir =
                Buoyancy.reading(mass, new Density(day.density()), new Density(day.air()))
                        .kilograms();
        return inAir / (1 + bay.errors().span() + day.span()) - otherKilograms;
    }

    private boolean standing() {
        return setup.plan().window() == RunSetup.Window.STANDING;
    }

    /** How long liquid truly ran in the window, s. */
    private double windowSeconds() {
        if (standing()) {
            return flowedSeconds(Long.MAX_VALUE);
        }
        PulseGate window = state.sensed().lines().reference();
        return (window.closeNanos() - window.openNanos()) / 1e9;
    }
}
