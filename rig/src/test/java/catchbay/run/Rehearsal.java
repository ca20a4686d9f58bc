package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Estimate;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.FlowBy;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.Set;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;

/**
 * A bay played by the book for one run: it does what the run commands, a person answers, and every
 * input is kept. What a test wants otherwise it switches off or gives by hand. Steady flow, no
 * physics: the stand-in bay has that.
 */
final class Rehearsal {

    /** From turn to turn; edges and frames of a turn are delivered after it, as the loop does. */
    static final long TURN_NANOS = 20_000_000L;

    private static final long FRAME_NANOS = 100_000_000L;
    private static final long TOTAL_NANOS = 500_000_000L;
    private static final double GALLONS_PER_MINUTE = 5;

    private record Due(long atNanos, int order, RunInput input) {}

    /** Every input of the run so far. */
    final List<RunInput> inputs = new ArrayList<>();

    /** Every state key of the run so far, without repetition. */
    final List<String> course = new ArrayList<>();

    final RunSetup setup;
    RunState state;

    /** Pulses/s of each line while liquid flows; change to rehearse another meter. */
    final Map<PulseLine, Double> hertz = new EnumMap<>(PulseLine.class);

    /** US gallons a minute that the truck's total grows by while liquid flows. */
    double reportedPerMinute = GALLONS_PER_MINUTE;

    /** What each thermometer shows, once a second. */
    final Map<TemperaturePlace, Double> celsius = new EnumMap<>(TemperaturePlace.class);

    /** What the gauge at the coupler says, once a second; null where none is fitted. */
    Supplier<PressureReading> gauge;

    /** Pulses come and are stamped, and are told only once the reader goes on. */
    boolean readerStands;

    private long stoodNanos;
    boolean flapMoves = true;
    boolean scaleSends = true;
    boolean totalSends = true;
    boolean answers = true;
    boolean answersStop = true;
    boolean traceDurable = true;
    double personSeconds = 1;
    double startTotal = 100;
    double saltTons = 0.5;
    double startKilograms = 20;

    /** What an earlier catch has left in the tank. */
    double heldLitres;

    boolean drainOpens = true;

    /** Step of the running total, US gal; as fine as can be unless a test wants it coarse. */
    double totalStep = 1e-9;

    /** Over how long the speed sent rises, each step of 0.1 s told; below 0 nothing is told. */
    double rampSeconds = -1;

    UnaryOperator<ScaleFrame> frames = frame -> frame;

    private final PriorityQueue<Due> due =
            new PriorityQueue<>(
                    java.util.Comparator.comparingLong(Due::atNanos).thenComparingInt(Due::order));
    private final Map<PulseLine, Double> phase = new EnumMap<>(PulseLine.class);
    private final Map<PulseLine, Long> number = new EnumMap<>(PulseLine.class);
    private final Set<PulseLine> missing = EnumSet.noneOf(PulseLine.class);
    private final List<BayCommand> commands = new ArrayList<>();
    private long now;
    private int order;
    private boolean flowing;
    private boolean toTank;
    private boolean draining;
    private double caughtLitres;
    private double reportedGallons;
    private long frameNanos;
    private long totalNanos;
    private long thermometerNanos;

    Rehearsal(Setups setups) {
        this(setups.build());
    }

    Rehearsal(RunSetup setup) {
        this.setup = setup;
        state = RunMachine.begin(setup);
        course.add(state.key());
        hertz.put(PulseLine.REFERENCE, GALLONS_PER_MINUTE / 60 * 1000);
        if (setup.reference().filter(RunSetup.Reference::twoChannels).isPresent()) {
            hertz.put(PulseLine.REFERENCE_SECOND, hertz.get(PulseLine.REFERENCE));
        }
        hertz.put(PulseLine.TRUCK, GALLONS_PER_MINUTE / 60 * 600);
        if (setup.plan().flowBy() == FlowBy.GROUND_SPEED) {
            hertz.put(PulseLine.SPEED, 36_000.0 * 20 / 3600);
        }
        for (PulseLine line : PulseLine.values()) {
            phase.put(line, 0.5);
            number.put(line, 0L);
        }
        phase.put(PulseLine.REFERENCE_SECOND, 0.25);
        setup.doubts().temperatures().sensors().places().forEach(place -> celsius.put(place, 10.0));
        toTank = setup.diverter().isEmpty();
        if (setup.diverter().isPresent() && setup.diverter().get().feedback() == Feedback.ENDS) {
            in(0, new RunInput.Contact(0, BayContact.DIVERTER_AT_BYPASS, true));
        }
    }

