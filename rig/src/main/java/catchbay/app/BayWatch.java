package catchbay.app;

import catchbay.port.Operator;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.Source;
import catchbay.port.Supervisor;
import catchbay.quantity.Volume;
import catchbay.run.BayContact;
import catchbay.run.CheckRules.Weighed;
import catchbay.run.CheckTask;
import catchbay.run.EdgeSpan;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.signal.PressureReading;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureSense;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;

/**
 * Keeps an eye on all ports of a bay while it is checked, turn by turn, and remembers what they
 * told. Used for one checkup, by one thread.
 */
final class BayWatch {

    /** The checkup is over before its end, for the reason given as a sentence. */
    static final class Ended extends Exception {
        private static final long serialVersionUID = 1;

        Ended(String reason) {
            super(reason);
        }
    }

    /** What one thermometer told. */
    static final class Warmth {
        private TemperatureSense sense;
        private long readings;

        private Warmth(long pauseNanosMax) {
            sense = TemperatureSense.starting(pauseNanosMax);
        }

        TemperatureSense sense() {
            return sense;
        }

        long readings() {
            return readings;
        }
    }

    /** The most weights kept: a minute of the quickest scale, many times over. */
    private static final int WEIGHTS_MAX = 20_000;

    private final RunLoop.Ports ports;
    private final Supervisor supervisor;
    private final Map<String, String> failures = new LinkedHashMap<>();
    private final Map<BayContact, Boolean> contacts = new EnumMap<>(BayContact.class);
    private final Map<PulseLine, EdgeSpan> edges = new EnumMap<>(PulseLine.class);
    private final Map<TemperaturePlace, Warmth> warmths = new EnumMap<>(TemperaturePlace.class);
    private final List<Weighed> weights = new ArrayList<>();
    private final List<Volume> totals = new ArrayList<>();
    private final Set<String> broken = new HashSet<>();
    private PressureSense coupler = PressureSense.SILENT;
    private long totalsCount;
    private long contactNanos;
    private String status = "";
    private Optional<String> ended = Optional.empty();
    private Optional<String> confirmedBy = Optional.empty();
    private boolean seenMoving;
    private boolean rising;

    /**
     * @param ports with whatever may end it from outside among the sources
     * @param pauseNanosMax how long a thermometer may say nothing
     */
    BayWatch(
            RunLoop.Ports ports,
            Supervisor supervisor,
            Set<TemperaturePlace> places,
            long pauseNanosMax) {
        this.ports = ports;
        this.supervisor = supervisor;
        places.forEach(place -> warmths.put(place, new Warmth(pauseNanosMax)));
    }

    /** The same ports for somebody else, who hears what this hears. */
    RunLoop.Ports overheard() {
        return new RunLoop.Ports(
                ports.time(),
                List.of(new RunLoop.NamedSource("bay", new Ear())),
                ports.outputs(),
                ports.pulses(),
                new Mouth());
    }

    /** What is being done, for whoever supervises the program. */
    void doing(String what) {
        status = what;
    }

    /** Forgets what was counted and weighed; how things stand stays known. */
    void begin() {
        edges.clear();
        weights.clear();
        totals.clear();
        coupler = coupler.opened();
        totalsCount = 0;
        seenMoving = false;
    }

    /** Goes on until something holds, or the time is over; which of both. */
    boolean until(BooleanSupplier done, long nanosMax) throws Ended {
        long begun = ports.time().monotonicNanos();
        while (true) {
            long now = ports.time().monotonicNanos();
            drain(input -> {});
            drainOperator(input -> {});
            throwIfEnded();
            if (done.getAsBoolean()) {
                return true;
            }
            if (now - begun > nanosMax) {
                return false;
            }
            ports.time().sleepUntil(now + RunLoop.TURN_NANOS);
        }
    }

    /** Goes on for so long. */
    void pass(long nanos) throws Ended {
        until(() -> false, nanos);
    }

    /** Throws when somebody has ended the checkup. */
    void throwIfEnded() throws Ended {
        if (ended.isPresent()) {
            throw new Ended(ended.get());
        }
    }

    private void drain(Consumer<RunInput> besides) {
        supervisor.turn(status);
        for (RunLoop.NamedSource named : ports.sources()) {
            drain(named.name(), named.source(), besides);
        }
        drain(PortKind.PULSE_OUTPUT.key(), ports.pulses(), besides);
        // Last of all: whatever hangs above keeps the outputs, and their heartbeat, from hearing.
        try {
            ports.outputs().turn();
        } catch (PortException failure) {
            failures.putIfAbsent(PortKind.OUTPUTS.key(), failure.getMessage());
        }
    }

