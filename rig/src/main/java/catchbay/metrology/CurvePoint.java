package catchbay.metrology;

import catchbay.quantity.FlowRate;

import java.time.LocalDate;
import java.util.List;

/**
 * One catch as a point of a truck meter's curve. Uncertainties are standard ones, as ratios of the
 * number, >= 0.
 *
 * @param run which catch it was
 * @param day the day of it
 * @param flow the measured flow, above zero
 * @param number the number that the controller should have held, in the constant's own form and
 *     unit, see {@link TruckConstant#curing}; finite and > 0
 * @param relativeRandom what differs from catch to catch
 * @param randomDegreesOfFreedom how well that is known, at least 1 or infinite
 * @param relativeDay what all catches of one day share; never divided by the number of catches
 * @param relativeCommon what all catches of the bay share; never divided either
 * @param instrument what measured: between two instruments the common part does not cancel
 */
public record CurvePoint(
        String run,
        LocalDate day,
        FlowRate flow,
        double number,
        double relativeRandom,
        double randomDegreesOfFreedom,
        double relativeDay,
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
        if (!(randomDegreesOfFreedom >= 1)) {
            throw new IllegalArgumentException(
                    "a curve's point needs degrees of freedom >= 1, was " + randomDegreesOfFreedom);
        }
        atLeastZero("random", relativeRandom);
        atLeastZero("day's", relativeDay);
        atLeastZero("common", relativeCommon);
    }

    /**
     * The point of a catch: its meter error's budget, parted by scope.
     *
     * @param constant as it was entered during the catch
     */
    public static CurvePoint of(
            String run,
            LocalDate day,
            FlowRate flow,
            Comparison comparison,
            TruckConstant constant,
            String instrument) {
        Budget.Output error = comparison.budget().output(Comparison.METER_ERROR);
        // An uncertainty of the error is one of R/M, which is 1 + error.
        double over = 1 + error.value();
        return new CurvePoint(
                run,
                day,
                flow,
                constant.curing(over),
                standard(error, Input.Scope.RUN) / over,
                degreesOfFreedom(error),
                standard(error, Input.Scope.DAY) / over,
                standard(error, Input.Scope.BAY) / over,
                instrument);
    }

    private static double standard(Budget.Output error, Input.Scope scope) {
        double sum = 0;
        for (Budget.Row row : error.rows()) {
            sum += row.scope() == scope ? row.contribution() * row.contribution() : 0;
        }
        return Math.sqrt(sum);
    }

    private static double degreesOfFreedom(Budget.Output error) {
        List<Budget.Row> rows =
                error.rows().stream().filter(row -> row.scope() == Input.Scope.RUN).toList();
        return Coverage.effectiveDegreesOfFreedom(
                rows.stream().mapToDouble(row -> row.contribution() * row.contribution()).toArray(),
                rows.stream().mapToDouble(Budget.Row::degreesOfFreedom).toArray());
    }

    private static void atLeastZero(String what, double ratio) {
        if (!Double.isFinite(ratio) || ratio < 0) {
            throw new IllegalArgumentException(
                    what + " uncertainty of a curve's point must be finite and >= 0, was " + ratio);
        }
    }
}
