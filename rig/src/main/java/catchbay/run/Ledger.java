package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;

import java.util.Optional;

/**
 * What a run has written down for its comparison. Stamps and durations are nanoseconds, {@link
 * #NONE} before they are known.
 *
 * @param confirmedBy who confirmed the checklist; empty before
 * @param speedConfirmedBy who confirmed that speed may be sent; empty where it is not asked
 * @param flowOnNanos when the flow was started
 * @param flowOffNanos when the flow was stopped
 * @param openTravelNanos the diverter's travel to the tank
 * @param closeTravelNanos the diverter's travel back
 * @param tare the scale before the catch
 * @param gross the scale after it
 * @param totalBefore the display's total before the window
 * @param totalAfter the display's total after it
 * @param salt the salt that the controller reports
 * @param durableNanos trace lines up to here are on the medium
 */
public record Ledger(
        Optional<String> confirmedBy,
        Optional<String> speedConfirmedBy,
        long flowOnNanos,
        long flowOffNanos,
        long openTravelNanos,
        long closeTravelNanos,
        Optional<Mass> tare,
        Optional<Mass> gross,
        Optional<Volume> totalBefore,
        Optional<Volume> totalAfter,
        Optional<Mass> salt,
        long durableNanos) {

    /** Not known yet. */
    public static final long NONE = -1;

    static final Ledger EMPTY =
            new Ledger(
                    Optional.empty(),
                    Optional.empty(),
                    NONE,
                    NONE,
                    NONE,
                    NONE,
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    Optional.empty(),
                    NONE);

    Ledger confirmed(String by) {
        return new Ledger(
                Optional.of(by),
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger speedConfirmed(String by) {
        return new Ledger(
                confirmedBy,
                Optional.of(by),
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger flowOn(long nanos) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                nanos,
                NONE,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger flowOff(long nanos) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                nanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger opened(long travelNanos) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                travelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger closed(long travelNanos) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                travelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger tare(Mass mass) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                Optional.of(mass),
                gross,
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger gross(Mass mass) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                Optional.of(mass),
                totalBefore,
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger totalBefore(Volume total) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                Optional.of(total),
                totalAfter,
                salt,
                durableNanos);
    }

    Ledger totalAfter(Volume total) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                Optional.of(total),
                salt,
                durableNanos);
    }

    Ledger salt(Mass mass) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                Optional.of(mass),
                durableNanos);
    }

    Ledger durable(long nanos) {
        return new Ledger(
                confirmedBy,
                speedConfirmedBy,
                flowOnNanos,
                flowOffNanos,
                openTravelNanos,
                closeTravelNanos,
                tare,
                gross,
                totalBefore,
                totalAfter,
                salt,
                Math.max(durableNanos, nanos));
    }

    /** Whether the flow was started and not yet stopped. */
    public boolean flowing() {
        return flowOnNanos != NONE && flowOffNanos == NONE;
    }
}
