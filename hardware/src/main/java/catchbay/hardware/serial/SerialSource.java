package catchbay.hardware.serial;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.hardware.clock.RealClock;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.Decoded;
import catchbay.signal.Framer;

import java.util.Locale;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;

/**
 * A serial line as a source of inputs. A thread of its own reads the line, makes inputs of whole
 * frames and puts them into a bounded queue; nothing else. Bytes that are no frame never reach the
 * run, so a line that delivers only rubbish goes stale there like a silent one. When the device
 * goes away the line is opened again, under whatever name its path then leads to.
 */
public final class SerialSource implements Source {

    /** Inputs that may wait for the loop: 20 s at 50 frames a second. */
    static final int QUEUE_MAX = 1000;

    /** The reader's pace: how late, at most, it sees a byte that the kernel has. */
    private static final long PACE_NANOS = 2_000_000;

    private static final long ANSWER_NANOS_MAX = 1_000_000_000;

    /**
     * A pause within an answer after which no more of it will come, ns: adapters hold bytes back
     * for up to 16 ms.
     */
    private static final long BROKEN_OFF_NANOS = 100_000_000;

    private static final int UNANSWERED_IN_A_ROW_MAX = 60;
    private static final long BACK_OFF_NANOS_MIN = 200_000_000;
    private static final long BACK_OFF_NANOS_MAX = 5_000_000_000L;
    private static final long CLOSE_MILLIS_MAX = 2000;

    /**
     * From one telling of what could not be read to the next, ns: soon enough for a run that is
     * about to give the line up.
     */
    private static final long UNREAD_NANOS = 500_000_000;

    private static final int REASON_LENGTH_MAX = 160;
    private static final int BUFFER_BYTES = 1024;
    private static final long NEVER = Long.MIN_VALUE;

    private final String what;
    private final SerialSettings settings;
    private final LineTalk talk;
    private final MonotonicClock clock;
    private final BlockingQueue<RunInput> queue = new ArrayBlockingQueue<>(QUEUE_MAX);
    private final Thread reader;
    private volatile boolean closing;
    private volatile PortException failure;
    private volatile Throwable bug;
    private volatile SerialCounts counts = new SerialCounts(0, 0, 0, 0, 0, "");

    // Of the reader's thread alone.
    private long inputs;
    private long misunderstood;
    private long unanswered;
    private int unansweredInARow;
    private long reconnects;
    private String lastRefusal = "";
    private long toldFrames;
    private long toldBytes;
    private long toldUnanswered;
    private String untoldRefusal = "";
    private long toldNanos;
    private long askedNanos = NEVER;
    private long heardNanos = NEVER;
    private long dueNanos;

    private SerialSource(
            String what,
            SerialSettings settings,
            LineTalk talk,
            MonotonicClock clock,
            SerialWire wire) {
        this.what = what;
        this.settings = settings;
        this.talk = talk;
        this.clock = clock;
        this.dueNanos = clock.nanos();
        this.toldNanos = dueNanos;
        this.reader = new Thread(() -> read(wire), what + " line");
        reader.setDaemon(true);
        reader.setUncaughtExceptionHandler((thread, thrown) -> bug = thrown);
    }

    /**
     * Opens the line and starts reading. A line that ends in a pseudo-terminal has a program at its
     * other end and no device: its run is marked as simulated.
     *
     * @param kind what hangs on it: the scale, the controller
     */
    static SerialSource open(
            PortKind kind, SerialSettings settings, LineTalk talk, PortOpening opening)
            throws PortException {
        String what = kind.key();
        MonotonicClock clock = RealClock.behind(opening, what + " on " + settings.port(), kind);
        SerialSource source =
                new SerialSource(what, settings, talk, clock, SerialWire.open(settings));
        if (settings.isPseudoTerminal()) {
            opening.markSimulated();
        }
        source.reader.start();
        return source;
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        for (int i = 0; i < QUEUE_MAX; i++) {
            RunInput next = queue.poll();
            if (next == null) {
                break;
            }
            into.accept(next);
        }
        PortException broken = failure;
        if (broken != null) {
            throw broken;
        }
        Throwable found = bug;
        if (found != null) {
            throw new IllegalStateException(
                    "the reader of the " + what + " line has failed", found);
        }
    }

    /** What the line has seen so far; may be asked by any thread. */
    public SerialCounts counts() {
        return counts;
    }

