package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;

/**
 * A flow as the bay measured it.
 *
 * @param rate mean over a window
 * @param expanded its expanded uncertainty, 95 %, relative
 */
public record MeasuredFlow(FlowRate rate, Ratio expanded) {

    /** The least that it may have been. */
    public FlowRate least() {
        return new FlowRate(rate.litresPerSecond() * Math.max(0, 1 - expanded.value()));
    }

    /** The most that it may have been. */
    public FlowRate most() {
        return new FlowRate(rate.litresPerSecond() * (1 + expanded.value()));
    }
}
