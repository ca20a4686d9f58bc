package catchbay.run;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Speed;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Everything known before a hunt.
 *
 * @param end which end of the truck's range is looked for
 * @param bay the bay and the truck, in the course that a hunt takes; with a guard and a part
 * @param rules how it is looked for
 * @param lowering whether the low end is looked for once more with the flow falling
 * @param from the first flow
 * @param to the last one
 */
public record HuntSetup(
        RangeEnd end, RunSetup bay, HuntRules rules, boolean lowering, FlowRate from, FlowRate to) {

    /**
     * The setup of a hunt on a bay as it is today.
     *
     * @param today of whose hunt {@link #problems} found none
     * @param part who has confirmed its cautions, and how an attendant shows to be there
     */
    public static HuntSetup of(
            RangeEnd end, RunSetup today, HuntRules rules, boolean lowering, Part part) {
        Guard guard = today.watched();
        // Only here a meter may be silent while liquid flows; that it flows no faster than by hand
        // is watched all the same.
        Guard limits = end == RangeEnd.LOW ? guard.withSilentMeter() : guard;
        RunSetup bay =
                today.with(
                                today.asked(),
                                today.plan().hunting(flowBy(end, today), window(today)),
                                today.judgement())
                        .with(limits)
                        .as(part);
        return new HuntSetup(
                end,
                bay,
                rules,
                lowering,
                from(end, today, rules).orElseThrow(),
                to(end, today, rules).orElseThrow());
    }

    /**
     * The low end is never looked for with a controller that regulates: one whose meter stops
     * counting opens its valve fully. By hand it goes, or by a throttle behind the bay's supply.
     */
    private static FlowBy flowBy(RangeEnd end, RunSetup today) {
        FlowBy usual = today.plan().flowBy();
        return end == RangeEnd.LOW && usual == FlowBy.GROUND_SPEED ? FlowBy.OPERATOR : usual;
    }

    /** A reference is read between its pulses; a scale without any diverter's timing. */
    private static Window window(RunSetup today) {
        return switch (today.plan().measureBy()) {
            case REFERENCE -> Window.FLYING;
            case SCALE -> Window.STANDING;
        };
    }

    private static Optional<FlowRate> from(RangeEnd end, RunSetup today, HuntRules rules) {
        return switch (end) {
            case LOW -> rules.low().from().or(() -> curve(today).map(curve -> curve.lowest()));
            case HIGH -> rules.high().from().or(() -> Optional.of(usual(today)));
        };
    }

    private static Optional<FlowRate> to(RangeEnd end, RunSetup today, HuntRules rules) {
        return switch (end) {
            case LOW -> rules.low().to().or(() -> Optional.of(usual(today)));
            case HIGH -> rules.high().to().or(() -> curve(today).map(curve -> curve.highest()));
        };
    }

    private static FlowRate usual(RunSetup today) {
        return SetupCheck.askedFlow(today.asked());
    }

    private static Optional<ReferenceCurve> curve(RunSetup today) {
        return today.plan().measureBy() == MeasureBy.REFERENCE
                ? today.reference().map(RunSetup.Reference::curve)
                : Optional.empty();
    }

    /**
     * Why such a hunt cannot be made on a bay as it is today, each a sentence; empty when it can.
     */
    public static List<String> problems(RangeEnd end, RunSetup today, HuntRules rules) {
        List<String> problems = new ArrayList<>();
        boolean tapped = today.reported() instanceof Reported.MeterPulses;
        if (end == RangeEnd.LOW && !(tapped && today.truck().constant().pulses().isPresent())) {
            problems.add(
                    "reported.source is not pulses, so nobody could see whether the truck's meter"
                            + " counts; tap its line, and set reported.source = \"pulses\".");
        }
        if (end == RangeEnd.LOW && today.reference().isEmpty()) {
            problems.add(
                    "no reference meter is fitted, and without one nothing sees at once that a"
                            + " controller opens its valve fully because its meter is silent; the"
                            + " low end is not looked for so.");
        }
        Optional<FlowRate> from = from(end, today, rules);
        Optional<FlowRate> to = to(end, today, rules);
        if (from.isEmpty() || to.isEmpty()) {
            problems.add(
                    "a scale does not say "
                            + (from.isEmpty() ? "from which" : "up to which")
                            + " flow it measures; add hunt."
                            + end.key()
                            + (from.isEmpty() ? "_from" : "_to")
                            + "_us_gal_per_min.");
            return problems;
        }
        if (from.get().litresPerSecond() == 0 || from.get().compareTo(to.get()) >= 0) {
            problems.add(
                    String.format(
                            Locale.ROOT,
                            "the %s end would be looked for from %s to %s; set hunt.%s_from above 0"
                                    + " and below hunt.%s_to.",
                            end.key(),
                            gallons(from.get()),
                            gallons(to.get()),
                            end.key(),
                            end.key()));
        }
        curve(today)
                .filter(curve ->
                        from.get().compareTo(curve.lowest()) < 0
                                || to.get().compareTo(curve.highest()) > 0)
                .ifPresent(curve -> problems.add(beyond(end, from.get(), to.get(), curve)));
        return problems;
    }

    private static String beyond(RangeEnd end, FlowRate from, FlowRate to, ReferenceCurve curve) {
        String key = "hunt." + end.key();
        List<String> mends = new ArrayList<>();
        if (from.compareTo(curve.lowest()) < 0) {
            mends.add(key + "_from_us_gal_per_min to at least " + number(curve.lowest()));
        }
        if (to.compareTo(curve.highest()) > 0) {
            mends.add(key + "_to_us_gal_per_min to at most " + number(curve.highest()));
        }
        return String.format(
                Locale.ROOT,
                "a hunt from %s to %s leaves the reference's certified %s to %s; set %s, name"
                        + " another meter with --reference, or measure by scale.",
                gallons(from),
                gallons(to),
                gallons(curve.lowest()),
                gallons(curve.highest()),
                String.join(" and ", mends));
    }

    /**
     * The bay's setup as far as a hunt within these bounds is judged by it: at the usual flow, or
     * at that bound of the hunt which is nearer to it.
     */
    public static RunSetup judged(RangeEnd end, RunSetup today, HuntRules rules) {
        double usual = usual(today).litresPerSecond();
        double from = from(end, today, rules).map(FlowRate::litresPerSecond).orElse(usual);
        double to = to(end, today, rules).map(FlowRate::litresPerSecond).orElse(usual);
        double flow = Math.min(Math.max(usual, from), Math.max(from, to));
        if (usual == 0 || flow == usual) {
            return today;
        }
        double speed = today.asked().speed().metresPerSecond() * flow / usual;
        return today.with(today.asked().at(new Speed(speed)), today.plan(), today.judgement());
    }

    private static String gallons(FlowRate flow) {
        return number(flow) + " US gal/min";
    }

    private static String number(FlowRate flow) {
        return String.format(Locale.ROOT, "%.3g", flow.perMinute(VolumeUnit.US_GALLON));
    }

    /** Whether somebody sets each flow by hand. */
    public boolean byHand() {
        return end == RangeEnd.LOW || bay.plan().flowBy() != FlowBy.GROUND_SPEED;
    }

    /** Whether the scale measures. */
    boolean byScale() {
        return bay.plan().measureBy() == MeasureBy.SCALE;
    }

    /** The setup while this flow is asked for: against it flow that runs away is seen. */
    RunSetup at(FlowRate flow) {
        return bay.with(bay.asked().at(speed(flow)), bay.plan(), bay.judgement());
    }

    /** At which speed the set rate asks for a flow. */
    Speed speed(FlowRate flow) {
        double share = flow.litresPerSecond() / usual(bay).litresPerSecond();
        return new Speed(bay.asked().speed().metresPerSecond() * share);
    }

    /** What the person is asked to set for a step; empty where the bay sets it. */
    Optional<HuntTask> task(FlowRate flow, boolean rising) {
        if (end == RangeEnd.LOW) {
            double most = bay.guard().orElseThrow().runaway().value() * flow.litresPerSecond();
            return Optional.of(new HuntTask.SetValve(flow, rising, new FlowRate(most)));
        }
        return byHand() ? Optional.of(new HuntTask.SetSpeed(flow, speed(flow))) : Optional.empty();
    }
}
