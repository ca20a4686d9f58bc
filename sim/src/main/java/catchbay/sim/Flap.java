package catchbay.sim;

import catchbay.run.BayCommand.Way;

import java.util.Arrays;

/**
 * The diverter's flap. It travels evenly between its two ends and cuts through the jet on the
 * middle part of its way, so that the share of liquid that goes to the tank rises evenly while it
 * crosses the jet, and is a half at mid-travel.
 */
final class Flap {

    /** The part of the travel over which the flap is inside the jet (illustrative). */
    static final double JET_SHARE = 0.6;

    /** So close to an end the end's switch is made (illustrative). */
    static final double END_SHARE = 0.02;

    private static final double JET_FROM = (1 - JET_SHARE) / 2;
    private static final double JET_TO = 1 - JET_FROM;

    private double travelNanos;
    private double nextTravelNanos;
    private double from;
    private double to;
    private long startNanos;
    private double jam = Double.NaN;
    private final double[] kinks = new double[4];

    Flap(double travelNanos, double position) {
        this.travelNanos = travelNanos;
        this.nextTravelNanos = travelNanos;
        this.from = position;
        this.to = position;
    }

    /** Sets off towards an end; where the flap is jammed it gets no further than that. */
    void move(long nowNanos, Way way) {
        double here = position(nowNanos);
        double end = way == Way.TANK ? 1 : 0;
        from = here;
        startNanos = nowNanos;
        travelNanos = nextTravelNanos;
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

    /** Somebody has freed it: it goes on to the end that it was told. */
    void free(long nowNanos, Way way) {
        jam = Double.NaN;
        move(nowNanos, way);
    }

    /** From its next move on a whole travel takes so long. */
    void slow(double nextTravelNanos) {
        this.nextTravelNanos = nextTravelNanos;
    }

    /** 0 = at the bypass, 1 = at the tank. */
    double position(double nanos) {
        double travelled = Math.clamp((nanos - startNanos) / travelNanos, 0, Math.abs(to - from));
        return from + travelled * Math.signum(to - from);
    }

    boolean towardsTank() {
        return to > from;
    }

    /**
     * When the present motion passes a position, ns as a fraction; not a number when it does not.
     */
    double passesNanos(double position) {
        boolean passes =
                towardsTank()
                        ? from <= position && position <= to
                        : to <= position && position <= from;
        return passes && from != to
                ? startNanos + Math.abs(position - from) * travelNanos
                : Double.NaN;
    }

    /** The share of the liquid that goes to the tank. */
    static double share(double position) {
        return Math.clamp((position - JET_FROM) / JET_SHARE, 0, 1);
    }

    /**
     * Litres that go one way between two moments, while the flow changes evenly from one value to
     * another. Exact: between its kinks the integrand is a product of two straight lines, for which
     * Simpson's rule is exact.
     */
    double litres(Way way, long aNanos, double flowAtA, long bNanos, double flowAtB) {
        if (bNanos <= aNanos || flowAtA == 0 && flowAtB == 0) {
            return 0;
        }
        if (from == to || aNanos >= startNanos + Math.abs(to - from) * travelNanos) {
            double share = way == Way.TANK ? share(to) : 1 - share(to);
            return share * (flowAtA + flowAtB) / 2 * ((bNanos - aNanos) / 1e9);
        }
        kinks[0] = startNanos;
        kinks[1] = passesNanos(JET_FROM);
        kinks[2] = passesNanos(JET_TO);
        kinks[3] = passesNanos(to);
        Arrays.sort(kinks);
        Stretch flow = new Stretch(aNanos, flowAtA, (flowAtB - flowAtA) / (bNanos - aNanos));
        double litres = 0;
        double left = aNanos;
        for (double kink : kinks) {
            if (kink > left && kink < bNanos) {
                litres += piece(way, left, kink, flow);
                left = kink;
            }
        }
        return litres + piece(way, left, bNanos, flow);
    }

    /** A flow that changes evenly: L/s at a moment, and its change for each ns. */
    private record Stretch(long atNanos, double litresPerSecond, double perNano) {
        double at(double nanos) {
            return litresPerSecond + perNano * (nanos - atNanos);
        }
    }

    private double piece(Way way, double left, double right, Stretch flow) {
        double middle = (left + right) / 2;
        double sum = rate(way, left, flow) + 4 * rate(way, middle, flow) + rate(way, right, flow);
        return sum / 6 * (right - left) / 1e9;
    }

    private double rate(Way way, double nanos, Stretch flow) {
        double toTank = share(position(nanos));
        return flow.at(nanos) * (way == Way.TANK ? toTank : 1 - toTank);
    }
}
