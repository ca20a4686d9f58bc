package catchbay.run;

import catchbay.metrology.Estimate;
import catchbay.metrology.ModelSketch;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.run.Outcome.Cause;

import java.util.ArrayList;
import java.util.List;

/** What flows truly in a step of a hunt, by the instrument and the model of a catch. */
final class HuntMeter {

    private static final String VOLUME = "volume";

    private HuntMeter() {}

    /**
     * The mean flow in a window.
     *
     * @param sensed whose lines hold the window, closed
     * @param weighed the weights at its ends, where the scale measures
     * @throws Unfit when it cannot be measured
     */
    static MeasuredFlow flow(Sensed sensed, HuntPhase.Weighed weighed) throws Unfit {
        List<String> notes = new ArrayList<>();
        Sensed warm = Warmth.applied(sensed, notes);
        ModelSketch sketch = new ModelSketch();
        Counting counting = new Counting(warm.plan(), notes);
        MeasuredAmount amount = new MeasuredAmount(warm, counting, sketch);
        return switch (warm.plan().measureBy()) {
            case REFERENCE -> {
                Quantity volume =
                        amount.byReference(
                                warm.setup().reference().orElseThrow(),
                                counting.needed(warm.lines().reference(), "reference meter"));
                long nanos =
                        warm.lines().reference().closeNanos()
                                - warm.lines().reference().openNanos();
                yield flow(sketch, volume, nanos);
            }
            case SCALE -> {
                Quantity volume = amount.byScale(warm.setup().scale().orElseThrow(), net(weighed));
                yield flow(sketch, volume, weighed.lastNanos() - weighed.firstNanos());
            }
        };
    }

    /** Liquid falls into the tank at both ends alike, so that its force on the scale cancels. */
    private static Mass net(HuntPhase.Weighed weighed) throws Unfit {
        if (weighed.first().isEmpty() || weighed.lastNanos() <= weighed.firstNanos()) {
            throw new Unfit(
                    Cause.SCALE_SILENT,
                    "The scale sent fewer than two weights in this step; check its indicator and"
                            + " its line.");
        }
        return weighed.last().orElseThrow().minus(weighed.first().orElseThrow());
    }

    private static MeasuredFlow flow(ModelSketch sketch, Quantity volume, long nanos) {
        sketch.output(VOLUME, volume);
        Estimate estimate = Estimate.of(sketch.sketched().budget().output(VOLUME));
        double litres = estimate.volume().litres();
        return new MeasuredFlow(
                new FlowRate(litres / (nanos / 1e9)),
                new Ratio(estimate.expanded().litres() / litres));
    }
}
