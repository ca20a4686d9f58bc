package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;

import java.util.Optional;

/**
 * How the ends of a truck's range are hunted for: the section {@code hunt} of the settings. It is
 * no part of a catch. Every default is common practice, no source.
 *
 * @param low from and up to which flow the low end is looked for
 * @param high from and up to which flow the high end is looked for
 * @param step by how much more flows in a step than in the one before, as a ratio, > 0
 * @param readingNanos how long a step is measured at least, > 0
 * @param pulsesLeast how many pulses the truck's meter owes in a step before it is judged; the step
 *     is measured longer until it owes them
 * @param countedLeast the least share of the pulses that it owes of a meter that counts
 * @param gapMost the longest silence of a meter that counts, in mean spacings, > 1
 * @param followedLeast the least share of an increase asked for that a truck must give to follow
 * @param presenceNanos how often an attendant shows to be there, > 0
 */
public record HuntRules(
        Span low,
        Span high,
        Ratio step,
        long readingNanos,
        int pulsesLeast,
        Ratio countedLeast,
        double gapMost,
        Ratio followedLeast,
        long presenceNanos) {

    private static final long SECOND = 1_000_000_000L;

    /**
     * Where to look.
     *
     * @param from empty: from where the bay can measure on, or from the flow asked for
     * @param to empty: up to the flow asked for, or as far as the bay can measure
     */
    public record Span(Optional<FlowRate> from, Optional<FlowRate> to) {
        /** Where the bay itself gives both ends. */
        public static final Span OF_BAY = new Span(Optional.empty(), Optional.empty());
    }

    /** Where a shop has set nothing. */
    public static final HuntRules USUAL =
            new HuntRules(
                    Span.OF_BAY,
                    Span.OF_BAY,
                    new Ratio(0.25),
                    30 * SECOND,
                    20,
                    new Ratio(0.5),
                    3,
                    new Ratio(0.8),
                    900 * SECOND);

    public HuntRules {
        within("step of a hunt", step.value(), 0.01, 1);
        within("share of pulses counted", countedLeast.value(), 0.01, 1);
        within("longest silence in spacings", gapMost, 1.1, 1000);
        within("share followed", followedLeast.value(), 0.01, 1);
        within("pulses owed in a step", pulsesLeast, 3, 100_000);
        duration("step of a hunt", readingNanos);
        duration("interval of presence", presenceNanos);
    }

    private static void within(String what, double value, double least, double most) {
        if (!Double.isFinite(value) || value < least || value > most) {
            throw new IllegalArgumentException(
                    what + " must be from " + least + " to " + most + ", was " + value);
        }
    }

    private static void duration(String what, long nanos) {
        if (nanos < 1 || nanos > RunSetup.DURATION_NANOS_MAX) {
            throw new IllegalArgumentException(
                    what
                            + " must be from 1 to "
                            + RunSetup.DURATION_NANOS_MAX
                            + " ns, was "
                            + nanos);
        }
    }
}
