package catchbay.run;

import catchbay.run.Outcome.Cause;
import catchbay.signal.ChannelPair;
import catchbay.signal.ChannelPair.Parting;
import catchbay.signal.ChannelPair.Side;
import catchbay.signal.PulseCount;
import catchbay.signal.Tally;

import java.util.Locale;
import java.util.Optional;

/** What the two channels of a reference meter say of its count, in words. */
final class Channels {

    /** What sentences call the channel that only checks the other. */
    static final String SECOND_CHANNEL = "reference meter's second channel";

    private Channels() {}

    /**
     * What both channels prove of a count, as a sentence.
     *
     * @throws Unfit when they prove that it is wrong
     */
    static String agreement(Lines lines, ChannelPair pair, Counting counting) throws Unfit {
        PulseCount count = counting.of(lines.second());
        // Lost edges make the channels part as well, and say more of the cause.
        if (count instanceof PulseCount.EdgesLost(long seen, long missing)) {
            throw new Unfit(Cause.EDGES_LOST, Interlocks.edgesLostSentence(missing));
        }
        Optional<Parting> parting = pair.partingAtLast();
        if (parting.isPresent()) {
            throw new Unfit(
                    Cause.CHANNELS_PART,
                    partSentence(parting.get(), lines.reference().openNanos()));
        }
        return String.format(
                Locale.ROOT,
                "Both channels of the reference meter agree: %d and %d pulses, one of each in turn"
                        + " throughout, so none was missed or added on one of them alone.",
                lines.reference().inside().pulses(),
                seen(count));
    }

    /** Pulses of a channel of which only number and order matter. */
    private static long seen(PulseCount count) throws Unfit {
        return switch (count) {
            case PulseCount.DoubleTimed timed -> timed.counted();
            case PulseCount.Whole whole -> whole.counted();
            case PulseCount.Leaping(long seen, long leaps) -> seen;
            case PulseCount.EdgesLost lost -> throw new AssertionError(lost);
            case PulseCount.Unusable(String reason) ->
                    throw new Unfit(
                            Cause.WINDOW_UNUSABLE,
                            Interlocks.unusableSentence(SECOND_CHANNEL, reason));
        };
    }

    /**
     * Where and how the channels part, and what to look for.
     *
     * @param openNanos the window's opening; {@link Tally#NONE} where it was not known yet
     */
    static String partSentence(Parting parting, long openNanos) {
        String one = name(parting.side());
        String other = name(parting.side().other());
        String when =
                openNanos == Tally.NONE
                        ? ""
                        : String.format(
                                Locale.ROOT,
                                " %.2f s after the window's opening",
                                Math.max(0, parting.nanos() - openNanos) / 1e9);
        return switch (parting.sign()) {
            case OTHER_LACKS_ONE ->
                    twoPulses(one, other, when)
                            + ", a whole spacing apart: the "
                            + other
                            + " has one too few; check its wire, its pull-up and its sensor, and"
                            + " repeat the catch.";
            case ONE_TOO_MANY ->
                    twoPulses(one, other, when)
                            + ", closer than a whole spacing: the "
                            + one
                            + " has one too many; check its shield, its earth and its contact for"
                            + " noise and bounce, and repeat the catch.";
            case EITHER ->
                    twoPulses(one, other, when)
                            + ": the "
                            + other
                            + " has one too few or the "
                            + one
                            + " one too many; check the wires of both, and repeat the catch.";
            case OTHER_SILENT ->
                    String.format(
                            Locale.ROOT,
                            "The %s channel of the reference meter gave nothing for %.2f s while"
                                    + " the %s gave pulses; check its wire, its supply and its"
                                    + " sensor, and repeat the catch.",
                            other,
                            (parting.nanos() - parting.beforeNanos()) / 1e9,
                            one);
        };
    }

    private static String twoPulses(String one, String other, String when) {
        return "The reference meter's "
                + one
                + " channel gave two pulses with none of the "
                + other
                + " between them"
                + when;
    }

    private static String name(Side side) {
        return side == Side.FIRST ? "first" : "second";
    }
}
