package catchbay.sim;

import catchbay.port.Computer;
import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.EnumSet;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Consumer;

/**
 * The providers of the stand-in bay's ports. All of them share one {@link StandInBay}. The world's
 * options stand in {@code [port.outputs]}, since a world that the bay's outputs do not reach could
 * not be moved at all.
 */
public final class StandInPorts {

    private static final String NAME = "stand-in";

    /** The calendar time at which virtual time begins unless its settings say another. */
    private static final String START = "2026-01-05T08:00:00Z";

    /** Illustrative: about 20 psi. */
    private static final double COUPLER_KILOPASCALS = 140;

    private StandInPorts() {}

    private static StandInBay bay(PortOpening opening) {
        return opening.shared(StandInBay.class, () -> new StandInBay(opening.setup()));
    }

    private static SimOptions options(PortSettings outputs, PortOpening opening) {
        return OptionSheet.read(outputs, opening.setup(), opening.usualSpeed());
    }

    /** What all of them say alike. */
    abstract static class StandIn implements PortProvider {
        private final PortKind kind;
        private final String name;

        StandIn(PortKind kind, String name) {
            this.kind = kind;
            this.name = name;
        }

        @Override
        public final PortKind kind() {
            return kind;
        }

        @Override
        public final String name() {
            return name;
        }

        @Override
        public final boolean simulated() {
            return true;
        }
    }

    /** Virtual time. */
    public static final class Time extends StandIn {
        /** For the service loader. */
        public Time() {
            super(PortKind.TIME, "virtual");
        }

        @Override
        public Object open(PortOpening opening) {
            PortSettings settings = opening.settings();
            Instant start;
            try {
                start = Instant.parse(settings.optionalText("start").orElse(START));
            } catch (DateTimeException malformed) {
                throw settings.refused("start", "start must be a moment like " + START);
            }
            VirtualTime.WallBend bend =
                    new VirtualTime.WallBend(
                            settings.number("wall_drift_ppm", -1e6, 1e6, 0),
                            (long) (settings.number("wall_step_s", -1e9, 1e9, 0) * 1e9),
                            (long) (settings.number("wall_step_after_s", 0, 1e6, 0) * 1e9));
            return new VirtualTime(bay(opening), start, bend);
        }
    }

    /** Contacts of the stand-in bay. */
    public static final class Contacts extends StandIn {
        /** For the service loader. */
        public Contacts() {
            super(PortKind.CONTACTS, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new Tap(bay(opening), opening.time(), World::drainContacts);
        }
    }

    /** Pulse lines of the stand-in bay. */
    public static final class Pulses extends StandIn {
        /** For the service loader. */
        public Pulses() {
            super(PortKind.PULSES, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            StandInBay bay = bay(opening);
            bay.fit(
                    opening.setup(),
                    () -> options(opening.settings(PortKind.OUTPUTS), opening).bay());
            return new Tap(bay, opening.time(), World::drainPulses);
        }
    }

    /** The stand-in scale. */
    public static final class Scale extends StandIn {
        /** For the service loader. */
        public Scale() {
            super(PortKind.SCALE, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new Tap(bay(opening), opening.time(), World::drainScale);
        }
    }

    /** The stand-in controller's line. */
    public static final class Controller extends StandIn {
        /** For the service loader. */
        public Controller() {
            super(PortKind.CONTROLLER, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new Tap(bay(opening), opening.time(), World::drainController);
        }
    }

    /** The stand-in bay's thermometers. */
    public static final class Thermometers extends StandIn {
        /** For the service loader. */
        public Thermometers() {
            super(PortKind.TEMPERATURE, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new Tap(bay(opening), opening.time(), World::drainTemperature);
        }
    }

    /** The stand-in bay's gauge at the coupler. */
    public static final class Gauge extends StandIn {
        /** For the service loader. */
        public Gauge() {
            super(PortKind.PRESSURE, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            double shown =
                    opening.settings().number("coupler_kpa", -100, 10_000, COUPLER_KILOPASCALS);
            return new StandInGauge(opening.time(), shown);
        }
    }

    /** The person at the stand-in bay. */
    public static final class Person extends StandIn {
        /** For the service loader. */
        public Person() {
            super(PortKind.OPERATOR, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new PersonTap(bay(opening), opening.time());
        }
    }

