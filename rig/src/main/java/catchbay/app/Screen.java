package catchbay.app;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Standard error, written by a thread of its own, since a terminal may be held (Ctrl-S), be slow or
 * hang, and nobody who tells something may wait for it. Lines that stay are queued, up to a bound;
 * below them stand the rows that show a run as it goes, drawn anew a few times a second from what
 * is true then, and only on a terminal. Any thread may call it.
 *
 * <p>The rows need no width: a terminal is told not to wrap them. The cursor stays in the empty row
 * above them, where what a person types is seen and stays; from it on all is cleared before each
 * drawing, so that whatever a change of size has made of them is gone. The sequences are those of
 * ECMA-48 and of the video terminals after which every one of a Linux machine goes (IND, DECSC,
 * DECRC, DECAWM).
 */
final class Screen {

    /** How often rows are drawn at most. */
    static final long REDRAW_NANOS = 250_000_000L;

    /** Lines waiting for a terminal that takes none: some hours of a run's. */
    static final int WAITING_LINES_MAX = 4096;

    /** How long the end of a command waits for a terminal that takes nothing. */
    private static final long SETTLE_NANOS_MAX = 2_000_000_000L;

    private static final String CLEAR = "\u001b[J";
    private static final String CLEAR_ROW = "\r" + CLEAR;
    private static final String BELOW = "\u001bD";
    private static final String REMEMBER = "\u001b7";
    private static final String RETURN = "\u001b8";
    private static final String WRAP_OFF = "\u001b[?7l";
    private static final String WRAP_ON = "\u001b[?7h";

    /** What begins a line whose further rows stand below its words: a question, a box to tick. */
    private static final Pattern BEGINNING = Pattern.compile(" *(\\[ ]|[?!])? *");

    private static final Screen STANDARD_ERROR =
            new Screen(
                    () -> System.err,
                    isDrawable(),
                    Words.width(Optional.ofNullable(System.getenv("COLUMNS"))));

    private final Supplier<PrintStream> to;
    private final boolean terminal;
    private final int columns;
    private final PrintStream lines;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition work = lock.newCondition();
    private final Condition settled = lock.newCondition();

    // All of these under the lock.
    private final Queue<Supplier<String>> waiting = new ArrayDeque<>();
    private long lost;
    private Supplier<List<String>> rows;
    private boolean drawn;
    private boolean busy;
    private boolean started;

    /**
     * @param to where it goes, asked for at each writing
     * @param terminal whether rows may be drawn there
     * @param columns in how many of a terminal's lines are written; elsewhere they stay whole
     */
    Screen(Supplier<PrintStream> to, boolean terminal, int columns) {
        this.to = to;
        this.terminal = terminal;
        this.columns = columns;
        this.lines = new PrintStream(new Lines(), true, StandardCharsets.UTF_8);
    }

    /** The one of this program. */
    static Screen standardError() {
        return STANDARD_ERROR;
    }

    /**
     * Whether standard error is a terminal that can be drawn on. Asked of the system, since a
     * console of Java's tells of standard input and output alone.
     */
    private static boolean isDrawable() {
        String kind = System.getenv("TERM");
        return kind != null && !kind.equals("dumb") && isTerminal(2);
    }

    /**
     * Whether a stream is a terminal.
     *
     * @param descriptor its number, 1 for standard output
     */
    static boolean isTerminal(int descriptor) {
        try {
            String device =
                    Files.readSymbolicLink(Path.of("/proc/self/fd/" + descriptor)).toString();
            return device.startsWith("/dev/pts/")
                    || device.startsWith("/dev/tty")
                    || device.equals("/dev/console");
        } catch (IOException | UnsupportedOperationException notTold) {
            return false;
        }
    }

    /** Whether rows are shown. */
    boolean drawsRows() {
        return terminal;
    }

    /** Where lines are printed; never waits. What lacks its line feed waits for it. */
    PrintStream lines() {
        return lines;
    }

