package catchbay.app;

import catchbay.port.Operator;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.Timekeeper;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Numeral;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.CheckTask;
import catchbay.run.HuntTask;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTask;
import catchbay.run.SweepTask;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.io.Reader;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import java.util.regex.Pattern;

/**
 * The person at the terminal: questions go to standard error by way of the screen, which may never
 * hold the loop; answers come as lines of standard input. The line {@code stop} stops the run at
 * any time, whatever was typed before it.
 */
final class TerminalOperator implements Operator {

    /** Lines typed ahead that are kept. */
    private static final int LINES_MAX = 64;

    private static final int LINE_LENGTH_MAX = 200;

    private static final String STOP = "stop";

    /**
     * Marks the end of standard input in the queue; no line can be it, since lines carry no line
     * feed.
     */
    private static final String END = "\n";

    private static final Pattern NUMBER = Pattern.compile("\\d+(\\.\\d*)?|\\.\\d+");

    private final BlockingQueue<String> lines = new ArrayBlockingQueue<>(LINES_MAX);
    private final AtomicBoolean stopTyped = new AtomicBoolean();
    private final Timekeeper time;
    private final VolumeUnit unit;
    private final List<String> own;
    private final RunSetup setup;
    private final PrintStream out;
    private final boolean ahead;
    private Question open;
    private String asked = "";
    private Volume lastTotal = Volume.ZERO;
    private String doubted = "";

    /**
     * Settings keys: {@code unit}, the unit of the truck's display; {@code checklist}, the shop's
     * own, walked through before each catch in place of the program's, and with it before other
     * work with a truck.
     */
    static final class Provider implements PortProvider {
        @Override
        public PortKind kind() {
            return PortKind.OPERATOR;
        }

        @Override
        public String name() {
            return "terminal";
        }

        @Override
        public boolean simulated() {
            return false;
        }

        @Override
        public Object open(PortOpening opening) {
            String suffix =
                    opening.settings().optionalText("unit").orElse(VolumeUnit.US_GALLON.suffix());
            VolumeUnit unit;
            try {
                unit = VolumeUnit.ofSuffix(suffix);
            } catch (IllegalArgumentException e) {
                throw opening.settings().refused("unit", e.getMessage());
            }
            if (opening.time().movesOnlyInSleep()) {
                throw opening.settings()
                        .refused(
                                "provider",
                                "nobody can answer as fast as virtual time goes; use the stand-in"
                                        + " operator, or provider = \"system\" under [port.time]");
            }
            return new TerminalOperator(
                    opening.time(),
                    unit,
                    opening.settings().texts("checklist"),
                    opening.setup(),
                    System.in,
                    Screen.standardError().lines(),
                    !Screen.isTerminal(0));
        }
    }

