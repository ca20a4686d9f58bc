package catchbay.app;

import catchbay.port.Operator;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.record.TraceLine;
import catchbay.record.TraceText;
import catchbay.run.BayCommand;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Outcome;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;
import catchbay.signal.ScaleFrame;
import catchbay.store.ClosedTrace;
import catchbay.store.DiskFiles;
import catchbay.store.TraceFile;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.PriorityQueue;
import java.util.function.Consumer;

/**
 * The smallest bay that a whole catch can be run on: a clock that a sleep sets, a scale that shows
 * what flows, an operator who answers after a tenth of a second and works the flow. What else is to
 * happen is written down as a timetable, in seconds after the start. The physics is one line: a
 * flow of {@link #KILOGRAMS_PER_SECOND} while it is on.
 */
final class PlayedBay {

    static final long START_NANOS = 10_000_000_000L;
    static final double KILOGRAMS_PER_SECOND = 2;
    private static final long ANSWER_NANOS = 100_000_000;

    /** A catch of about two seconds on a scale. */
    static final String SETTINGS =
            """
            [scale]
            serial = "SCALE-1"
            date = 2026-01-05
            expiry = 2027-01-05
            unit = "kg"
            resolution_kg = 0.01
            capacity_kg = 300
            rest_seconds = 0.3
            silent_seconds = 1
            [liquid]
            density_kg_per_m3 = 1180
            [trucks.T-12]
            constant_pulses_per_us_gal = 600
            [asked]
            rate_us_gal_per_lane_mile = 50
            lanes = 1
            speed_mph = 30
            [reported]
            step_us_gal = 0.001
            lag_seconds = 0.1
            [catch]
            seconds = 2
            silence_seconds = 0.2
            drip_seconds = 0.2
            drain_seconds = 0
            """;

    /** What the truck's display does of each run's litres, from the first; then 1.05 times. */
    final java.util.Deque<Double> overReadings = new java.util.ArrayDeque<>();

    /** Whether the person keeps a run that stands out. */
    boolean keeping = true;

    private double shownLitres = 1000;

    /** Something that happens at its time; what it throws, the port throws. */
    interface Happening {
        void to(Consumer<RunInput> into) throws PortException;
    }

    private record Due(long atNanos, int order, Happening happening) {}

    final List<BayCommand.Output> performed = new ArrayList<>();
    final List<Question> asked = new ArrayList<>();
    int madeSafe;
    int letGo;

    /** What flows while the flow is on. */
    double kilogramsPerSecond = KILOGRAMS_PER_SECOND;

    /** What the outputs do with a command besides noting it. */
    Outputs driver = new Driver();

    /** What the pulse output does with a command besides noting it. */
    PulseOutput pulser = new Pulser();

    private final PriorityQueue<Due> due =
            new PriorityQueue<>(
                    java.util.Comparator.comparingLong(Due::atNanos).thenComparingInt(Due::order));
    private long nowNanos = START_NANOS;
    private int order;
    private long flowOnNanos = -1;
    private double caughtKilograms = 20;
    private long nextFrameNanos = START_NANOS;
    private Question open;
    private long answerNanos;

    static RunSetup setup(String settings) {
        return Settings.of("played.toml", Path.of("").toAbsolutePath(), settings)
                .setup(Optional.empty(), LocalDate.of(2026, 2, 3));
    }

    static RunSetup setup() {
        return setup(SETTINGS);
    }

    /** Lets something happen so many seconds after the start, on the port called contacts. */
    PlayedBay at(double seconds, Happening happening) {
        due.add(new Due(START_NANOS + (long) (seconds * 1e9), order++, happening));
        return this;
    }

    /** Lets this input come then, stamped with its time. */
    PlayedBay input(double seconds, java.util.function.LongFunction<RunInput> input) {
        return at(seconds, into -> into.accept(input.apply(nowNanos)));
    }

    long nowNanos() {
        return nowNanos;
    }