    long now() {
        return now;
    }

    /** Gives an input by hand, at once. */
    Rehearsal give(RunInput input) {
        inputs.add(input);
        RunStep step = RunMachine.step(state, input);
        state = step.state();
        if (!course.getLast().equals(state.key())) {
            course.add(state.key());
        }
        commands.addAll(step.commands());
        step.commands().forEach(this::perform);
        return this;
    }

    /** Gives an input so many seconds from now. */
    Rehearsal in(double seconds, RunInput input) {
        due.add(new Due(now + Setups.nanos(seconds), order++, input));
        return this;
    }

    /** A contact so many seconds from now. */
    Rehearsal contactIn(double seconds, BayContact contact, boolean active) {
        return in(seconds, new RunInput.Contact(now + Setups.nanos(seconds), contact, active));
    }

    /** Turns until this state is reached, or the run ends. */
    Rehearsal until(String key) {
        while (!state.key().equals(key) && !(state instanceof RunState.Ended)) {
            turn();
        }
        assertEquals(key, state.key(), () -> "course " + course + ", " + ending());
        return this;
    }

    /** Turns for so long. */
    Rehearsal run(double seconds) {
        long end = now + Setups.nanos(seconds);
        while (now < end) {
            turn();
        }
        return this;
    }

    /** Turns to the end. */
    Outcome outcome() {
        while (!(state instanceof RunState.Ended)) {
            turn();
        }
        return ((RunState.Ended) state).outcome();
    }

    /** Turns to the end, which must be a measured catch. */
    CatchResult result() {
        Outcome outcome = outcome();
        return assertInstanceOf(Outcome.Measured.class, outcome, outcome.reason()).result();
    }

    /** The commands since this was last asked. */
    List<BayCommand> commands() {
        List<BayCommand> since = List.copyOf(commands);
        commands.clear();
        return since;
    }

    /** Starts or stops the liquid by hand. */
    Rehearsal flow(boolean on) {
        flowing = on;
        return this;
    }

    /** Liquid that finds its way into the tank by itself. */
    Rehearsal spill(double litres) {
        caughtLitres += litres;
        return this;
    }

    /** The person forgets every question still open. */
    Rehearsal unasked() {
        due.removeIf(d -> !(d.input instanceof RunInput.Contact));
        return this;
    }

    /** An edge given by hand has taken the line's next number. */
    Rehearsal skipNumber(PulseLine line) {
        number.merge(line, 1L, Long::sum);
        return this;
    }

    /** The line's next pulse comes to nobody, and takes no number. */
    Rehearsal missOne(PulseLine line) {
        missing.add(line);
        return this;
    }

    double caughtLitres() {
        return caughtLitres;
    }

    private String ending() {
        return state instanceof RunState.Ended ended ? ended.outcome().reason() : "not ended";
    }

