package catchbay.hardware.gpiochip;

import catchbay.port.PortException;

/**
 * One line with a contact on it that we hold. Its changes wait in the kernel until they are looked
 * at. For one thread at a time.
 */
public final class ContactLine implements AutoCloseable {

    private final LineRequest request;
    private int sequence;
    private int lost;

    ContactLine(LineRequest request) {
        this.request = request;
    }

    /** The level now: true is high. */
    public boolean high() throws PortException {
        return (request.levels() & 1) != 0;
    }

    /**
     * Reads what has changed since the last look, and returns at once.
     *
     * @return how many changes; the other methods tell of each
     * @throws PortException when the chip has gone
     */
    public int look() throws PortException {
        int changes = request.await(0);
        lost = 0;
        for (int i = 0; i < changes; i++) {
            lost += request.sequence(i) - sequence - 1;
            sequence = request.sequence(i);
        }
        return changes;
    }

    /** How many changes the kernel had dropped by the last look, the oldest ones first. */
    public int lost() {
        return lost;
    }

    /** The level after a change: true is high. */
    public boolean high(int change) {
        return request.rising(change);
    }

    /**
     * When a change came, ns of the monotonic clock; where it is debounced, when it had settled.
     */
    public long stampNanos(int change) {
        return request.stampNanos(change);
    }

    /** Lets the line go. */
    @Override
    public void close() {
        request.close();
    }
}
