package catchbay.record;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.run.HuntRules;

/** The section {@code hunt} of the settings; every default is a row of their page. */
public final class HuntRulesText {

    private static final long HOUR_NANOS = 3_600_000_000_000L;

    private static final Measure<FlowRate> FLOW =
            Measure.FLOW.within("above zero", flow -> flow.litresPerSecond() > 0);

    private static final Measure<Ratio> STEP =
            Measure.RATIO.within(
                    "from 1 to 100 %", ratio -> ratio.value() >= 0.01 && ratio.value() <= 1);

    private static final Measure<Long> DURATION =
            Measure.DURATION.within(
                    "above 0 seconds and at most an hour",
                    nanos -> nanos > 0 && nanos <= HOUR_NANOS);

    private HuntRulesText() {}

    /** Reads the section; its keys are then known, and {@link Fields#finish} refuses others. */
    public static HuntRules read(Fields from) {
        HuntRules usual = HuntRules.USUAL;
        return new HuntRules(
                span(from, "low"),
                span(from, "high"),
                from.quantity("step", STEP, usual.step()),
                from.quantity("reading", DURATION, usual.readingNanos()),
                (int) from.whole("pulses_least", 3, 100_000, usual.pulsesLeast()),
                from.quantity("counted_least", STEP, usual.countedLeast()),
                from.number("gap_most", 1.1, 1000, usual.gapMost()),
                from.quantity("followed_least", STEP, usual.followedLeast()),
                from.quantity("presence", DURATION, usual.presenceNanos()));
    }

    private static HuntRules.Span span(Fields from, String end) {
        return new HuntRules.Span(
                from.optionalQuantity(end + "_from", FLOW),
                from.optionalQuantity(end + "_to", FLOW));
    }
}
