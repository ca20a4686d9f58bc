package catchbay.metrology;

import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What is wrong with a truck, by the catches over its flow range, and whether a constant may be
 * offered. Each finding is named only where its figure is beyond its own uncertainty and beyond its
 * limit, and only where no other finding explains the same figure: see src/docs/method.md, "Truck
 * meter over the flow range".
 *
 * @param findings what was found, in a fixed order; empty where nothing stands out
 * @param offer what to do with the constant
 */
public record Diagnosis(List<Finding> findings, Offer offer) {

    /**
     * Up to where something is taken for sound.
     *
     * @param linearity of the meter
     * @param follow control error
     * @param scatter standard deviation of repeats at one flow
     * @param speed error of the speed that the controller shows
     * @param speedStep step of that display, above zero
     * @param couplerLeast lowest pressure at the coupler that is like the road; empty = not judged
     * @param couplerMost highest one
     * @param strainerMost largest drop over the strainer
     */
    public record Limits(
            Ratio linearity,
            Ratio follow,
            Ratio scatter,
            Ratio speed,
            Speed speedStep,
            Optional<Pressure> couplerLeast,
            Optional<Pressure> couplerMost,
            Optional<Pressure> strainerMost) {

        /** What holds where a shop has set nothing. Common practice, no source. */
        public static final Limits USUAL =
                new Limits(
                        Ratio.ofPercent(2),
                        Ratio.ofPercent(5),
                        Ratio.ofPercent(1),
                        Ratio.ofPercent(1),
                        Speed.ofMilesPerHour(0.1),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty());
    }

    /** What to do with the constant. */
    public sealed interface Offer {
        /** Enter the best one. */
        record Enter(ConstantFit.Fitted fitted) implements Offer {}

        /** Leave it as it is, for the reason given as a sentence. */
        record Keep(String reason) implements Offer {}

        /** None is offered before something else is done, given as a sentence. */
        record Withheld(String reason) implements Offer {}
    }

    public Diagnosis {
        findings = List.copyOf(findings);
    }

    /**
     * The diagnosis of a truck.
     *
     * @param curve its curve; empty where the steady catches make none
     * @param mix the shop's work
     * @param catches every measured catch, also those that are no points of the curve; at least one
     * @param limits up to where something is sound
     * @param outletsShutBy who has seen that recirculation and every other outlet were shut
     */
    public static Diagnosis of(
            Optional<TruckCurve> curve,
            FlowMix mix,
            List<CatchEvidence> catches,
            Limits limits,
            Optional<String> outletsShutBy) {
        List<Finding> findings = new ArrayList<>(unsteady(catches));
        findings.addAll(new FollowJudgement(catches, limits).findings());
        MeterJudgement meter =
                new MeterJudgement(curve, mix, catches, limits, outletsShutBy.isPresent());
        findings.addAll(meter.findings());
        return new Diagnosis(findings, meter.offer());
    }

    private static List<Finding> unsteady(List<CatchEvidence> catches) {
        List<Finding.Disturbed> disturbed = new ArrayList<>();
        for (CatchEvidence evidence : catches) {
            evidence.disturbance()
                    .ifPresent(how ->
                            disturbed.add(
                                    new Finding.Disturbed(evidence.run(), evidence.flow(), how)));
        }
        return disturbed.isEmpty()
                ? List.of()
                : List.of(new Finding.UnsteadyFlow(disturbed, catches.size()));
    }
}