    /** Tells a line that the screen's own thread makes; never waits. */
    void tell(Supplier<String> line) {
        lock.lock();
        try {
            if (waiting.size() == WAITING_LINES_MAX) {
                lost++;
                return;
            }
            waiting.add(line);
            start();
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    /**
     * Shows rows from now on, made by the screen's own thread; none while the list is empty. On
     * what is no terminal nothing is shown.
     */
    void show(Supplier<List<String>> made) {
        if (!terminal) {
            return;
        }
        lock.lock();
        try {
            rows = made;
            start();
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    /** Shows no rows any more. */
    void hide() {
        lock.lock();
        try {
            rows = null;
            work.signal();
        } finally {
            lock.unlock();
        }
    }

    /** Waits until all is written, though not for ever. */
    void settle() {
        lock.lock();
        try {
            long left = SETTLE_NANOS_MAX;
            while (unsettled() && left > 0) {
                left = settled.awaitNanos(left);
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        } finally {
            lock.unlock();
        }
    }

    /** Under the lock. */
    private boolean unsettled() {
        return busy || !waiting.isEmpty() || rows == null && drawn;
    }

    /** Under the lock. */
    private void start() {
        if (!started) {
            started = true;
            Thread.ofPlatform().name("screen").daemon().start(this::write);
        }
    }

    private void write() {
        String shown = "";
        while (true) {
            Supplier<List<String>> due = due();
            String text;
            if (due == null) {
                text = told();
                shown = "";
            } else {
                String next = frame(made(due, List.of()));
                text = next.equals(shown) ? "" : drawing(due, next);
                shown = text.isEmpty() ? shown : next;
            }
            PrintStream out = to.get();
            out.print(text);
            out.flush();
        }
    }

    /**
     * What is shown is made outside the lock, which the loop takes to tell its lines. A bug in it
     * may not silence the questions that this thread puts as well.
     */
    private <T> T made(Supplier<T> due, T otherwise) {
        try {
            return due.get();
        } catch (RuntimeException bug) {
            hide();
            lines.println(
                    "! How the run stands cannot be shown ("
                            + bug
                            + "); it goes on all the same. Please report this sentence.");
            return otherwise;
        }
    }

    /** Waits for lines to write or rows to clear, which answers null, or until rows are due. */
    private Supplier<List<String>> due() {
        lock.lock();
        try {
            busy = false;
            long left = REDRAW_NANOS;
            while (waiting.isEmpty() && !(rows == null && drawn)) {
                settled.signalAll();
                if (rows == null) {
                    work.await();
                } else if (left > 0) {
                    left = work.awaitNanos(left);
                } else {
                    busy = true;
                    return rows;
                }
            }
            busy = true;
            return null;
        } catch (InterruptedException interrupted) {
            throw new AssertionError("nobody interrupts the screen", interrupted);
        } finally {
            lock.unlock();
        }
    }

    /** The lines that wait, in place of the rows that are shown. */
    private String told() {
        StringBuilder text = new StringBuilder();
        List<Supplier<String>> taken;
        lock.lock();
        try {
            text.append(drawn ? CLEAR_ROW : "");
            drawn = false;
            taken = List.copyOf(waiting);
            waiting.clear();
            if (lost > 0) {
                waiting.add(missing(lost));
                lost = 0;
            }
        } finally {
            lock.unlock();
        }
        taken.forEach(line -> text.append(wrapped(made(line, ""))).append('\n'));
        return text.toString();
    }

    /** A line in the rows of a terminal, which would break it in the midst of a word. */
    String wrapped(String line) {
        if (!terminal || line.length() <= columns) {
            return line;
        }
        Matcher beginning = BEGINNING.matcher(line);
        int words = beginning.lookingAt() ? beginning.end() : 0;
        return String.join(
                "\n",
                Words.wrapped(
                        line.substring(0, Math.max(0, words - 1)),
                        Math.max(0, words - 1),
                        line.substring(words),
                        columns));
    }

    private static Supplier<String> missing(long lines) {
        return () ->
                "(" + lines + " lines are missing here: they came while this terminal took none.)";
    }

    /** A frame in place of the one before, unless it was made for rows that are hidden by now. */
    private String drawing(Supplier<List<String>> due, String frame) {
        lock.lock();
        try {
            if (rows != due) {
                return "";
            }
            String clear = drawn ? CLEAR : "";
            drawn = !frame.isEmpty();
            return clear + frame;
        } finally {
            lock.unlock();
        }
    }

    private static String frame(List<String> rows) {
        if (rows.isEmpty()) {
            return "";
        }
        int count = rows.size();
        return BELOW.repeat(count)
                + "\u001b["
                + count
                + "A"
                + REMEMBER
                + WRAP_OFF
                + "\n"
                + String.join("\n", rows)
                + WRAP_ON
                + RETURN;
    }

    /** Gathers what is printed into whole lines. */
    private final class Lines extends OutputStream {
        private final ByteArrayOutputStream line = new ByteArrayOutputStream();

        @Override
        public synchronized void write(int one) {
            line.write(one);
            if (one == '\n') {
                String whole = line.toString(StandardCharsets.UTF_8);
                line.reset();
                tell(() -> whole.substring(0, whole.length() - 1));
            }
        }

        @Override
        public synchronized void write(byte[] some, int from, int length) {
            for (int i = from; i < from + length; i++) {
                write(some[i]);
            }
        }
    }
}
