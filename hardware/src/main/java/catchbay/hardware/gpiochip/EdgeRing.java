package catchbay.hardware.gpiochip;

import java.util.concurrent.atomic.AtomicLong;

/**
 * Edges on their way from the reader's thread to the loop's: a ring made once, one thread on either
 * side. What does not fit is counted, never stored over what waits.
 */
final class EdgeRing {

    private final long[] stamps;
    private final long[] numbers;

    /** How many edges were ever put in, and taken out. */
    private final AtomicLong in = new AtomicLong();

    private final AtomicLong out = new AtomicLong();
    private final AtomicLong lost = new AtomicLong();

    EdgeRing(int edgesMax) {
        stamps = new long[edgesMax];
        numbers = new long[edgesMax];
    }

    /** Reader's side. */
    void put(long stampNanos, long number) {
        long at = in.getPlain();
        if (at - out.getAcquire() == stamps.length) {
            lost.setRelease(lost.getPlain() + 1);
            return;
        }
        int slot = (int) (at % stamps.length);
        stamps[slot] = stampNanos;
        numbers[slot] = number;
        in.setRelease(at + 1);
    }

    /** Loop's side: how many edges wait. */
    int waiting() {
        return (int) (in.getAcquire() - out.getPlain());
    }

    /** Loop's side: the stamp of one that waits, the oldest at 0. */
    long stampNanos(int index) {
        return stamps[slot(index)];
    }

    /** Loop's side: the door's number of one that waits. */
    long number(int index) {
        return numbers[slot(index)];
    }

    /** Loop's side: makes room of the oldest. */
    void release(int edges) {
        out.setRelease(out.getPlain() + edges);
    }

    /** How many edges found no room. */
    long lost() {
        return lost.getAcquire();
    }

    int edgesMax() {
        return stamps.length;
    }

    private int slot(int index) {
        return (int) ((out.getPlain() + index) % stamps.length);
    }
}