    /**
     * One turn, then what came since the last one, by port: edges, contacts, scale, total, person.
     */
    void turn() {
        long before = now;
        give(new RunInput.Turn(now));
        now += TURN_NANOS;
        if (flowing && readerStands) {
            stoodNanos += now - before;
        } else if (flowing) {
            pulses(before - stoodNanos);
            stoodNanos = 0;
        }
        double part = (now - before) / 60e9;
        if (flowing && toTank) {
            caughtLitres += Volume.ofUsGallons(GALLONS_PER_MINUTE * part).litres();
        }
        heldLitres = draining ? Math.max(0, heldLitres - (now - before) / 1e9) : heldLitres;
        reportedGallons += flowing ? reportedPerMinute * part : 0;
        while (!due.isEmpty() && due.peek().atNanos <= now) {
            RunInput input = due.remove().input;
            flap(input);
            valve(input);
            give(input);
        }
        if (setup.scale().isPresent() && scaleSends && now - frameNanos >= FRAME_NANOS) {
            frameNanos = now;
            give(new RunInput.Scale(now, frames.apply(weight())));
        }
        gauges();
        if (setup.reported() instanceof RunSetup.Reported.RunningLine
                && totalSends
                && now - totalNanos >= TOTAL_NANOS) {
            totalNanos = now;
            give(
                    new RunInput.ControllerTotal(
                            now, Volume.ofUsGallons(Math.floor(total() / totalStep) * totalStep)));
        }
    }

    private void gauges() {
        if (now - thermometerNanos < Setups.SECOND) {
            return;
        }
        thermometerNanos = now;
        celsius.forEach((place, shown) ->
                give(
                        new RunInput.Thermometer(
                                now, place, new TemperatureReading.Shown(new Temperature(shown)))));
        if (gauge != null) {
            give(new RunInput.CouplerPressure(now, gauge.get()));
        }
    }

    private double total() {
        return startTotal + reportedGallons;
    }

    private ScaleFrame.Weight weight() {
        double litreKilograms = setup.liquid().density().kilogramsPerCubicMetre() / 1000;
        double step = setup.scale().orElseThrow().resolution().kilograms();
        double shown =
                Math.rint((startKilograms + (heldLitres + caughtLitres) * litreKilograms) / step)
                        * step;
        boolean moving = flowing && toTank;
        return new ScaleFrame.Weight(shown, MassUnit.KILOGRAM, false, moving);
    }

    private void pulses(long before) {
        for (PulseLine line : PulseLine.values()) {
            if (!hertz.containsKey(line)) {
                continue;
            }
            double perNano = hertz.get(line) / 1e9;
            double start = phase.get(line);
            double end = start + perNano * (now - before);
            long first = (long) Math.floor(start) + 1;
            int count = (int) ((long) Math.floor(end) - first + 1);
            phase.put(line, end);
            if (count > 0 && missing.remove(line)) {
                first++;
                count--;
            }
            if (count == 0) {
                continue;
            }
            long[] stamps = new long[count];
            for (int i = 0; i < count; i++) {
                stamps[i] = before + Math.round((first + i - start) / perNano);
            }
            give(new RunInput.Edges(line, EdgeBatch.of(number.get(line), stamps)));
            number.merge(line, (long) count, Long::sum);
        }
    }

    private void flap(RunInput input) {
        if (input instanceof RunInput.Contact(long at, BayContact contact, boolean active)) {
            switch (contact) {
                case DIVERTER_TRIGGER -> toTank = active;
                case DIVERTER_AT_TANK -> toTank = active || toTank;
                case DIVERTER_AT_BYPASS -> toTank = !active && toTank;
                case EMERGENCY_STOP, HIGH_LEVEL, SPILL -> {}
            }
        }
    }

    private void valve(RunInput input) {
        if (input instanceof RunInput.Done(long at, Question question)) {
            flowing = question == Question.START_FLOW || flowing && question != Question.STOP_FLOW;
        }
    }

    private void perform(BayCommand command) {
        switch (command) {
            case BayCommand.Divert(Way way) -> divert(way);
            case BayCommand.GroundSpeed(double rate) -> {
                if (setup.plan().flowBy() == FlowBy.GROUND_SPEED) {
                    flowing = rate > 0;
                }
                if (rampSeconds >= 0) {
                    tell(PulseLine.SPEED, rate);
                }
            }
            case BayCommand.Supply(boolean on) -> {
                if (setup.plan().flowBy() == FlowBy.SUPPLY) {
                    flowing = on;
                }
            }
            case BayCommand.Drain(boolean open) -> {
                draining = open && drainOpens;
            }
            case BayCommand.Feeder(double rate) -> {
                if (rampSeconds >= 0) {
                    tell(PulseLine.FEEDER, rate);
                }
            }
            case BayCommand.Ask(Question question) -> {
                if (answers && (answersStop || question != Question.STOP_FLOW)) {
                    answer(question);
                }
            }
            case BayCommand.SecureTrace secure -> {
                if (traceDurable) {
                    long at = now + 2 * TURN_NANOS;
                    in(2 * TURN_NANOS / 1e9, new RunInput.TraceDurable(at, at));
                }
            }
        }
    }

