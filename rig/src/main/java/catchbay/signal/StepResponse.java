package catchbay.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * How a flow comes up from rest after it was asked for, as one line's pulses show it: the time and
 * the pulses of successive slots, from edge to edge. Bounded, since slots are joined in pairs when
 * they grow too many; immutable; where a batch was split never shows. What comes of it is a {@link
 * StepMeasures}.
 *
 * @param start from when times are counted
 * @param askedNanos when the flow was asked for; {@link Tally#NONE} before
 * @param slotNanos the least length of a slot; it ends at the first edge after that
 * @param beforeNanos the last edge up to the asking; {@link Tally#NONE} for none
 * @param firstNanos the first edge after the asking, where the first slot begins; {@link
 *     Tally#NONE} before
 * @param anchorNanos the edge at which the slot under way began
 * @param anchored pulses since the anchor
 * @param slots the full slots, each beginning where the one before it ends
 * @param lastSequence the door's number of the last edge; {@link Tally#NONE} before any
 * @param broken whether edges were lost or came out of order since the asking
 */
public record StepResponse(
        Start start,
        long askedNanos,
        long slotNanos,
        long beforeNanos,
        long firstNanos,
        long anchorNanos,
        long anchored,
        List<Slot> slots,
        long lastSequence,
        boolean broken) {

    /**
     * The least slot at first, ns. Common practice, no source: a tenth of the second in which the
     * quickest controllers answer.
     */
    static final long SLOT_NANOS = 100_000_000;

    /** The most slots kept; even, since they are joined in pairs. */
    static final int SLOTS_MAX = 512;

    /** Nothing was asked for, and nothing is watched. */
    public static final StepResponse IDLE = asked(Start.AT_COMMAND, Tally.NONE, Tally.NONE);

    /** From when the times of a response are counted. */
    public enum Start {
        /** The bay commanded the flow, and from then on time is counted. */
        AT_COMMAND,
        /**
         * A person was asked to start it and took as long as that takes: time is counted from the
         * first pulse.
         */
        AT_FIRST_PULSE
    }

    /**
     * A slot.
     *
     * @param endNanos the edge that ended it
     * @param pulses in it, at least one
     */
    public record Slot(long endNanos, long pulses) {}

    /**
     * The flow is asked for now.
     *
     * @param nanos now, monotonic clock
     * @param lastEdgeNanos the line's last edge so far; {@link Tally#NONE} for none
     */
    public static StepResponse asked(Start start, long nanos, long lastEdgeNanos) {
        return new StepResponse(
                start,
                nanos,
                SLOT_NANOS,
                lastEdgeNanos,
                Tally.NONE,
                Tally.NONE,
                0,
                List.of(),
                Tally.NONE,
                false);
    }

    /** This and the edges of one more batch. */
    public StepResponse take(EdgeBatch batch) {
        if (askedNanos == Tally.NONE || broken) {
            return this;
        }
        Fold fold = new Fold(this);
        fold.take(batch);
        return fold.result();
    }

    /** Slots joined in pairs; one without a partner stays as it is. */
    static List<Slot> joined(List<Slot> slots) {
        List<Slot> pairs = new ArrayList<>();
        for (int i = 0; i + 1 < slots.size(); i += 2) {
            Slot second = slots.get(i + 1);
            pairs.add(new Slot(second.endNanos, slots.get(i).pulses + second.pulses));
        }
        if (slots.size() % 2 == 1) {
            pairs.add(slots.getLast());
        }
        return pairs;
    }

    /** A batch on its way in. */
    private static final class Fold {
        private final StepResponse from;
        private long slotNanos;
        private long before;
        private long first;
        private long anchor;
        private long anchored;
        private List<Slot> slots;
        private long lastSequence;
        private boolean broken;

        Fold(StepResponse from) {
            this.from = from;
            slotNanos = from.slotNanos;
            before = from.beforeNanos;
            first = from.firstNanos;
            anchor = from.anchorNanos;
            anchored = from.anchored;
            slots = from.slots;
            lastSequence = from.lastSequence;
            broken = from.broken;
        }

        void take(EdgeBatch batch) {
            broken = lastSequence != Tally.NONE && batch.firstSequence() != lastSequence + 1;
            for (int i = 0; i < batch.size() && !broken; i++) {
                edge(batch.stampNanos(i));
                lastSequence = batch.firstSequence() + i;
            }
        }

        private void edge(long stamp) {
            if (stamp <= from.askedNanos) {
                before = stamp;
            } else if (first == Tally.NONE) {
                first = stamp;
                anchor = stamp;
            } else if (stamp < anchor) {
                broken = true;
            } else {
                anchored++;
                if (stamp - anchor >= slotNanos) {
                    full(stamp);
                }
            }
        }

        private void full(long stamp) {
            List<Slot> more = new ArrayList<>(slots.size() + 1);
            more.addAll(slots);
            more.add(new Slot(stamp, anchored));
            anchor = stamp;
            anchored = 0;
            if (more.size() < SLOTS_MAX) {
                slots = List.copyOf(more);
            } else {
                slots = List.copyOf(joined(more));
                slotNanos *= 2;
            }
        }

        StepResponse result() {
            return new StepResponse(
                    from.start,
                    from.askedNanos,
                    slotNanos,
                    before,
                    first,
                    anchor,
                    anchored,
                    slots,
                    lastSequence,
                    broken);
        }
    }
}
