package catchbay.sim;

import catchbay.run.BayCommand.Way;
import java.util.Arrays;

/**
 * The diverter's flap. It travels evenly between its two ends and cuts through the jet on the middle part of its way,
 * so that the share of liquid that goes to the tank rises evenly while it crosses the jet, and is a half at mid-travel.
 */
final class Flap {

    /** The part of the travel over which the flap is inside the jet (illustrative). */
    static final double JET_SHARE = 0.6;

    /** So close to an end the end's switch is made (illustrative). */
    static final double END_SHARE = 0.02;

    private static final double JET_FROM = (1 - JET_SHARE) / 2;
    private static final double JET_TO = 1 - JET_FROM;

    private double travelNanos;
    private double from;
    private double to;
    private long startNanos;
    private double jam = Double.NaN;
    private final double[] kinks = new double[4];

    Flap(double travelNanos, double position) {
        this.travelNanos = travelNanos;
        this.from = position;
        this.to = position;
    }

    /** Sets off towards an end; where the flap is jammed it gets no further than that. */
    void move(long nowNanos, Way way) {
        double here = position(nowNanos);
        double end = way == Way.TANK ? 1 : 0;
        from = here;
        startNanos = nowNanos;
        boolean jammedBetween = (jam - here) * (jam - end) <= 0;
        to = jammedBetween ? jam : end;
    }

    /** From now on the flap cannot pass this position, 0 = bypass to 1 = tank. */
    void jam(long nowNanos, double position) {
        jam = position;
        double end = to;
        from = position(nowNanos);
        startNanos = nowNanos;
        to = (jam - from) * (jam - end) <= 0 ? jam : end;
    }

    /** From now on a whole travel takes so long. */
    void slow(long nowNanos, double newTravelNanos) {
        from = position(nowNanos);
        startNanos = nowNanos;
        travelNanos = newTravelNanos;
    }

    /** 0 = at the bypass, 1 = at the tank. */
    double position(long nanos) {
        return from + Math.clamp((nanos - startNanos) / travelNanos, 0, Math.abs(to - from)) * Math.signum(to - from);
    }

    boolean towardsTank() {
        return to > from;
    }

    /** When the present motion passes a position, ns as a fraction; not a number when it does not. */
    double passesNanos(double position) {
        boolean passes = towardsTank() ? from <= position && position <= to : to <= position && position <= from;
        return passes && from != to ? startNanos + Math.abs(position - from) * travelNanos : Double.NaN;
    }

    /** The share of the liquid that goes to the tank. */
    static double share(double position) {
        return Math.clamp((position - JET_FROM) / JET_SHARE, 0, 1);
    }

    /**
     * Litres that go to the tank between two moments, while the flow changes evenly from one value to another. Exact:
     * between its kinks the integrand is a product of two straight lines, for which Simpson's rule is exact.
     */
    double litresToTank(long aNanos, double flowAtA, long bNanos, double flowAtB) {
        double length = bNanos - aNanos;
        if (length <= 0) {
            return 0;
        }
        kinks[0] = startNanos;
        kinks[1] = passesNanos(JET_FROM);
        kinks[2] = passesNanos(JET_TO);
        kinks[3] = passesNanos(to);
        Arrays.sort(kinks);
        double litres = 0;
        double left = aNanos;
        for (int i = 0; i <= kinks.length; i++) {
            double right = i < kinks.length ? kinks[i] : bNanos;
            if (Double.isNaN(right) || right <= left || right > bNanos) {
                continue;
            }
            litres += piece(left, right, aNanos, length, flowAtA, flowAtB);
            left = right;
        }
        return left < bNanos ? litres + piece(left, bNanos, aNanos, length, flowAtA, flowAtB) : litres;
    }

    private double piece(double left, double right, long aNanos, double length, double flowAtA, double flowAtB) {
        double middle = (left + right) / 2;
        double sum = rate(left, aNanos, length, flowAtA, flowAtB)
                + 4 * rate(middle, aNanos, length, flowAtA, flowAtB)
                + rate(right, aNanos, length, flowAtA, flowAtB);
        return sum / 6 * (right - left) / 1e9;
    }

    private double rate(double nanos, long aNanos, double length, double flowAtA, double flowAtB) {
        double travelled = Math.clamp((nanos - startNanos) / travelNanos, 0, Math.abs(to - from));
        double here = from + travelled * Math.signum(to - from);
        return share(here) * (flowAtA + (flowAtB - flowAtA) * ((nanos - aNanos) / length));
    }
}