    private void tell(PulseLine line, double rate) {
        due.removeIf(d -> d.input instanceof RunInput.PulsesSent old && old.line() == line);
        int steps = rate == 0 ? 0 : (int) Math.round(rampSeconds * 10);
        for (int step = 0; step <= steps; step++) {
            long at = now + step * 100_000_000L;
            double sent = steps == 0 ? rate : rate * step / steps;
            in(step * 0.1, new RunInput.PulsesSent(at, line, sent, step < steps));
        }
    }

    /**
     * The flap goes at once, passes its trigger after 0.3 s, or leaves after 0.1 and arrives at 0.5
     * s.
     */
    private void divert(Way way) {
        if (!flapMoves || (way == Way.TANK) == toTank) {
            return;
        }
        boolean tank = way == Way.TANK;
        if (setup.diverter().orElseThrow().feedback() == Feedback.TRIGGER) {
            contactIn(0.3, BayContact.DIVERTER_TRIGGER, tank);
            return;
        }
        BayContact left = tank ? BayContact.DIVERTER_AT_BYPASS : BayContact.DIVERTER_AT_TANK;
        BayContact reached = tank ? BayContact.DIVERTER_AT_TANK : BayContact.DIVERTER_AT_BYPASS;
        contactIn(0.1, left, false);
        contactIn(0.5, reached, true);
    }

    private void answer(Question question) {
        long at = now + Setups.nanos(personSeconds);
        RunInput answer =
                switch (question) {
                    case CHECKLIST -> new RunInput.ChecklistConfirmed(at, "a technician");
                    case SPEED_CHECKLIST -> new RunInput.SpeedConfirmed(at, "a foreman");
                    case START_FLOW,
                            STOP_FLOW,
                            KEEP_RUN,
                            LOAD_SCALE,
                            SEEN_MOVING,
                            PRESENCE,
                            SWEEP_STEP,
                            HUNT_STEP ->
                            new RunInput.Done(at, question);
                    case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                            new RunInput.TotalTyped(at, Volume.ofUsGallons(shown()));
                    case SALT_REPORTED ->
                            new RunInput.SaltTyped(at, Mass.of(saltTons, MassUnit.SHORT_TON));
                };
        in(personSeconds, answer);
    }

    /** What the display shows: its total in steps of a hundredth. */
    private double shown() {
        return Math.rint(total() * 100) / 100;
    }

    /** The one term of the measured volume whose name contains this. */
    static double termLitres(CatchResult result, String name) {
        return termLitres(result.comparison().measured(), name);
    }

    static double termLitres(Estimate estimate, String name) {
        List<Estimate.Term> terms =
                estimate.terms().stream().filter(term -> term.name().contains(name)).toList();
        assertEquals(1, terms.size(), () -> name + " in " + estimate.terms());
        return terms.getFirst().standardLitres();
    }

    /** Terms that play no part are left out, not listed with nothing. */
    static void assertNoTerm(Estimate estimate, String name) {
        assertTrue(
                estimate.terms().stream().noneMatch(term -> term.name().contains(name)),
                () -> name + " in " + estimate.terms());
    }

    /** Feeds kept inputs to a new run. */
    static RunState replay(RunSetup setup, List<RunInput> inputs) {
        RunState state = RunMachine.begin(setup);
        for (RunInput input : inputs) {
            state = RunMachine.step(state, input).state();
        }
        return state;
    }
}
