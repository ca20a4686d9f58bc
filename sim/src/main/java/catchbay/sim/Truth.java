package catchbay.sim;

import catchbay.quantity.Distance;
import catchbay.quantity.Mass;
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
    private final double[] salted = new double[SAMPLES_MAX];
    private final double[] travelled = new double[SAMPLES_MAX];
    private int head;
    private int size;

    Truth() {}

    void sample(
            long atNanos,
            double deliveredLitres,
            double intoTankLitres,
            double reportedLitres,
            double saltKilograms,
            double playedMetres) {
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
        salted[at] = saltKilograms;
        travelled[at] = playedMetres;
    }

    /** The liquid that left the truck between two stamps. */
    public Volume deliveredBetween(long openNanos, long closeNanos) {
        return new Volume(between(delivered, openNanos, closeNanos));
    }

    /** The liquid that went into the catch tank between two stamps. */
    public Volume intoTankBetween(long openNanos, long closeNanos) {
        return new Volume(between(intoTank, openNanos, closeNanos));
    }

    /**
     * What the truck's controller counted between two stamps, with no step, no lag and no rounding
     * to a pulse.
     */
    public Volume reportedBetween(long openNanos, long closeNanos) {
        return new Volume(between(reported, openNanos, closeNanos));
    }

    /** The salt that the truck's conveyor carried between two stamps. */
    public Mass saltBetween(long openNanos, long closeNanos) {
        return new Mass(between(salted, openNanos, closeNanos));
    }

    /** The road that the bay's speed pulses played between two stamps. */
    public Distance travelledBetween(long openNanos, long closeNanos) {
        return new Distance(between(travelled, openNanos, closeNanos));
    }

    private double between(double[] amounts, long openNanos, long closeNanos) {
        return Math.max(0, at(amounts, closeNanos) - at(amounts, openNanos));
    }

    private double at(double[] amounts, long stamp) {
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
            return amounts[early];
        }
        int late = (head + low + 1) % SAMPLES_MAX;
        double part = (double) (stamp - nanos[early]) / (nanos[late] - nanos[early]);
        return amounts[early] + part * (amounts[late] - amounts[early]);
    }
}
