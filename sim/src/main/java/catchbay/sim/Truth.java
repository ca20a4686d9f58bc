package catchbay.sim;

import catchbay.quantity.Volume;

/**
 * What truly happened in a stand-in bay, to be held against what a run says. Amounts are kept at
 * every change and at least ten times a second for the last twenty-five minutes; in between they
 * are read along straight lines.
 */
public final class Truth {

    private static final int SAMPLES_MAX = 16_384;

    private final long[] nanos = new long[SAMPLES_MAX];
    private final double[] delivered = new double[SAMPLES_MAX];
    private final double[] intoTank = new double[SAMPLES_MAX];
    private final double[] reported = new double[SAMPLES_MAX];
    private int head;
    private int size;

    Truth() {}

    void sample(
            long atNanos, double deliveredLitres, double intoTankLitres, double reportedLitres) {
        int at = (head + size) % SAMPLES_MAX;
        if (size == SAMPLES_MAX) {
            head = (head + 1) % SAMPLES_MAX;
        } else {
            size++;
        }
        nanos[at] = atNanos;
        delivered[at] = deliveredLitres;
        intoTank[at] = intoTankLitres;
        reported[at] = reportedLitres;
    }

    /** The liquid that left the truck between two stamps. */
    public Volume deliveredBetween(long openNanos, long closeNanos) {
        return between(delivered, openNanos, closeNanos);
    }

    /** The liquid that went into the catch tank between two stamps. */
    public Volume intoTankBetween(long openNanos, long closeNanos) {
        return between(intoTank, openNanos, closeNanos);
    }

    /**
     * What the truck's controller counted between two stamps, with no step, no lag and no rounding
     * to a pulse.
     */
    public Volume reportedBetween(long openNanos, long closeNanos) {
        return between(reported, openNanos, closeNanos);
    }

    private Volume between(double[] litres, long openNanos, long closeNanos) {
        return new Volume(Math.max(0, at(litres, closeNanos) - at(litres, openNanos)));
    }

    private double at(double[] litres, long stamp) {
        if (size == 0 || stamp < nanos[head]) {
            throw new IllegalArgumentException("the truth at " + stamp + " ns is not kept");
        }
        int low = 0;
        int high = size - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (nanos[(head + middle) % SAMPLES_MAX] <= stamp) {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        int early = (head + low) % SAMPLES_MAX;
        if (low == size - 1) {
            return litres[early];
        }
        int late = (head + low + 1) % SAMPLES_MAX;
        double part = (double) (stamp - nanos[early]) / (nanos[late] - nanos[early]);
        return litres[early] + part * (litres[late] - litres[early]);
    }
}
