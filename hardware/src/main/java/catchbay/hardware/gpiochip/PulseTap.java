package catchbay.hardware.gpiochip;

import catchbay.port.PortException;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import java.util.function.Consumer;

/**
 * One pulse line. A thread of its own moves events from the kernel's buffer into a ring that holds
 * ten seconds of the highest rate, and does nothing else; the loop takes them out of it.
 */
final class PulseTap implements AutoCloseable {

    /** How much of the line's highest rate waits at most, s. */
    static final int RING_SECONDS = 10;

    private static final long NANOS_PER_SECOND = 1_000_000_000;

    /** How late the thread sees, at most, that it is to end or that the chip has gone. */
    private static final int WAIT_MILLIS = 100;

    private static final long CLOSE_MILLIS_MAX = 2000;

    private final PulseLine line;
    private final LineRequest request;
    private final int hertzMax;
    private final EdgeRing ring;
    private final long[] scratch;
    private final EdgeNumbers numbers = new EdgeNumbers();
    private final Thread reader;
    private volatile boolean closing;
    private volatile PortException failure;
    private volatile Throwable bug;

    // Of the loop's thread alone: how many edges a second of the clock has brought.
    private long second = -1;
    private int edgesInSecond;

    /**
     * @param hertzMax the highest rate the line is expected to reach, edges/s, >= 1
     */
    PulseTap(PulseLine line, LineRequest request, int hertzMax) {
        this.line = line;
        this.request = request;
        this.hertzMax = hertzMax;
        this.ring = new EdgeRing(Math.max(Uapi.EVENT_BUFFER_MAX, RING_SECONDS * hertzMax));
        this.scratch = new long[ring.edgesMax()];
        this.reader = new Thread(this::read, line.key() + " pulses");
        reader.setDaemon(true);
        reader.setUncaughtExceptionHandler((thread, thrown) -> bug = thrown);
    }

    void start() {
        reader.start();
    }

    private void read() {
        try {
            while (!closing) {
                move(WAIT_MILLIS);
            }
        } catch (PortException broken) {
            failure = broken;
        } finally {
            request.close();
        }
    }

    /** One turn of the reader; how many events it moved. */
    int move(int waitMillis) throws PortException {
        int events = request.await(waitMillis);
        for (int i = 0; i < events; i++) {
            ring.put(
                    request.stampNanos(i),
                    numbers.next(request.sequence(i), request.lineSequence(i)));
        }
        return events;
    }

    /** Hands over what waits, a batch for each stretch of numbers without a gap. */
    void drain(Consumer<RunInput> into) throws PortException {
        // First of all, so that what came before a failure is handed over before it is told.
        PortException broken = failure;
        Throwable found = bug;
        int waiting = ring.waiting();
        for (int from = 0; from < waiting; ) {
            long first = ring.number(from);
            int count = 0;
            while (from + count < waiting && ring.number(from + count) == first + count) {
                scratch[count] = ring.stampNanos(from + count);
                count++;
            }
            into.accept(new RunInput.Edges(line, EdgeBatch.of(first, scratch, count)));
            refuseRush(count);
            from += count;
        }
        ring.release(waiting);
        if (ring.lost() > 0) {
            throw new PortException(
                    PortException.Kind.OVERFLOW,
                    "The "
                            + line.key()
                            + " line brought more than "
                            + ring.edgesMax()
                            + " edges while the program was busy, and "
                            + ring.lost()
                            + " were lost. Stop what else this computer does, or lower the flow.");
        }
        if (broken != null) {
            throw broken;
        }
        if (found != null) {
            throw new IllegalStateException(
                    "the reader of the " + line.key() + " line has failed", found);
        }
    }

    /** Above its highest rate the ring is too short, and debounce and buffers were chosen wrong. */
    private void refuseRush(int count) throws PortException {
        for (int i = 0; i < count; i++) {
            long in = scratch[i] / NANOS_PER_SECOND;
            edgesInSecond = in == second ? edgesInSecond + 1 : 1;
            second = in;
            if (edgesInSecond > hertzMax + 1) {
                throw new PortException(
                        PortException.Kind.UNFIT,
                        "The "
                                + line.key()
                                + " line brought more than "
                                + hertzMax
                                + " edges in a second, the most it is said to reach; look for"
                                + " noise or bounce, or state a higher rate for it in"
                                + " [port.pulses].");
            }
        }
    }

    @Override
    public void close() {
        closing = true;
        try {
            reader.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
