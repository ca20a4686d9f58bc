package catchbay.run;

import catchbay.signal.EdgeBatch;
import catchbay.signal.Tally;

/**
 * The silences between the pulses of a truck's meter in a window. Constant-size; immutable.
 *
 * @param openNanos when the window opened
 * @param closeNanos when it closed; {@link Tally#NONE} while it is open
 * @param lastNanos the last pulse in it, or its opening
 * @param longestNanos the longest silence so far
 */
record TruckTrain(long openNanos, long closeNanos, long lastNanos, long longestNanos) {

    static TruckTrain opened(long nanos) {
        return new TruckTrain(nanos, Tally.NONE, nanos, 0);
    }

    /** This and more pulses; what lies outside of the window is left out. */
    TruckTrain take(EdgeBatch batch) {
        long last = lastNanos;
        long longest = longestNanos;
        for (int i = 0; i < batch.size(); i++) {
            long stamp = batch.stampNanos(i);
            if (stamp > last && (closeNanos == Tally.NONE || stamp <= closeNanos)) {
                longest = Math.max(longest, stamp - last);
                last = stamp;
            }
        }
        return new TruckTrain(openNanos, closeNanos, last, longest);
    }

    TruckTrain closed(long nanos) {
        return new TruckTrain(openNanos, nanos, lastNanos, longestNanos);
    }

    /** The longest silence, that up to the closing too. */
    long silenceNanos() {
        return Math.max(longestNanos, closeNanos - lastNanos);
    }
}
