package catchbay.sim;

import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import java.util.function.Consumer;

/**
 * The bounded buffer of one line, as the kernel's: edges are numbered when they come, and when it
 * is full the oldest is dropped, so that the loss shows as a gap in the numbers (Linux GPIO
 * character device, uAPI v2).
 */
final class PulseBuffer {

    /** The most that the kernel keeps for one request (Linux GPIO character device, uAPI v2). */
    static final int EDGES_MAX = 1024;

    private final PulseLine line;
    private final long[] stamps = new long[EDGES_MAX];
    private final long[] sequences = new long[EDGES_MAX];
    private final long[] scratch = new long[EDGES_MAX];
    private int head;
    private int size;

    PulseBuffer(PulseLine line) {
        this.line = line;
    }

    void put(long stampNanos, long sequence) {
        if (size == EDGES_MAX) {
            head = (head + 1) % EDGES_MAX;
            size--;
        }
        int tail = (head + size) % EDGES_MAX;
        stamps[tail] = stampNanos;
        sequences[tail] = sequence;
        size++;
    }

    void clear() {
        size = 0;
    }

    void drain(Consumer<RunInput> into) {
        while (size > 0) {
            long first = sequences[head];
            int count = 0;
            while (size > 0 && sequences[head] == first + count) {
                scratch[count++] = stamps[head];
                head = (head + 1) % EDGES_MAX;
                size--;
            }
            into.accept(new RunInput.Edges(line, EdgeBatch.of(first, scratch, count)));
        }
    }
}