    /** A computer in bad health, or good, from the settings. */
    public static final class BadComputer extends StandIn {
        private static final long MEGABYTES_MAX = 1_000_000_000;
        private static final long NOT_TOLD = -1;

        /** For the service loader. */
        public BadComputer() {
            super(PortKind.COMPUTER, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            PortSettings settings = opening.settings();
            Set<BayComputer.ClockDoubt> doubts = EnumSet.noneOf(BayComputer.ClockDoubt.class);
            for (String name : settings.texts("clock_doubts")) {
                switch (name) {
                    case "unset" -> doubts.add(BayComputer.ClockDoubt.UNSET);
                    case "stepped" -> doubts.add(BayComputer.ClockDoubt.STEPPED);
                    default ->
                            throw settings.refused(
                                    "clock_doubts",
                                    "a clock cannot be '" + name + "'; use unset or stepped");
                }
            }
            long flags = settings.whole("power_flags", 0, BayComputer.POWER_FLAGS_MAX, 0);
            long megabytes = settings.whole("free_megabytes", 0, MEGABYTES_MAX, NOT_TOLD);
            return new ToldComputer(
                    new BayComputer(
                            OptionalInt.of((int) flags),
                            Optional.of(doubts),
                            megabytes == NOT_TOLD
                                    ? OptionalLong.empty()
                                    : OptionalLong.of(megabytes * 1_000_000)));
        }
    }

    /** Outputs of the stand-in bay, and the world's options. */
    public static final class OutputLines extends StandIn {
        /** For the service loader. */
        public OutputLines() {
            super(PortKind.OUTPUTS, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            StandInBay bay = bay(opening);
            bay.options(options(opening.settings(), opening));
            return new OutputTap(bay, opening.time());
        }
    }

    /** Speed and feeder pulses of the stand-in bay. */
    public static final class PulseLines extends StandIn {
        /** For the service loader. */
        public PulseLines() {
            super(PortKind.PULSE_OUTPUT, NAME);
        }

        @Override
        public Object open(PortOpening opening) {
            return new PulseTap(bay(opening), opening.time());
        }
    }

    /** How one port's inputs are taken out of a world. */
    interface Drain {
        void from(World world, Consumer<RunInput> into) throws PortException;
    }

    record Tap(StandInBay bay, Timekeeper time, Drain drain) implements Source {
        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            drain.from(bay.at(time.monotonicNanos()), into);
        }

        @Override
        public void close() {
            // The world holds nothing that must be let go.
        }
    }

    record ToldComputer(BayComputer state) implements Computer {
        @Override
        public void close() {
            // Nothing is held.
        }
    }

    record PersonTap(StandInBay bay, Timekeeper time) implements Operator {
        @Override
        public void ask(Question question) {
            bay.at(time.monotonicNanos()).ask(question);
        }

        @Override
        public void ask(ScaleTask task) {
            bay.at(time.monotonicNanos()).ask(task);
        }

        @Override
        public void ask(SweepTask task) {
            bay.at(time.monotonicNanos()).ask(task);
        }

        @Override
        public void ask(HuntTask task) {
            bay.at(time.monotonicNanos()).ask(task);
        }

        @Override
        public void ask(CheckTask task) {
            bay.at(time.monotonicNanos()).ask(task);
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            bay.at(time.monotonicNanos()).drainOperator(into);
        }

        @Override
        public void close() {
            // The world holds nothing that must be let go.
        }
    }

    record OutputTap(StandInBay bay, Timekeeper time) implements Outputs {
        @Override
        public void perform(BayCommand.Switched command) {
            bay.at(time.monotonicNanos()).perform(command);
        }

        @Override
        public void turn() {
            // The world has no watchdog relay.
        }

        @Override
        public void makeSafe() {
            bay.at(time.monotonicNanos()).makeSafe();
        }

        @Override
        public void letGo() {
            // There is no watchdog relay.
        }

        @Override
        public void close() {
            makeSafe();
        }
    }

    /** Sends each rate exactly and at once, so that there is nothing to tell of it. */
    record PulseTap(StandInBay bay, Timekeeper time) implements PulseOutput {
        @Override
        public void perform(BayCommand.Pulses command) {
            bay.at(time.monotonicNanos()).perform(command);
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            // What truly was sent is counted by the world's own speed line.
        }

        @Override
        public boolean makeSafe() {
            bay.at(time.monotonicNanos()).makeSafe();
            return true;
        }

        @Override
        public void close() {
            makeSafe();
        }
    }
}
