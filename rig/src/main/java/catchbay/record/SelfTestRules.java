package catchbay.record;

import catchbay.metrology.InstrumentCheck;
import catchbay.metrology.StartStopError;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * How a bay tries itself, and how often.
 *
 * @param days how many days may pass between two tests of a kind; 0 = it is not scheduled
 * @param supply who starts the bay's own supply: an output of the bay, or the operator
 * @param timing of the test of its timing
 * @param leak of the watch for leaks
 * @param compare of the comparison of its instruments
 */
public record SelfTestRules(
        Map<BayTest, Integer> days, FlowBy supply, Timing timing, Leak leak, Compare compare) {

    private static final long SECOND = 1_000_000_000L;
    private static final int SHORTS_MAX = 50;
    private static final int ROUNDS_MAX = 20;

    /** Ten per cent of a catch of a minute is no error of timing any more. */
    private static final double LIMIT_SECONDS_MAX = 6;

    /**
     * Of the test of the timing.
     *
     * @param longNanos how long the long catch of a round lasts
     * @param shorts how many short ones together last as long
     * @param rounds how often both are caught
     * @param limitSeconds beyond which an error is a fault of the bay
     */
    public record Timing(long longNanos, int shorts, int rounds, double limitSeconds) {

        /**
         * A minute, as a usual catch; ten short ones of six seconds, in which an error of 20 ms is
         * a third of a per cent and the diverter still travels but a small part; three rounds; two
         * tenths of a second. Common practice, no source.
         */
        static final Timing USUAL = new Timing(60 * SECOND, 10, 3, 0.2);

        /** How long a short catch lasts. */
        public long shortNanos() {
            return longNanos / shorts;
        }

        /** How many catches there are in all. */
        public int catches() {
            return rounds * (1 + shorts);
        }
    }

    /**
     * Of the watch for leaks.
     *
     * @param watchNanos how long the tank is watched
     * @param share of the asked flow that may come or go
     * @param loadLeast what the scale must show at least, so that a leak has something to lose;
     *     empty = a share of what the scale can weigh
     */
    public record Leak(long watchNanos, double share, Optional<Mass> loadLeast) {

        /**
         * So much of the scale's capacity: it wets the drain and its fittings, and is poured by
         * hand in a few minutes. Common practice, no source.
         */
        private static final double CAPACITY_SHARE = 0.05;

        /** What a scale must show at least. */
        public Mass loadLeast(RunSetup.Scale scale) {
            return loadLeast.orElseGet(
                    () -> new Mass(CAPACITY_SHARE * scale.capacity().kilograms()));
        }
    }

    /**
     * Of the comparison of instruments.
     *
     * @param catches how many catches each meter makes
     * @param limit by how much instruments may differ
     */
    public record Compare(int catches, Ratio limit) {}

    /** A leak may take so much of the wanted uncertainty. Common practice, no source. */
    private static final double LEAK_SHARE = 0.1;

    private static final int CATCHES_MAX = 20;

    /** Who starts the bay's own supply, as settings call it. */
    private enum Supply {
        OUTPUT,
        BY_HAND
    }

    public SelfTestRules {
        days = Collections.unmodifiableMap(new EnumMap<>(days));
    }

    /**
     * The rules of a section.
     *
     * @param from the section; may be empty
     * @param scheduled whether it is there at all: without it nothing is scheduled
     * @param usual the course of the bay's catches
     */
    public static SelfTestRules read(Fields from, boolean scheduled, RunSetup.Plan usual) {
        Map<BayTest, Integer> days = new EnumMap<>(BayTest.class);
        for (BayTest test : BayTest.values()) {
            int otherwise = scheduled ? test.daysUsual() : 0;
            days.put(test, (int) from.whole(test.key() + "_days", 0, BayTest.DAYS_MAX, otherwise));
        }
        Supply supply =
                from.choice(
                        "supply",
                        Supply.class,
                        usual.flowBy() == FlowBy.SUPPLY ? Supply.OUTPUT : Supply.BY_HAND);
        return new SelfTestRules(
                days,
                switch (supply) {
                    case OUTPUT -> FlowBy.SUPPLY;
                    case BY_HAND -> FlowBy.OPERATOR;
                },
                timing(from),
                leak(from),
                new Compare(
                        (int)
                                from.whole(
                                        "compare_catches",
                                        InstrumentCheck.CATCHES_MIN,
                                        CATCHES_MAX,
                                        5),
                        from.quantity(
                                "compare_limit", Measure.UNCERTAINTY, usual.crossCheckMax())));
    }

    private static Leak leak(Fields from) {
        Measure<Long> watch =
                Measure.DURATION.within(
                        "from 60 to 1500 s", t -> t >= 60 * SECOND && t <= 1500 * SECOND);
        Ratio wanted = from.quantity("wanted", Measure.UNCERTAINTY, Ratio.ofPercent(0.25));
        return new Leak(
                from.quantity("leak_watch", watch, 300 * SECOND),
                LEAK_SHARE * wanted.value(),
                from.optionalQuantity(
                        "leak_load_least",
                        Measure.MASS.within("above 0", mass -> mass.kilograms() > 0)));
    }

    private static Timing timing(Fields from) {
        Timing usual = Timing.USUAL;
        Measure<Long> window =
                Measure.DURATION.within(
                        "from 10 to 600 s", t -> t >= 10 * SECOND && t <= 600 * SECOND);
        return new Timing(
                from.quantity("timing_long", window, usual.longNanos),
                (int) from.whole("timing_short_catches", 2, SHORTS_MAX, usual.shorts),
                (int)
                        from.whole(
                                "timing_rounds",
                                StartStopError.ROUNDS_MIN,
                                ROUNDS_MAX,
                                usual.rounds),
                from.number(
                        "timing_limit_seconds",
                        Double.MIN_VALUE,
                        LIMIT_SECONDS_MAX,
                        usual.limitSeconds));
    }

    /** By how much reference and scale may differ in a catch whose timing is to be found. */
    public Ratio apart(RunSetup.Plan plan) {
        return new Ratio(
                plan.crossCheckMax().value() + timing.limitSeconds * 1e9 / timing.shortNanos());
    }
}