    final Timekeeper time =
            new Timekeeper() {
                @Override
                public long monotonicNanos() {
                    return nowNanos;
                }

                @Override
                public Instant wallTime() {
                    return Instant.parse("2026-02-03T10:00:00Z").plusNanos(nowNanos - START_NANOS);
                }

                @Override
                public String bootId() {
                    return "boot-1";
                }

                @Override
                public boolean movesOnlyInSleep() {
                    return true;
                }

                @Override
                public void sleepUntil(long deadlineNanos) {
                    nowNanos = Math.max(nowNanos, deadlineNanos);
                }
            };

    /** Whether liquid flows. */
    boolean flows() {
        return flowOnNanos >= 0;
    }

    /** The whole program stands still, and time goes on. */
    void standStill(double seconds) {
        nowNanos += (long) (seconds * 1e9);
    }

    RunLoop.Ports ports() {
        return new RunLoop.Ports(
                time,
                List.of(
                        new RunLoop.NamedSource("contacts", source(this::happen)),
                        new RunLoop.NamedSource("scale", source(this::weigh))),
                new Noting(),
                new NotingPulses(),
                new Person());
    }

    /** The header of the trace that a session would begin. */
    TraceLine.Header header(String run, RunSetup setup) {
        return TraceLine.Header.recorded(
                RunMachine.METHOD_VERSION,
                run,
                TraceLine.Origin.SIMULATED,
                time.bootId(),
                time.wallTime(),
                Program.version(),
                setup);
    }

    /** Runs one catch into a trace of a folder, and seals it as a session does. */
    ClosedTrace sealed(Path folder, String run, RunSetup setup) throws Exception {
        try (TraceLog log = new InlineTraceLog(begun(folder, run, setup))) {
            RunLoop loop = new RunLoop(ports(), log, (state, now) -> {});
            Outcome outcome = loop.run(setup);
            return ((TraceLog.End.Closed)
                            log.seal(loop.endedNanos(), outcome.key(), outcome.reason()))
                    .trace();
        }
    }

    TraceFile begun(Path folder, String run, RunSetup setup) throws Exception {
        TraceFile file = new TraceFolder(folder, new DiskFiles()).begin(run);
        TraceText text = new TraceText();
        text.header(header(run, setup));
        file.append(text.bytes(), 0, text.length());
        return file;
    }

    private void happen(Consumer<RunInput> into) throws PortException {
        while (!due.isEmpty() && due.peek().atNanos <= nowNanos) {
            due.remove().happening.to(into);
        }
    }

    private void weigh(Consumer<RunInput> into) {
        for (; nextFrameNanos <= nowNanos; nextFrameNanos += 100_000_000) {
            double shown = Math.round(caughtAt(nextFrameNanos) * 100) / 100.0;
            into.accept(
                    new RunInput.Scale(
                            nextFrameNanos,
                            new ScaleFrame.Weight(shown, MassUnit.KILOGRAM, false, false)));
        }
    }

    private double caughtAt(long nanos) {
        return caughtKilograms
                + (flowOnNanos < 0 ? 0 : kilogramsPerSecond * (nanos - flowOnNanos) / 1e9);
    }

    private static Source source(Happening drained) {
        return new Source() {
            @Override
            public void drain(Consumer<RunInput> into) throws PortException {
                drained.to(into);
            }

            @Override
            public void close() {
                // Nothing is held.
            }
        };
    }

    private final class Person implements Operator {
        @Override
        public void ask(Question question) {
            asked.add(question);
            open = question;
            answerNanos = nowNanos + ANSWER_NANOS;
        }

        @Override
        public void ask(CheckTask task) {
            if (!(task instanceof CheckTask.Cautions)) {
                throw new AssertionError("nobody checks the bay within a run: " + task.words());
            }
            ask(Question.CHECKLIST);
        }

        @Override
        public void ask(ScaleTask task) {
            throw new AssertionError("nobody loads the scale within a run: " + task.words());
        }

        @Override
        public void ask(HuntTask task) {
            throw new AssertionError("nobody hunts for anything here: " + task.words());
        }

