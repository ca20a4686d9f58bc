package catchbay.metrology;

import catchbay.metrology.ConstantFit.Table;
import catchbay.metrology.FlowMix.Duty;
import catchbay.metrology.FlowMix.Fit;
import catchbay.metrology.TruckCurve.Reading;
import catchbay.metrology.TruckCurve.Station;
import catchbay.quantity.FlowRate;

import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/** How good a number is for work within the tested flows, and which one is best. */
final class FitScore {

    private final TruckCurve curve;
    private final Fit fit;
    private final List<Duty> duties;
    private final double[] right;

    FitScore(TruckCurve curve, Fit fit, List<Duty> duties) {
        this.curve = curve;
        this.fit = fit;
        this.duties = duties;
        this.right = duties.stream().mapToDouble(d -> number(curve, d)).toArray();
    }

    private static double number(TruckCurve curve, Duty duty) {
        return curve.at(duty.flow()).orElseThrow().number();
    }

    private boolean perVolume() {
        return curve.constant().form() == TruckConstant.Form.PULSES_PER_VOLUME;
    }

    /**
     * The best number before rounding. With a the right pulses per volume (for the two other forms
     * the inverse of the right number) and x the inverse of the entered one (there the number
     * itself), every error is {@code a x - 1}. Least squares: {@code x = sum(w a) / sum(w a^2)}.
     * Minimax: {@code x = 2 / (max a + min a)}.
     */
    double best() {
        double sum = 0;
        double squares = 0;
        double most = 0;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < right.length; i++) {
            double a = perVolume() ? right[i] : 1 / right[i];
            sum += duties.get(i).weight() * a;
            squares += duties.get(i).weight() * a * a;
            most = Math.max(most, a);
            least = Math.min(least, a);
        }
        double x =
                switch (fit) {
                    case LEAST_SQUARES -> sum / squares;
                    case MINIMAX -> 2 / (most + least);
                };
        return perVolume() ? 1 / x : x;
    }

    /** The better of the two numbers next to it that can be entered. */
    Optional<Double> enterable(double unrounded) {
        TruckConstant constant = curve.constant();
        double below = Math.floor(unrounded / constant.step()) * constant.step();
        Optional<Double> best = Optional.empty();
        for (double near : new double[] {below, below + constant.step()}) {
            double number = constant.rounded(near);
            if (constant.accepts(number)
                    && (best.isEmpty() || of(ignored -> number) < of(constantly(best.get())))) {
                best = Optional.of(number);
            }
        }
        return best;
    }

    private static ToDoubleFunction<FlowRate> constantly(double number) {
        return flow -> number;
    }

    /** The smaller the better. */
    private double of(ToDoubleFunction<FlowRate> entered) {
        double score = 0;
        for (int i = 0; i < right.length; i++) {
            Duty duty = duties.get(i);
            double error =
                    curve.constant()
                            .errorWith(entered.applyAsDouble(duty.flow()), right[i])
                            .value();
            score =
                    switch (fit) {
                        case LEAST_SQUARES -> score + duty.weight() * error * error;
                        case MINIMAX -> Math.max(score, Math.abs(error));
                    };
        }
        return score;
    }

    /**
     * Of all pairs of tested flows the one whose two right numbers, rounded, leave least: both
     * entries are measured ones, so that at both of them the error is zero but for rounding.
     */
    Optional<Table> table() {
        Optional<Table> best = Optional.empty();
        List<Station> stations = curve.stations();
        for (int low = 0; low < stations.size(); low++) {
            for (int high = low + 1; high < stations.size(); high++) {
                Optional<Table> table = table(stations.get(low), stations.get(high));
                if (table.isPresent()
                        && (best.isEmpty()
                                || of(table.get()::numberAt) < of(best.get()::numberAt))) {
                    best = table;
                }
            }
        }
        return best;
    }

    private Optional<Table> table(Station low, Station high) {
        TruckConstant constant = curve.constant();
        double lowNumber = constant.rounded(low.number());
        double highNumber = constant.rounded(high.number());
        return constant.accepts(lowNumber) && constant.accepts(highNumber)
                ? Optional.of(new Table(low.flow(), lowNumber, high.flow(), highNumber))
                : Optional.empty();
    }

    Reading mean() {
        double total = duties.stream().mapToDouble(Duty::weight).sum();
        double[] shares = new double[curve.stations().size()];
        for (Duty duty : duties) {
            double[] own = curve.shares(duty.flow()).orElseThrow();
            for (int i = 0; i < shares.length; i++) {
                shares[i] += own[i] * duty.weight() / total;
            }
        }
        return curve.combined(shares);
    }
}
