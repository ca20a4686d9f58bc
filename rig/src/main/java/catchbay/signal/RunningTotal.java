package catchbay.signal;

import catchbay.quantity.Volume;

import java.util.ArrayList;
import java.util.List;

/**
 * A controller's running total as it comes over a serial line: the last few readings, from which
 * the amount between two stamps is read along straight lines. Bounded; a total that goes back is
 * noticed whenever it happens.
 *
 * @param readings the last readings, oldest first, at most {@link #READINGS_MAX}
 * @param wentBackNanos when the total last went back; {@link Tally#NONE} when it never did
 * @param openNanos the window's opening; {@link Tally#NONE} before it is known
 * @param openTotal the total at the opening, once two readings embrace it; null before
 * @param closeNanos the window's closing; {@link Tally#NONE} before it is known
 */
public record RunningTotal(
        List<Reading> readings,
        long wentBackNanos,
        long openNanos,
        AtStamp openTotal,
        long closeNanos) {

    /** Readings kept: ten a second for longer than a diverter may travel. */
    public static final int READINGS_MAX = 128;

    /** One total, as it came. */
    public record Reading(long atNanos, Volume total) {}

    /**
     * A total read on the straight line between two readings.
     *
     * @param apartNanos how far apart they are
     * @param part how far along from the first to the second, 0 to 1; 1 where both say the same,
     *     since then they are off by the same and are as one
     */
    public record AtStamp(double litres, long apartNanos, double part) {

        /**
         * The variance of what is read over that of one reading, where readings are off
         * independently of each other: 1 at a reading, 1/2 half way between two.
         */
        private double evenedOut() {
            return part * part + (1 - part) * (1 - part);
        }
    }

    /** What a window's readings give. */
    public sealed interface Amount {
        /**
         * The amount the controller reported for the window.
         *
         * @param volume the difference of the totals at closing and opening
         * @param apartNanosMax the longer of the two pauses between readings across which was read
         * @param evenedOut what is left of the error of a single reading at each end, since each
         *     end is read between two of them: the root of its mean variance over that of one, 0.7
         *     to 1
         */
        record Known(Volume volume, long apartNanosMax, double evenedOut) implements Amount {}

        /** The amount is not known yet: no reading has come after the closing. */
        record NotYet() implements Amount {}

        /** The amount cannot be told, for the reason given as a sentence. */
        record Unusable(String reason) implements Amount {}
    }

    /** Nothing seen. */
    public static RunningTotal starting() {
        return new RunningTotal(List.of(), Tally.NONE, Tally.NONE, null, Tally.NONE);
    }

    /**
     * This and one more total. Once a reading has come at or after the closing, those that follow
     * are no part of the window: they are left out, so that the readings around the closing are
     * kept however long the tank drips, and a reset after the catch spoils nothing.
     */
    public RunningTotal take(long atNanos, Volume total) {
        if (closeNanos != Tally.NONE && lastNanos() >= closeNanos) {
            return this;
        }
        Reading last = last();
        boolean back = last != null && (total.compareTo(last.total) < 0 || atNanos < last.atNanos);
        List<Reading> next = new ArrayList<>(readings.size() + 1);
        next.addAll(readings.size() < READINGS_MAX ? readings : readings.subList(1, READINGS_MAX));
        next.add(new Reading(atNanos, total));
        return new RunningTotal(
                        List.copyOf(next),
                        back ? atNanos : wentBackNanos,
                        openNanos,
                        openTotal,
                        closeNanos)
                .resolved();
    }

    /** The window opened at this stamp. */
    public RunningTotal open(long nanos) {
        return new RunningTotal(readings, wentBackNanos, nanos, null, Tally.NONE).resolved();
    }

    /** The window closed at this stamp. */
    public RunningTotal close(long nanos) {
        return new RunningTotal(readings, wentBackNanos, openNanos, openTotal, nanos);
    }

    /** The stamp of the last reading; {@link Tally#NONE} when none came. */
    public long lastNanos() {
        Reading last = last();
        return last == null ? Tally.NONE : last.atNanos;
    }

    /**
     * The amount between the opening and the closing.
     *
     * @param freshNanos the longest pause between readings across which a total is read
     */
    public Amount amount(long freshNanos) {
        if (closeNanos == Tally.NONE || lastNanos() < closeNanos) {
            return new Amount.NotYet();
        }
        if (openTotal == null) {
            return new Amount.Unusable(
                    "the controller sent no total before the window opened; "
                            + "check that its line sends before the catch begins");
        }
        // The opening was read from a later reading too, so a step back at any time since then
        // spoils the difference.
        if (wentBackNanos != Tally.NONE && wentBackNanos > openNanos) {
            return new Amount.Unusable(
                    "the controller's total went back during the window (reset or wrap-around); "
                            + "repeat the catch without resetting it");
        }
        AtStamp close = at(closeNanos);
        if (close == null) {
            return new Amount.Unusable(
                    "the controller's totals around the window's closing were not kept");
        }
        long apart = Math.max(openTotal.apartNanos, close.apartNanos);
        if (apart > freshNanos) {
            return new Amount.Unusable(
                    "the controller's totals lie "
                            + apart / 1_000_000
                            + " ms apart at the window's "
                            + "ends, more than the "
                            + freshNanos / 1_000_000
                            + " ms allowed; let its line send more often");
        }
        return new Amount.Known(
                new Volume(Math.max(0, close.litres - openTotal.litres)),
                apart,
                Math.sqrt((openTotal.evenedOut() + close.evenedOut()) / 2));
    }

    private RunningTotal resolved() {
        if (openNanos == Tally.NONE || openTotal != null || lastNanos() < openNanos) {
            return this;
        }
        return new RunningTotal(readings, wentBackNanos, openNanos, at(openNanos), closeNanos);
    }

    private Reading last() {
        return readings.isEmpty() ? null : readings.getLast();
    }

    private AtStamp at(long nanos) {
        for (int i = readings.size() - 1; i > 0; i--) {
            Reading early = readings.get(i - 1);
            Reading late = readings.get(i);
            if (early.atNanos <= nanos && nanos <= late.atNanos && early.atNanos < late.atNanos) {
                double part =
                        early.total.equals(late.total)
                                ? 1
                                : (double) (nanos - early.atNanos) / (late.atNanos - early.atNanos);
                double litres =
                        early.total.litres() + part * (late.total.litres() - early.total.litres());
                return new AtStamp(litres, late.atNanos - early.atNanos, part);
            }
        }
        return null;
    }
}