    @Override
    public void close() {
        closing = true;
        LockSupport.unpark(reader);
        try {
            reader.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void read(SerialWire first) {
        SerialWire wire = first;
        byte[] buffer = new byte[BUFFER_BYTES];
        while (!closing && failure == null) {
            int got = wire.read(buffer);
            long now = clock.nanos();
            if (got > 0) {
                heardNanos = now;
                talk.framer().take(buffer, got, frame -> take(now, frame));
            }
            boolean lost = got < 0 || !ask(wire, now);
            publish();
            tellUnread(now);
            if (lost) {
                wire.close();
                wire = reopened(now);
                if (wire == null) {
                    return;
                }
            }
            LockSupport.parkNanos(PACE_NANOS);
        }
        byte[] farewell = talk.question().map(LineTalk.Question::farewell).orElse(new byte[0]);
        wire.write(farewell);
        wire.close();
    }

    private void take(long now, String frame) {
        askedNanos = NEVER;
        unansweredInARow = 0;
        if (talk.question().map(LineTalk.Question::lasting).orElse(false)) {
            dueNanos = now + talk.question().get().periodNanos();
        }
        switch (talk.reading().of(now, frame)) {
            case Decoded.Value<RunInput>(RunInput input) -> {
                inputs++;
                if (!queue.offer(input)) {
                    failure =
                            new PortException(
                                    PortException.Kind.OVERFLOW,
                                    "The "
                                            + what
                                            + " on "
                                            + settings.port()
                                            + " sent more than "
                                            + QUEUE_MAX
                                            + " frames while the program was busy, and some were"
                                            + " lost. Let it send less often.");
                }
            }
            case Decoded.Refused<RunInput>(String reason) -> {
                misunderstood++;
                lastRefusal = printable(reason);
                untoldRefusal = lastRefusal;
            }
        }
    }

    /**
     * Puts the question when it is due; false when the device does not take it, or has long stopped
     * answering.
     */
    private boolean ask(SerialWire wire, long now) {
        if (talk.question().isEmpty()) {
            return true;
        }
        if (askedNanos != NEVER && isUnanswered(now)) {
            askedNanos = NEVER;
            unanswered++;
            unansweredInARow++;
        }
        // Opening afresh empties the kernel's buffers, into which unanswered questions may have
        // been piling up.
        if (unansweredInARow > UNANSWERED_IN_A_ROW_MAX) {
            return false;
        }
        if (askedNanos == NEVER && now - dueNanos >= 0) {
            LineTalk.Question question = talk.question().get();
            askedNanos = now;
            dueNanos = now + question.periodNanos();
            return wire.write(question.bytes());
        }
        return true;
    }

    /** An answer that broke off, or came in no form that can be read, is not waited for. */
    private boolean isUnanswered(long now) {
        boolean brokenOff = heardNanos > askedNanos && now - heardNanos > BROKEN_OFF_NANOS;
        return brokenOff || now - askedNanos > ANSWER_NANOS_MAX;
    }

    /**
     * Opens the line again, trying less and less often; null when it stays away too long or we are
     * closing.
     */
    private SerialWire reopened(long lostNanos) {
        talk.framer().lose();
        askedNanos = NEVER;
        dueNanos = lostNanos;
        unansweredInARow = 0;
        long goneNanos = lostNanos + settings.goneNanos();
        long backOffNanos = BACK_OFF_NANOS_MIN;
        for (long next = lostNanos + backOffNanos; waited(next); ) {
            try {
                SerialWire wire = SerialWire.open(settings);
                reconnects++;
                return wire;
            } catch (PortException stillAway) {
                if (next >= goneNanos) {
                    failure =
                            new PortException(
                                    PortException.Kind.GONE,
                                    "The "
                                            + what
                                            + " on "
                                            + settings.port()
                                            + " went away and did not come back within "
                                            + settings.goneNanos() / 1_000_000_000
                                            + " s. Check its plug, cable and power.",
                                    stillAway);
                    return null;
                }
                backOffNanos = Math.min(2 * backOffNanos, BACK_OFF_NANOS_MAX);
                next = Math.min(next + backOffNanos, goneNanos);
            }
        }
        return null;
    }

    /** Waits for a time; false when we are closing. */
    private boolean waited(long untilNanos) {
        for (long left = untilNanos - clock.nanos();
                left > 0 && !closing;
                left = untilNanos - clock.nanos()) {
            LockSupport.parkNanos(left);
        }
        return !closing;
    }

    /** Tells the run, now and then, what came and could not be read, or did not come. */
    private void tellUnread(long now) {
        SerialCounts seen = counts;
        long refused = seen.framesRefused() - toldFrames;
        long bytes = seen.bytesDiscarded() - toldBytes;
        long missed = unanswered - toldUnanswered;
        if (refused + bytes + missed == 0 || now - toldNanos < UNREAD_NANOS) {
            return;
        }
        // A queue without room shows itself at the next frame.
        String reason = unreadReason(refused + bytes > 0);
        if (queue.offer(new RunInput.Unread(now, what, refused + missed, bytes, reason))) {
            toldFrames += refused;
            toldBytes += bytes;
            toldUnanswered += missed;
            toldNanos = now;
            untoldRefusal = "";
        }
    }

    private String unreadReason(boolean came) {
        if (!untoldRefusal.isEmpty()) {
            return untoldRefusal;
        }
        return (came ? "bytes that belong to no frame" : "no answer")
                + "; is the device set to "
                + talk.name()
                + ", "
                + settings.words()
                + "?";
    }

    /** What a line brings may hold any byte, and must not steer the terminal it is shown on. */
    private static String printable(String reason) {
        StringBuilder shown = new StringBuilder();
        for (int i = 0; i < reason.length() && shown.length() < REASON_LENGTH_MAX; i++) {
            char next = reason.charAt(i);
            if (next >= ' ' && next < 0x7F) {
                shown.append(next);
            } else {
                shown.append(String.format(Locale.ROOT, "\\x%02x", (int) next));
            }
        }
        return shown.append(shown.length() < REASON_LENGTH_MAX ? "" : "...").toString();
    }

    private void publish() {
        Framer.Counts framed = talk.framer().counts();
        counts =
                new SerialCounts(
                        inputs,
                        framed.framesRefused() + misunderstood,
                        framed.bytesDiscarded(),
                        unanswered,
                        reconnects,
                        lastRefusal);
    }
}
