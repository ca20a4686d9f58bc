package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;

import java.util.Optional;

/**
 * A catch's place in a sweep across the flow range: what a catch that stands alone is asked, or
 * finds, is known from the sweep here.
 *
 * @param sweep the sweep's name
 * @param leg which leg of it, from 1: a point on its way, or one of its verification
 * @param confirmedBy who has confirmed the checklist for all of it; not blank
 * @param speedConfirmedBy who has confirmed that speed may be sent; empty where none is
 * @param presence how an attendant shows that somebody is there; empty where every catch asks a
 *     person anyway
 * @param emptyNanos how long the drain stays open before the catch; 0 = the tank is not emptied
 * @param room what the empty tank holds, where that is known
 * @param inTank what is in the tank as the catch begins, before it is emptied
 * @param left what the scale showed at the end of the catch before; empty where the tank was
 *     emptied since, or where there is no scale
 */
public record Part(
        String sweep,
        int leg,
        String confirmedBy,
        Optional<String> speedConfirmedBy,
        Optional<Presence> presence,
        long emptyNanos,
        Optional<Volume> room,
        Volume inTank,
        Optional<Mass> left) {

    /**
     * How an attendant shows that somebody is there.
     *
     * @param intervalNanos how often, at least, > 0
     * @param leftNanos how much of the interval was left as the catch began
     */
    public record Presence(long intervalNanos, long leftNanos) {

        /** The attendant is reminded so long before it is due, ns, of a long interval. */
        private static final long NOTICE_NANOS_MAX = 60_000_000_000L;

        public Presence {
            if (intervalNanos < 1
                    || intervalNanos > RunSetup.DURATION_NANOS_MAX
                    || leftNanos < 0
                    || leftNanos > intervalNanos) {
                throw new IllegalArgumentException(
                        "presence must be shown at an interval of 1 to "
                                + RunSetup.DURATION_NANOS_MAX
                                + " ns of which 0 or more are left, was "
                                + intervalNanos
                                + " with "
                                + leftNanos
                                + " left");
            }
        }

        /** How long before it is due an attendant is reminded: a fifth of it, a minute at most. */
        public long noticeNanos() {
            return Math.min(intervalNanos / 5, NOTICE_NANOS_MAX);
        }

        /** Whether an attendant is to be reminded when so much of the interval is left, ns. */
        public boolean reminds(long nanosLeft) {
            return nanosLeft <= noticeNanos();
        }

        /** An interval of which all is left. */
        public static Presence whole(long intervalNanos) {
            return new Presence(intervalNanos, intervalNanos);
        }
    }

    public Part {
        if (sweep.isBlank() || confirmedBy.isBlank()) {
            throw new IllegalArgumentException(
                    "a part of a sweep needs its name and who confirmed its checklist, was '"
                            + sweep
                            + "' by '"
                            + confirmedBy
                            + "'");
        }
        if (leg < 1) {
            throw new IllegalArgumentException("legs of a sweep are numbered from 1, not " + leg);
        }
        if (emptyNanos < 0 || emptyNanos > RunSetup.DURATION_NANOS_MAX) {
            throw new IllegalArgumentException(
                    "a tank must be emptied for 0 to "
                            + RunSetup.DURATION_NANOS_MAX
                            + " ns, was "
                            + emptyNanos);
        }
    }

    /** What is in the tank when the window opens. */
    Volume inTankAtOpening() {
        return emptyNanos > 0 ? Volume.ZERO : inTank;
    }
}
