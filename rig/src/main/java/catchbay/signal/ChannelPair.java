package catchbay.signal;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/**
 * The two channels of one meter whose pulses are shifted against each other by a part of a period,
 * held against each other around one window. A rotor that turns one way gives its pulses on either
 * channel in turn, however unevenly it turns; two of one channel with none of the other between
 * them are a pulse missed on the one or added on the other, or a rotor that turned back. This is
 * the comparison pulse by pulse of dual transmission (ISO 6551 and API MPMS 5.5, from memory), done
 * on the order and not on the difference of two counters, so that one missed and one added cannot
 * make up for each other; that the whole counts of a window differ by one at most follows from it.
 * What both channels see alike stays unseen. Immutable: every method answers a new pair.
 *
 * @param debounceNanos an edge closer than this to the last of its channel is a bounce; 0 = none
 * @param first the channel that is counted
 * @param second the other
 * @param last the channel of the last pulse put in order; null before any
 * @param openNanos the window's opening; {@link Tally#NONE} before it is known
 * @param closeNanos the window's closing; {@link Tally#NONE} before it is known
 * @param parted where the two part: before the opening is known at last, after it at first; null
 *     where they do not
 */
public record ChannelPair(
        long debounceNanos,
        Channel first,
        Channel second,
        Side last,
        long openNanos,
        long closeNanos,
        Parting parted) {

    /**
     * Edges that one channel may be ahead of the other in reaching the program. More than that
     * means that nothing comes on the other.
     */
    static final int AHEAD_EDGES_MAX = PulseGate.HELD_EDGES_MAX;

    /**
     * Common practice, no source: what is stamped on one line reaches the program within a second
     * of what is stamped on another, or not at all.
     */
    static final long AHEAD_NANOS_MAX = 1_000_000_000L;

    /**
     * Two pulses of a channel that come this part of the other's spacing after each other, or more,
     * are a whole spacing apart. With channels a quarter of a period apart an added pulse makes
     * three quarters at most; the line is drawn midway. Common practice, no source.
     */
    private static final double WHOLE_SPACING = 7.0 / 8;

    /** One of the two channels. */
    public enum Side {
        /** The one that is counted. */
        FIRST,
        /** The other. */
        SECOND;

        /** The other one. */
        public Side other() {
            return this == FIRST ? SECOND : FIRST;
        }
    }

    /**
     * One channel.
     *
     * @param lastNanos its last pulse put in order; {@link Tally#NONE} before any
     * @param gapNanos from the one before to that; 0 where it is not known
     * @param ahead what has come of it since the other was last heard, newest first; null for
     *     nothing
     */
    public record Channel(long lastNanos, long gapNanos, PulseGate.Held ahead) {

        static final Channel UNHEARD = new Channel(Tally.NONE, 0, null);

        Channel and(EdgeBatch batch) {
            int edges = batch.size() + (ahead == null ? 0 : ahead.edges());
            return new Channel(lastNanos, gapNanos, new PulseGate.Held(ahead, batch, edges));
        }

        private boolean tooFarAhead() {
            return ahead != null && ahead.edges() > AHEAD_EDGES_MAX;
        }

        private long oldestNanos() {
            PulseGate.Held link = ahead;
            while (link.earlier() != null) {
                link = link.earlier();
            }
            return link.batch().firstNanos();
        }
    }

    /** What the two pulses tell by how far apart they are. */
    public enum Sign {
        /** A whole spacing apart: the other channel lacks one. */
        OTHER_LACKS_ONE,
        /** Closer: this channel has one too many. */
        ONE_TOO_MANY,
        /** The other channel has given no two pulses yet to hold them against. */
        EITHER,
        /** The other channel gives nothing. */
        OTHER_SILENT
    }

    /**
     * Two pulses of one channel with none of the other between them.
     *
     * @param side the channel of the two
     * @param beforeNanos the former
     * @param nanos the latter
     * @param sign what they tell
     */
    public record Parting(Side side, long beforeNanos, long nanos, Sign sign) {}

    /** A pair that has heard nothing. */
    public static ChannelPair idle(long debounceNanos) {
        return new ChannelPair(
                debounceNanos,
                Channel.UNHEARD,
                Channel.UNHEARD,
                null,
                Tally.NONE,
                Tally.NONE,
                null);
    }

    /** This pair and one more batch of one of its channels. */
    public ChannelPair take(Side side, EdgeBatch batch) {
        ChannelPair next = with(side, of(side).and(batch));
        if (next.of(side.other()).ahead() != null) {
            return next.inOrder(false);
        }
        return next.of(side).tooFarAhead() ? next.alone(side) : next;
    }

    /**
     * The window opened at this stamp.
     *
     * @param flowRests whether no liquid flows at that moment: then the first pulse may be of
     *     either channel
     */
    public ChannelPair open(long nanos, boolean flowRests) {
        if (flowRests) {
            ChannelPair fresh = idle(debounceNanos);
            return new ChannelPair(
                    debounceNanos, fresh.first, fresh.second, null, nanos, Tally.NONE, null);
        }
        Parting late = parted != null && parted.nanos() > nanos ? parted : null;
        return new ChannelPair(debounceNanos, first, second, last, nanos, Tally.NONE, late);
    }

    /** The window closed at this stamp. */
    public ChannelPair close(long nanos) {
        return new ChannelPair(debounceNanos, first, second, last, openNanos, nanos, parted);
    }

    /** Where the two part in the window, as far as both have been heard. */
    public Optional<Parting> parting() {
        boolean within =
                parted != null
                        && openNanos != Tally.NONE
                        && (closeNanos == Tally.NONE || parted.beforeNanos() <= closeNanos);
        return within ? Optional.of(parted) : silence(Side.FIRST).or(() -> silence(Side.SECOND));
    }

    /** Where the two part in the window, when nothing more is to be heard of either. */
    public Optional<Parting> partingAtLast() {
        return inOrder(true).parting();
    }

    /** A channel that has been going on alone for longer than the way into the program takes. */
    private Optional<Parting> silence(Side side) {
        PulseGate.Held ahead = of(side).ahead();
        if (ahead == null || ahead.edges() < 2) {
            return Optional.empty();
        }
        long since = of(side).oldestNanos();
        long newest = ahead.batch().lastNanos();
        boolean within = closeNanos == Tally.NONE || since <= closeNanos;
        return within && newest - since > AHEAD_NANOS_MAX
                ? Optional.of(new Parting(side, since, newest, Sign.OTHER_SILENT))
                : Optional.empty();
    }

    private Channel of(Side side) {
        return side == Side.FIRST ? first : second;
    }

    private ChannelPair with(Side side, Channel channel) {
        return new ChannelPair(
                debounceNanos,
                side == Side.FIRST ? channel : first,
                side == Side.SECOND ? channel : second,
                last,
                openNanos,
                closeNanos,
                parted);
    }

    /** Gives up waiting for the other channel: what has come counts as two pulses without one. */
    private ChannelPair alone(Side side) {
        Channel channel = of(side);
        long newest = channel.ahead().batch().lastNanos();
        Parting found = new Parting(side, channel.oldestNanos(), newest, Sign.OTHER_SILENT);
        Channel spent = new Channel(newest, 0, null);
        return new ChannelPair(
                debounceNanos,
                side == Side.FIRST ? spent : first,
                side == Side.SECOND ? spent : second,
                side,
                openNanos,
                closeNanos,
                kept(parted, found, openNanos));
    }

    /**
     * Before the opening is known the latest may lie after it; from then on the earliest counts.
     */
    private static Parting kept(Parting known, Parting found, long openNanos) {
        return known == null || openNanos == Tally.NONE ? found : known;
    }

    private ChannelPair inOrder(boolean toTheEnd) {
        Merge merge = new Merge();
        merge.run(toTheEnd);
        return merge.pair();
    }

    /** Puts what is ahead on both channels into one order, as far as both have been heard. */
    private final class Merge {

        private final Lane one = new Lane(first);
        private final Lane other = new Lane(second);
        private Side latest = last;
        private Parting found = parted;

        void run(boolean toTheEnd) {
            while (!one.isEmpty() && !other.isEmpty()) {
                long apart = one.nextNanos() - other.nextNanos();
                // Of two at the same stamp the one comes first whose turn it is.
                boolean firstIsNext = apart < 0 || apart == 0 && latest != Side.FIRST;
                pulse(firstIsNext ? Side.FIRST : Side.SECOND);
            }
            while (toTheEnd && !one.isEmpty()) {
                pulse(Side.FIRST);
            }
            while (toTheEnd && !other.isEmpty()) {
                pulse(Side.SECOND);
            }
        }

        private void pulse(Side side) {
            Lane lane = side == Side.FIRST ? one : other;
            Lane across = side == Side.FIRST ? other : one;
            long stamp = lane.take();
            long gap = stamp - lane.lastNanos;
            if (lane.lastNanos != Tally.NONE && (gap < debounceNanos || gap < 0)) {
                return;
            }
            if (latest == side) {
                Parting seen = new Parting(side, lane.lastNanos, stamp, sign(gap, across.gapNanos));
                found = kept(found, seen, openNanos);
            }
            lane.gapNanos = lane.lastNanos == Tally.NONE ? 0 : gap;
            lane.lastNanos = stamp;
            latest = side;
        }

        ChannelPair pair() {
            return new ChannelPair(
                    debounceNanos,
                    one.channel(),
                    other.channel(),
                    latest,
                    openNanos,
                    closeNanos,
                    found);
        }
    }

    private static Sign sign(long gap, long otherGap) {
        if (otherGap == 0) {
            return Sign.EITHER;
        }
        return gap >= WHOLE_SPACING * otherGap ? Sign.OTHER_LACKS_ONE : Sign.ONE_TOO_MANY;
    }

    /** What is ahead on one channel, oldest first, while it is being put in order. */
    private static final class Lane {

        private final Deque<EdgeBatch> batches = new ArrayDeque<>();
        private int next;
        private long lastNanos;
        private long gapNanos;

        Lane(Channel channel) {
            lastNanos = channel.lastNanos();
            gapNanos = channel.gapNanos();
            for (PulseGate.Held link = channel.ahead(); link != null; link = link.earlier()) {
                batches.push(link.batch());
            }
        }

        boolean isEmpty() {
            return batches.isEmpty();
        }

        long nextNanos() {
            return batches.peek().stampNanos(next);
        }

        long take() {
            long stamp = batches.peek().stampNanos(next);
            next++;
            if (next == batches.peek().size()) {
                batches.remove();
                next = 0;
            }
            return stamp;
        }

        Channel channel() {
            Channel channel = new Channel(lastNanos, gapNanos, null);
            for (EdgeBatch batch : batches) {
                channel = channel.and(next == 0 ? batch : batch.tail(next));
                next = 0;
            }
            return channel;
        }
    }
}