    /** What is to be set by hand on a controller to which no speed can be sent. */
    static Optional<String> testSpeed(RunSetup setup) {
        return setup.truck().speedSource() == RunSetup.SpeedSource.PULSES
                ? Optional.empty()
                : Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The controller's own test speed is set to %.1f mph, by hand.",
                                setup.asked().speed().milesPerHour()));
    }

    /**
     * @param own the shop's own checklist; empty where it has none
     * @param setup of the runs that are asked about
     * @param ahead whether a line may answer a question that was asked after it was typed, as in a
     *     pipe: at a terminal nobody confirms what was not yet shown
     */
    TerminalOperator(
            Timekeeper time,
            VolumeUnit unit,
            List<String> own,
            RunSetup setup,
            InputStream in,
            PrintStream out,
            boolean ahead) {
        this.time = time;
        this.unit = unit;
        this.own = List.copyOf(own);
        this.setup = setup;
        this.out = out;
        this.ahead = ahead;
        Thread.ofPlatform().name("terminal").daemon(true).start(() -> read(in));
    }

    private void read(InputStream in) {
        try (Reader reader =
                new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
            StringBuilder line = new StringBuilder();
            int next = reader.read();
            while (next >= 0) {
                if (next == '\n') {
                    take(line.toString().strip());
                    line.setLength(0);
                } else if (line.length() < LINE_LENGTH_MAX) {
                    line.append((char) next);
                }
                next = reader.read();
            }
            if (!line.isEmpty()) {
                take(line.toString().strip());
            }
            lines.put(END);
        } catch (IOException e) {
            lines.clear();
            lines.add(END);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void take(String line) {
        if (line.equalsIgnoreCase(STOP)) {
            stopTyped.set(true);
        } else if (!lines.offer(line)) {
            out.println(
                    "! "
                            + LINES_MAX
                            + " lines are waiting for their questions; '"
                            + line
                            + "' is not taken.");
        }
    }

    @Override
    public void ask(Question question) {
        open(question);
        if (question == Question.CHECKLIST) {
            List<String> checklist = own.isEmpty() ? Cautions.ofCatch(setup) : own;
            checklist.forEach(this::box);
            testSpeed(setup).ifPresent(this::box);
            out.println("  The line 'stop' ends the run at any time. It does not stop the truck.");
        }
        if (question == Question.STOP_FLOW) {
            // The most urgent line stands by itself, whatever a terminal shows above it.
            out.println();
        }
        String inUnit = question.asksTotal() ? " [" + unit.symbol() + "]" : "";
        put(question.words(setup.truck()) + inUnit);
    }

    @Override
    public void ask(ScaleTask task) {
        open(Question.LOAD_SCALE);
        put(task.words());
    }

    @Override
    public void ask(SweepTask task) {
        open(Question.SWEEP_STEP);
        put(task.words());
    }

    @Override
    public void ask(HuntTask task) {
        open(Question.HUNT_STEP);
        put(task.words());
    }

    @Override
    public void ask(CheckTask task) {
        switch (task) {
            case CheckTask.Cautions(List<String> cautions) -> {
                open(Question.CHECKLIST);
                cautions.forEach(this::box);
                out.println("  The line 'stop' ends it at any time. It stops nothing but the bay.");
            }
            case CheckTask.WatchDrain _ -> open(Question.SEEN_MOVING);
            case CheckTask.Handle _ -> open = null;
        }
        put(task.words());
    }

    private void put(String words) {
        asked = words;
        out.println("? " + words);
    }

    private void box(String line) {
        out.println("  [ ] " + line);
    }

    @Override
    public List<String> ownChecklist() {
        return own;
    }

    private void open(Question question) {
        open = question;
        // A bare Enter from before the question cannot be its answer: it would start or stop a flow
        // unseen.
        while (!lines.isEmpty()
                && !lines.peek().equals(END)
                && (!ahead || lines.peek().isEmpty())) {
            String line = lines.remove();
            if (!line.isEmpty()) {
                out.println("! '" + line + "' was typed before the question, and is not taken.");
            }
        }
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        if (stopTyped.getAndSet(false)) {
            into.accept(
                    new RunInput.StopPressed(
                            time.monotonicNanos(), "the operator at the terminal"));
        }
        // Of a pipe, whose answers are all there at once, the next one waits for its question.
        while (open != null && !lines.isEmpty()) {
            if (lines.peek().equals(END)) {
                throw new PortException(
                        PortException.Kind.GONE,
                        "The terminal closed before this was answered: \""
                                + asked
                                + "\" Keep it open until the end.");
            }
            answer(lines.remove(), time.monotonicNanos(), into);
        }
    }

    private void answer(String line, long now, Consumer<RunInput> into) {
        Question question = open;
        RunInput input;
        try {
            input =
                    switch (question) {
                        case CHECKLIST -> new RunInput.ChecklistConfirmed(now, name(line));
                        case SPEED_CHECKLIST -> new RunInput.SpeedConfirmed(now, name(line));
                        case START_FLOW,
                                STOP_FLOW,
                                LOAD_SCALE,
                                SEEN_MOVING,
                                PRESENCE,
                                SWEEP_STEP,
                                HUNT_STEP,
                                KEEP_RUN -> {
                            // Whoever types "not yet" has not done it.
                            if (!line.isEmpty()) {
                                throw new IllegalArgumentException(
                                        "that is neither Enter alone nor 'stop'");
                            }
                            yield new RunInput.Done(now, question);
                        }
                        case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                                new RunInput.TotalTyped(now, total(line));
                        case SALT_REPORTED ->
                                new RunInput.SaltTyped(
                                        now, Mass.of(number(line), MassUnit.SHORT_TON));
                    };
        } catch (IllegalArgumentException e) {
            out.println("! '" + line + "': " + e.getMessage() + ". Type it again.");
            return;
        }
        open = null;
        into.accept(input);
    }

    private static String name(String line) {
        Optional<String> problem = PersonName.problem(line);
        if (problem.isPresent()) {
            throw new IllegalArgumentException(problem.get());
        }
        return line;
    }

    /** A total less than the one before it is asked for twice: one of both is wrong. */
    private Volume total(String line) {
        Volume total = Volume.of(number(line), unit);
        if (total.compareTo(lastTotal) < 0 && !line.equals(doubted)) {
            doubted = line;
            throw new IllegalArgumentException(
                    "that is less than the "
                            + Numeral.of(BigDecimal.valueOf(lastTotal.in(unit)), 6)
                            + " typed last, and a total grows until it is set back; if it is right,"
                            + " the last one was wrong and its catch is too");
        }
        doubted = "";
        lastTotal = total;
        return total;
    }

    private static double number(String line) {
        if (!NUMBER.matcher(line).matches()) {
            throw new IllegalArgumentException(
                    "that is not a number of at least 0; use digits and a point, as in 12.5");
        }
        return Double.parseDouble(line);
    }

    @Override
    public void close() {
        // The thread is a daemon that waits for standard input; it ends with the program.
    }
}