    /** One that has failed is left alone from then on. */
    private void drain(String name, Source source, Consumer<RunInput> besides) {
        if (broken.contains(name)) {
            return;
        }
        try {
            source.drain(input -> {
                take(input);
                besides.accept(input);
            });
        } catch (PortException failure) {
            broken.add(name);
            failures.put(name, failure.getMessage());
        }
    }

    private void drainOperator(Consumer<RunInput> besides) {
        try {
            ports.operator()
                    .drain(input -> {
                        take(input);
                        besides.accept(input);
                    });
        } catch (PortException gone) {
            ended = Optional.of(gone.getMessage());
        }
    }

    private void take(RunInput input) {
        switch (input) {
            case RunInput.StopPressed pressed ->
                    ended = Optional.of("Ended by " + pressed.by() + ".");
            case RunInput.Contact(long at, BayContact contact, boolean active) -> {
                contacts.put(contact, active);
                contactNanos = at;
            }
            case RunInput.Edges(PulseLine line, var batch) ->
                    edges.put(line, edges(line).take(batch));
            case RunInput.PulsesSent sent -> rising = sent.rising();
            case RunInput.Scale(long at, ScaleFrame.Weight weight) -> {
                if (weights.size() < WEIGHTS_MAX) {
                    weights.add(new Weighed(at, weight));
                }
            }
            case RunInput.Thermometer(long at, var place, var reading) -> {
                Warmth warmth = warmths.get(place);
                if (warmth != null) {
                    warmth.sense = warmth.sense.take(at, reading);
                    warmth.readings++;
                }
            }
            case RunInput.CouplerPressure(long _, PressureReading reading) ->
                    coupler = coupler.take(reading);
            case RunInput.ControllerTotal(long _, Volume total) -> {
                if (totals.size() == 2) {
                    totals.removeLast();
                }
                totals.add(total);
                totalsCount++;
            }
            case RunInput.ChecklistConfirmed(long _, String by) -> confirmedBy = Optional.of(by);
            case RunInput.Done(long _, Question question) ->
                    seenMoving |= question == Question.SEEN_MOVING;
            default -> {
                // Nothing else is asked for.
            }
        }
    }

    /** What a port said when it failed; empty while it has not. */
    Optional<String> failure(String port) {
        return Optional.ofNullable(failures.get(port));
    }

    /** How a contact stands; empty where it was never told. */
    Optional<Boolean> contact(BayContact contact) {
        return Optional.ofNullable(contacts.get(contact));
    }

    /** Whether a contact is told of and active. */
    boolean isActive(BayContact contact) {
        return contacts.getOrDefault(contact, false);
    }

    /** Stamp of the last contact that was told. */
    long contactNanos() {
        return contactNanos;
    }

    /** What a line brought since the beginning. */
    EdgeSpan edges(PulseLine line) {
        return edges.getOrDefault(line, EdgeSpan.NONE);
    }

    /** Whether the bay's pulses are still on their way to a higher rate. */
    boolean rising() {
        return rising;
    }

    /** What the scale sent since the beginning. */
    List<Weighed> weights() {
        return List.copyOf(weights);
    }

    /** What a thermometer of the setup told. */
    Warmth warmth(TemperaturePlace place) {
        return warmths.get(place);
    }

    /** The first and the last total since the beginning. */
    List<Volume> totals() {
        return List.copyOf(totals);
    }

    /** What the gauge at the coupler told since the beginning. */
    PressureSense coupler() {
        return coupler.closed();
    }

    /** How many came. */
    long totalsCount() {
        return totalsCount;
    }

    /** Who made sure of the cautions. */
    Optional<String> confirmedBy() {
        return confirmedBy;
    }

    /** Whether somebody saw the thing move since the beginning. */
    boolean seenMoving() {
        return seenMoving;
    }

    private final class Ear implements Source {
        @Override
        public void drain(Consumer<RunInput> into) {
            BayWatch.this.drain(into);
        }

        @Override
        public void close() {
            // The bay's ports are closed by whoever opened them.
        }
    }

    private final class Mouth implements Operator {
        @Override
        public void ask(Question question) {
            ports.operator().ask(question);
        }

        @Override
        public void ask(ScaleTask task) {
            ports.operator().ask(task);
        }

        @Override
        public void ask(SweepTask task) {
            ports.operator().ask(task);
        }

        @Override
        public void ask(HuntTask task) {
            ports.operator().ask(task);
        }

        @Override
        public void ask(CheckTask task) {
            ports.operator().ask(task);
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            drainOperator(into);
            ended.ifPresent(reason ->
                    into.accept(new RunInput.StopPressed(ports.time().monotonicNanos(), reason)));
        }

        @Override
        public void close() {
            // As above.
        }
    }
}
