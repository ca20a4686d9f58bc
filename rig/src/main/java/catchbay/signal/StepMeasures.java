package catchbay.signal;

import catchbay.quantity.Ratio;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * How a flow came up after it was asked for, by the textbook's names of a step's transient (Ogata,
 * Modern Control Engineering, chapter on transient response, "Definitions of transient-response
 * specifications"; from memory). Of the two usual choices the rise is that from 10 to 90 %, and the
 * band of settling that of 5 %. Durations are nanoseconds, counted from {@link
 * StepResponse#start()}.
 *
 * @param deadNanos until the first pulse; empty where a person started the flow
 * @param delayNanos until half of the final flow was first reached
 * @param riseNanos from a tenth to nine tenths of the final flow, each first reached
 * @param overshoot how far it first went beyond; empty where no further than its own unevenness
 * @param settlingNanos until it stayed within {@link #BAND_RATIO} of the final flow; empty where
 *     the last slots do not, since the pulses are too uneven
 * @param finalPulsesPerSecond what it came to, > 0
 * @param steadySpread greatest less least of the slots by which it was judged steady, over their
 *     mean
 * @param resolutionNanos the longest slot: nothing above is known more closely in time
 */
public record StepMeasures(
        OptionalLong deadNanos,
        long delayNanos,
        long riseNanos,
        Optional<Overshoot> overshoot,
        OptionalLong settlingNanos,
        double finalPulsesPerSecond,
        Ratio steadySpread,
        long resolutionNanos) {

    /** The band of settling, to either side of the final flow. Source: as above. */
    public static final double BAND_RATIO = 0.05;

    private static final double DELAY_TO = 0.5;
    private static final double RISE_FROM = 0.1;
    private static final double RISE_TO = 0.9;

    /** Slots are not joined to fewer than these, which would tell nothing of a course. */
    private static final int SLOTS_MIN = 8;

    /**
     * A peak must be so many times as far from the final flow as its last slots are to be an
     * overshoot. Common practice, no source: of many slots one is farther off than all of a few.
     */
    private static final double PEAK_TIMES = 2;

    /** Less than this above is no overshoot. Common practice, no source: nobody acts on it. */
    private static final double PEAK_RATIO_MIN = 0.005;

    /**
     * How far a flow went beyond what it came to.
     *
     * @param above the greatest flow over the final one, less 1; > 0
     * @param peakNanos when that was
     */
    public record Overshoot(Ratio above, long peakNanos) {}

    /** What can be said of a response. */
    public sealed interface Judged {
        /** It was measured. */
        record Measured(StepMeasures measures) implements Judged {}

        /** It tells nothing, for the reason given as a sentence's part. */
        record Untold(String reason) implements Judged {}
    }

    /**
     * What a response tells of a flow that has become steady.
     *
     * @param response watched up to now
     * @param steady the same line's steadiness, by which the final flow is known
     * @param silenceNanos how long no edge must come before the asking to prove that flow rested
     */
    public static Judged of(StepResponse response, FlowSteadiness steady, long silenceNanos) {
        if (response.askedNanos() == Tally.NONE || response.firstNanos() == Tally.NONE) {
            return new Judged.Untold("no pulse came after the flow was asked for");
        }
        if (response.broken()) {
            return new Judged.Untold("pulses were lost while the flow came up");
        }
        long before = response.beforeNanos();
        if (before != Tally.NONE && response.askedNanos() - before < silenceNanos) {
            return new Judged.Untold("liquid was flowing before it was asked for");
        }
        if (!steady.judgeable() || response.slots().size() < 2) {
            return new Judged.Untold("too few pulses came before the window opened");
        }
        Course course = new Course(response, steady);
        return course.cameUp()
                ? new Judged.Measured(course.measures())
                : new Judged.Untold("the flow had not become steady before the window opened");
    }

    /** The flow over time, slot by slot. */
    private static final class Course {
        private final StepResponse response;
        private final FlowSteadiness steady;
        private final double last;
        private final long zero;
        private final double[] nanos;
        private final double[] rates;
        private final int tail;
        private final long longest;

        Course(StepResponse response, FlowSteadiness steady) {
            this.response = response;
            this.steady = steady;
            last = steady.pulsesPerSecond();
            zero =
                    switch (response.start()) {
                        case AT_COMMAND -> response.askedNanos();
                        case AT_FIRST_PULSE -> response.firstNanos();
                    };
            List<StepResponse.Slot> slots = response.slots();
            while (slots.size() / 2 >= SLOTS_MIN && uneven(slots)) {
                slots = StepResponse.joined(slots);
            }
            nanos = new double[slots.size() + 1];
            rates = new double[slots.size() + 1];
            nanos[0] = response.firstNanos() - zero;
            long begin = response.firstNanos();
            long most = 0;
            for (int i = 0; i < slots.size(); i++) {
                long end = slots.get(i).endNanos();
                nanos[i + 1] = begin - zero + (end - begin) / 2.0;
                rates[i + 1] = slots.get(i).pulses() * 1e9 / (end - begin);
                most = Math.max(most, end - begin);
                begin = end;
            }
            longest = most;
            tail = tailOf(slots) + 1;
        }

        /** The first slot of those over which the flow was judged steady; at least the last one. */
        private int tailOf(List<StepResponse.Slot> slots) {
            long whole = steady.slotNanos() * steady.slotCount();
            long from = slots.getLast().endNanos() - whole;
            int index = slots.size() - 1;
            while (index > 1 && slots.get(index - 2).endNanos() >= from) {
                index--;
            }
            return index;
        }

        /**
         * Whether a steady flow's slots use up more than half of the band: then they are too short
         * for its pulses, and of many such slots one would leave it by chance.
         */
        private boolean uneven(List<StepResponse.Slot> slots) {
            for (int i = tailOf(slots); i < slots.size(); i++) {
                long length = slots.get(i).endNanos() - slots.get(i - 1).endNanos();
                if (off(slots.get(i).pulses() * 1e9 / length) > BAND_RATIO / 2) {
                    return true;
                }
            }
            return false;
        }

        private double off(double rate) {
            return Math.abs(rate / last - 1);
        }

        private boolean outside(double rate) {
            return off(rate) > BAND_RATIO;
        }

        /** Whether any slot has reached nine tenths of what the flow is said to have come to. */
        boolean cameUp() {
            double most = 0;
            for (double rate : rates) {
                most = Math.max(most, rate);
            }
            return most >= RISE_TO * last;
        }

        StepMeasures measures() {
            return new StepMeasures(
                    response.start() == StepResponse.Start.AT_COMMAND
                            ? OptionalLong.of(response.firstNanos() - zero)
                            : OptionalLong.empty(),
                    Math.round(reached(DELAY_TO)),
                    Math.round(reached(RISE_TO) - reached(RISE_FROM)),
                    overshoot(),
                    settling(),
                    last,
                    new Ratio(steady.spread()),
                    longest);
        }

        /** When a share of the final flow was first reached, as {@link #cameUp()} has made sure. */
        private double reached(double share) {
            int index = 1;
            while (rates[index] < share * last) {
                index++;
            }
            return crossing(index, share * last);
        }

        /** When a rate was passed between a slot and the one before it. */
        private double crossing(int index, double rate) {
            double from = rates[index - 1];
            double way = (rate - from) / (rates[index] - from);
            return nanos[index - 1] + way * (nanos[index] - nanos[index - 1]);
        }

        private Optional<Overshoot> overshoot() {
            int peak = 0;
            for (int i = 1; i < tail; i++) {
                peak = rates[i] > rates[peak] ? i : peak;
            }
            double usual = 0;
            for (int i = tail; i < rates.length; i++) {
                usual = Math.max(usual, off(rates[i]));
            }
            double above = rates[peak] / last - 1;
            return above > Math.max(PEAK_RATIO_MIN, PEAK_TIMES * usual)
                    ? Optional.of(new Overshoot(new Ratio(above), Math.round(nanos[peak])))
                    : Optional.empty();
        }

        private OptionalLong settling() {
            int out = rates.length - 1;
            if (outside(rates[out])) {
                return OptionalLong.empty();
            }
            while (out > 0 && !outside(rates[out])) {
                out--;
            }
            double edge = last * (rates[out] < last ? 1 - BAND_RATIO : 1 + BAND_RATIO);
            return OptionalLong.of(Math.round(crossing(out + 1, edge)));
        }
    }
}
