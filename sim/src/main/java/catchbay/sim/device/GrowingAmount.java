package catchbay.sim.device;

import java.util.function.LongSupplier;

/**
 * An amount that grows in real time at a rate that can be set, as the load of a tank that is being
 * filled.
 */
final class GrowingAmount {

    private final LongSupplier nanos;
    private double amount;
    private double perSecond;
    private long sinceNanos;

    /** Nothing, and nothing flows. */
    GrowingAmount(LongSupplier nanos) {
        this.nanos = nanos;
        this.sinceNanos = nanos.getAsLong();
    }

    /** Is this much now; goes on growing. */
    synchronized void set(double next) {
        now();
        amount = next;
    }

    /** Grows this much in a second from now on. */
    synchronized void flow(double nextPerSecond) {
        now();
        perSecond = nextPerSecond;
    }

    /** How much it is now. */
    synchronized double now() {
        long now = nanos.getAsLong();
        amount += perSecond * (now - sinceNanos) / 1e9;
        sinceNanos = now;
        return amount;
    }
}
