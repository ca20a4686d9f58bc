package catchbay.run;

import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Estimate;
import catchbay.metrology.Verdict;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseCount;

import java.util.List;
import java.util.Optional;

/**
 * What a completed catch gave.
 *
 * @param comparison asked, reported and measured, the errors between them and the volumes by each
 *     instrument
 * @param disagreement (reference - scale) / scale, where both are fitted
 * @param count the reference meter's pulses in the window, where fitted
 * @param emptyReading the scale's reading before, where fitted
 * @param netReading the scale's reading after less before, where fitted
 * @param flow mean flow in the window, or while liquid flowed in a standing one
 * @param windowNanos from the window's opening to its closing
 * @param travel the diverter's travel times, where it moved for the window
 * @param askedBasis how the asked volume was arrived at, in words
 * @param reportedBasis how the reported volume was learned, in words
 * @param coupler the pressure at the coupler in the window; empty where none was told throughout
 * @param rise how the flow came up before the window; empty where it was not watched
 * @param disturbance what kept the flow from being steady (air, a hunting valve), as a sentence's
 *     part; empty where it was steady or not judged
 * @param advice what to do with the truck's constant
 * @param verdict whether the truck passes by its judgement; empty where no uncertainty is stated
 * @param notes what a reader must know, each a sentence
 */
public record CatchResult(
        Comparison comparison,
        Optional<Ratio> disagreement,
        Optional<PulseCount> count,
        Optional<Mass> emptyReading,
        Optional<Mass> netReading,
        FlowRate flow,
        long windowNanos,
        Optional<Travel> travel,
        String askedBasis,
        String reportedBasis,
        Optional<PressureSense.InWindow> coupler,
        Optional<FlowRise> rise,
        Optional<String> disturbance,
        ConstantAdvice advice,
        Optional<Verdict> verdict,
        List<String> notes) {

    /** The same, judged by nobody. */
    public CatchResult withoutVerdict() {
        return new CatchResult(
                comparison,
                disagreement,
                count,
                emptyReading,
                netReading,
                flow,
                windowNanos,
                travel,
                askedBasis,
                reportedBasis,
                coupler,
                rise,
                disturbance,
                advice,
                Optional.empty(),
                notes);
    }

    /** The volume by the reference meter, where it is fitted and could measure the flow. */
    public Optional<Estimate> byReference() {
        return comparison.by(Comparison.BY_REFERENCE);
    }

    /** The volume by the scale, where it is fitted. */
    public Optional<Estimate> byScale() {
        return comparison.by(Comparison.BY_SCALE);
    }

    /**
     * How long the diverter took.
     *
     * @param openNanos towards the tank: from command to trigger, or from leaving to arriving
     * @param closeNanos back to the bypass, likewise
     */
    public record Travel(long openNanos, long closeNanos) {}

    /** What the scale read after the catch, with all that was in the tank; empty without one. */
    public Optional<Mass> grossReading() {
        return emptyReading.flatMap(
                empty -> netReading.map(net -> new Mass(empty.kilograms() + net.kilograms())));
    }
}
