package catchbay.app;

import catchbay.port.Operator;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.Timekeeper;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.Question;
import catchbay.run.RunInput;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.function.Consumer;

/**
 * The person at the terminal: questions go to standard error, answers come as lines of standard
 * input. The line {@code stop} stops the run at any time.
 */
final class TerminalOperator implements Operator {

    /** Lines typed ahead that are kept. */
    private static final int LINES_MAX = 64;

    private static final int LINE_LENGTH_MAX = 200;

    /**
     * Marks the end of standard input in the queue; no line can be it, since lines carry no line
     * feed.
     */
    private static final String END = "\n";

    private final BlockingQueue<String> lines = new ArrayBlockingQueue<>(LINES_MAX);
    private final PrintStream out = System.err;
    private final Timekeeper time;
    private final VolumeUnit unit;
    private Question open;
    private boolean ended;

    /** Settings key {@code unit}: the unit of the truck's display. */
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
            return new TerminalOperator(opening.time(), unit);
        }
    }

    private TerminalOperator(Timekeeper time, VolumeUnit unit) {
        this.time = time;
        this.unit = unit;
        Thread.ofPlatform().name("terminal").daemon(true).start(this::read);
    }

    private void read() {
        try (BufferedReader in =
                new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8))) {
            String line = in.readLine();
            while (line != null) {
                lines.put(
                        line.length() > LINE_LENGTH_MAX
                                ? line.substring(0, LINE_LENGTH_MAX)
                                : line);
                line = in.readLine();
            }
            lines.put(END);
        } catch (IOException e) {
            lines.clear();
            lines.offer(END);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void ask(Question question) {
        open = question;
        String inUnit = question.asksTotal() ? " [" + unit.symbol() + "]" : "";
        out.println("? " + question.words() + inUnit);
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        String line = ended ? END : lines.peek();
        // An answer typed ahead waits for its question; "stop" waits for nothing.
        while (line != null && (open != null || line.strip().equalsIgnoreCase("stop"))) {
            if (line.equals(END)) {
                ended = true;
                if (open == Question.STOP_FLOW) {
                    open = null;
                    return;
                }
                throw new PortException(
                        PortException.Kind.GONE,
                        "The terminal closed while an answer was awaited (" + open.words() + ").");
            }
            lines.remove();
            answer(line.strip(), time.monotonicNanos(), into);
            line = lines.peek();
        }
    }

    private void answer(String line, long now, Consumer<RunInput> into) {
        if (line.equalsIgnoreCase("stop")) {
            into.accept(new RunInput.StopPressed(now, "the operator at the terminal"));
            return;
        }
        Question question = open;
        RunInput input;
        try {
            input =
                    switch (question) {
                        case CHECKLIST -> new RunInput.ChecklistConfirmed(now, line);
                        case START_FLOW, STOP_FLOW -> new RunInput.Done(now, question);
                        case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                                new RunInput.TotalTyped(now, Volume.of(number(line), unit));
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

    private static double number(String line) {
        double number;
        try {
            number = Double.parseDouble(line);
        } catch (NumberFormatException e) {
            throw new IllegalArgumentException(
                    "that is not a number; use digits and a point, as in 12.5", e);
        }
        if (!Double.isFinite(number) || number < 0) {
            throw new IllegalArgumentException("it must be a number of at least 0");
        }
        return number;
    }

    @Override
    public void close() {
        // The thread is a daemon that waits for standard input; it ends with the program.
    }
}
