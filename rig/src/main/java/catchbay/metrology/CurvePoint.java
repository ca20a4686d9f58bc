package catchbay.metrology;

import catchbay.quantity.FlowRate;

/**
 * One catch as a point of a truck meter's curve.
 *
 * @param run which catch it was
 * @param flow the measured flow, above zero
 * @param number the number that the controller should have held, in the constant's own form and
 *     unit, see {@link TruckConstant#curing}; finite and > 0
 * @param relativeRandom standard uncertainty that differs from catch to catch, as a ratio of the
 *     number; >= 0
 * @param relativeCommon standard uncertainty that all catches of the bay share, as a ratio of the
 *     number; >= 0, never divided by the number of catches
 * @param instrument what measured: between two instruments the common part does not cancel
 */
public record CurvePoint(
        String run,
        FlowRate flow,
        double number,
        double relativeRandom,
        double relativeCommon,
        String instrument) {

    public CurvePoint {
        if (flow.litresPerSecond() <= 0) {
            throw new IllegalArgumentException("a curve's point needs a flow above 0 L/s");
        }
        if (!Double.isFinite(number) || number <= 0) {
            throw new IllegalArgumentException(
                    "a curve's point needs a finite number > 0, was " + number);
        }
        atLeastZero("random", relativeRandom);
        atLeastZero("common", relativeCommon);
    }

    private static void atLeastZero(String what, double ratio) {
        if (!Double.isFinite(ratio) || ratio < 0) {
            throw new IllegalArgumentException(
                    what + " uncertainty of a curve's point must be finite and >= 0, was " + ratio);
        }
    }
}