        @Override
        public void ask(SweepTask task) {
            throw new AssertionError("nobody does anything in a sweep here: " + task.words());
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            Question question = open;
            if (question == null || nowNanos < answerNanos) {
                return;
            }
            open = null;
            into.accept(
                    switch (question) {
                        case CHECKLIST -> new RunInput.ChecklistConfirmed(nowNanos, "A. Tester");
                        case SPEED_CHECKLIST -> new RunInput.SpeedConfirmed(nowNanos, "S. Tester");
                        case START_FLOW -> {
                            flowOnNanos = nowNanos;
                            yield new RunInput.Done(nowNanos, question);
                        }
                        case STOP_FLOW -> {
                            double before = caughtKilograms;
                            caughtKilograms = caughtAt(nowNanos);
                            // The display over-reads by 5 %; 1.18 kg are a litre.
                            double over = overReadings.isEmpty() ? 1.05 : overReadings.remove();
                            shownLitres += (caughtKilograms - before) / 1.18 * over;
                            flowOnNanos = -1;
                            yield new RunInput.Done(nowNanos, question);
                        }
                        case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                                new RunInput.TotalTyped(nowNanos, new Volume(shownLitres));
                        case PRESENCE, SWEEP_STEP, HUNT_STEP ->
                                new RunInput.Done(nowNanos, question);
                        case LOAD_SCALE, SEEN_MOVING -> throw new AssertionError(question);
                        case KEEP_RUN ->
                                keeping
                                        ? new RunInput.Done(nowNanos, question)
                                        : new RunInput.StopPressed(nowNanos, "A. Tester");
                        case SALT_REPORTED -> throw new AssertionError("this bay spreads no salt");
                    });
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    /** Outputs that do what they are told. */
    static class Driver implements Outputs {
        @Override
        public void perform(BayCommand.Switched command) throws PortException {
            // A played bay has no valves to move.
        }

        @Override
        public void turn() throws PortException {
            // Nobody watches it.
        }

        @Override
        public void makeSafe() {
            // Nor any to make safe.
        }

        @Override
        public void letGo() {
            // There is no watchdog relay.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    /** Pulses that no truck hears. */
    static class Pulser implements PulseOutput {
        @Override
        public void perform(BayCommand.Pulses command) throws PortException {
            // Nobody hears them.
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            // Nor is anything told of them.
        }

        @Override
        public boolean makeSafe() {
            // Nor is there anything to make safe.
            return true;
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private final class NotingPulses implements PulseOutput {
        @Override
        public void perform(BayCommand.Pulses command) throws PortException {
            performed.add(command);
            pulser.perform(command);
        }

        @Override
        public void drain(Consumer<RunInput> into) throws PortException {
            pulser.drain(into);
        }

        @Override
        public boolean makeSafe() {
            return pulser.makeSafe();
        }

        @Override
        public void close() {
            pulser.close();
        }
    }

    private final class Noting implements Outputs {
        @Override
        public void perform(BayCommand.Switched command) throws PortException {
            performed.add(command);
            driver.perform(command);
        }

        @Override
        public void turn() throws PortException {
            driver.turn();
        }

        @Override
        public void makeSafe() {
            madeSafe++;
            driver.makeSafe();
        }

        @Override
        public void letGo() {
            letGo++;
            driver.letGo();
        }

        @Override
        public void close() {
            driver.close();
        }
    }

    /** A trace in memory; whatever it is given is safe as soon as that is asked for. */
    static final class MemoryTrace implements TraceLog {

        final List<String> lines = new ArrayList<>();
        String fails;
        private long toldNanos;
        private boolean syncAsked;

        @Override
        public void append(byte[] bytes, int from, int length, long atNanos) {
            new String(bytes, from, length, java.nio.charset.StandardCharsets.UTF_8)
                    .lines()
                    .forEach(lines::add);
            toldNanos = Math.max(toldNanos, atNanos);
        }

        @Override
        public void requestSync() {
            syncAsked = true;
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            if (fails != null) {
                into.accept(new RunInput.TraceFailed(toldNanos, fails));
                fails = null;
            }
            if (syncAsked) {
                syncAsked = false;
                into.accept(new RunInput.TraceDurable(toldNanos, toldNanos));
            }
        }

        @Override
        public End seal(long atNanos, String end, String reason) {
            throw new AssertionError("the loop does not seal");
        }

        @Override
        public void close() {
            // Memory needs no closing.
        }
    }

    static byte[] bytes(Path folder, String file) throws IOException {
        return java.nio.file.Files.readAllBytes(folder.resolve(file));
    }
}
