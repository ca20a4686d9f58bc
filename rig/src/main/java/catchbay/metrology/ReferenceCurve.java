package catchbay.metrology;

import catchbay.quantity.FlowRate;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A reference meter's K-factor by flow, as certified: straight lines between the points, nothing
 * outside them.
 *
 * @param points at least two, flows rising, and the pulse rate rising all the way between them
 */
public record ReferenceCurve(List<Point> points) {

    /**
     * One certified point.
     *
     * @param flow at which it was calibrated
     * @param constant found there
     * @param expanded its own expanded uncertainty (k = 2), relative; empty where one figure holds
     *     for the whole certificate
     */
    public record Point(FlowRate flow, PulseConstant constant, Optional<Ratio> expanded) {
        /** A point for which the certificate's one uncertainty holds. */
        public Point(FlowRate flow, PulseConstant constant) {
            this(flow, constant, Optional.empty());
        }

        /** The meter's pulses/s at this point. */
        double pulsesPerSecond() {
            return flow.litresPerSecond() * constant.pulsesPerLitre();
        }
    }

    /** What the curve says of a pulse rate. */
    public sealed interface Reading {
        /**
         * What is certified at this pulse rate.
         *
         * @param flow that gives it
         * @param constant of the meter there
         * @param expanded expanded uncertainty (k = 2), relative, on the straight line between the
         *     points; empty where they have none of their own
         * @param bend how far the meter may lie off that straight line, relative, to either side; 0
         *     at the points
         */
        record InRange(FlowRate flow, PulseConstant constant, Optional<Ratio> expanded, Ratio bend)
                implements Reading {}

        /** The rate lies outside the certified points, for the reason given as a sentence. */
        record OutOfRange(String reason) implements Reading {}
    }

    public ReferenceCurve {
        points = List.copyOf(points);
        if (points.size() < 2) {
            throw new IllegalArgumentException(
                    "a reference curve needs at least two points, has "
                            + points.size()
                            + "; enter all points of the certificate");
        }
        for (int i = 0; i < points.size(); i++) {
            if (points.get(i).flow.litresPerSecond() <= 0) {
                throw new IllegalArgumentException(
                        "point "
                                + (i + 1)
                                + " of the reference curve has no flow; flows must be above zero");
            }
            if (points.get(i).expanded.isPresent() != points.getFirst().expanded.isPresent()) {
                throw new IllegalArgumentException(
                        "some points of the reference curve have an uncertainty of their own and"
                                + " point "
                                + (points.get(i).expanded.isPresent() ? 1 : i + 1)
                                + " has none; give it to all of them, or to none");
            }
            if (i > 0 && points.get(i).flow.compareTo(points.get(i - 1).flow) <= 0) {
                throw new IllegalArgumentException(
                        "points of the reference curve must rise in flow, but point "
                                + (i + 1)
                                + " ("
                                + shown(points.get(i).flow)
                                + ") does not follow point "
                                + i
                                + " ("
                                + shown(points.get(i - 1).flow)
                                + "); sort them by flow");
            }
            if (i > 0 && points.get(i).pulsesPerSecond() <= points.get(i - 1).pulsesPerSecond()) {
                throw new IllegalArgumentException(
                        "point "
                                + (i + 1)
                                + " of the reference curve gives no more pulses/s "
                                + "than point "
                                + i
                                + "; check both against the certificate");
            }
            if (i > 0 && turnsBack(points.get(i - 1), points.get(i))) {
                throw new IllegalArgumentException(
                        "the constant falls so steeply from point "
                                + i
                                + " to point "
                                + (i + 1)
                                + " of the reference curve that one pulse rate would mean two"
                                + " flows; check both against the certificate");
            }
        }
    }

    /**
     * Whether the pulse rate {@code q K(q)} has its maximum before the higher point: its slope
     * there, {@code K1 + s q1}, is not above zero.
     */
    private static boolean turnsBack(Point low, Point high) {
        return high.constant.pulsesPerLitre() + slope(low, high) * high.flow.litresPerSecond() <= 0;
    }

    private static double slope(Point low, Point high) {
        return (high.constant.pulsesPerLitre() - low.constant.pulsesPerLitre())
                / (high.flow.litresPerSecond() - low.flow.litresPerSecond());
    }

    /** The lowest certified flow. */
    public FlowRate lowest() {
        return points.getFirst().flow;
    }

    /** The highest certified flow. */
    public FlowRate highest() {
        return points.getLast().flow;
    }

    /** Pulses/s at the lowest certified flow. */
    public double lowestPulsesPerSecond() {
        return points.getFirst().pulsesPerSecond();
    }

    /** Pulses/s at the highest certified flow. */
    public double highestPulsesPerSecond() {
        return points.getLast().pulsesPerSecond();
    }

    /**
     * The flow and constant at a pulse rate. Between two points the constant is a straight line in
     * flow, so the flow solves {@code q (K0 + s (q - q0)) = rate}, a quadratic with one root
     * between the points.
     *
     * @param pulsesPerSecond mean pulse rate, finite and >= 0
     */
    public Reading at(double pulsesPerSecond) {
        if (!Double.isFinite(pulsesPerSecond) || pulsesPerSecond < 0) {
            throw new IllegalArgumentException(
                    "pulse rate must be finite and >= 0 pulses/s, was " + pulsesPerSecond);
        }
        for (int i = 1; i < points.size(); i++) {
            Point low = points.get(i - 1);
            Point high = points.get(i);
            if (pulsesPerSecond >= low.pulsesPerSecond()
                    && pulsesPerSecond <= high.pulsesPerSecond()) {
                return between(i, pulsesPerSecond);
            }
        }
        boolean under = pulsesPerSecond < lowestPulsesPerSecond();
        return new Reading.OutOfRange(
                String.format(
                        Locale.ROOT,
                        "%.4g pulses/s is %s the reference's certified range of %.4g to %.4g"
                                + " pulses/s (%s to %s); use another reference or another"
                                + " flow",
                        pulsesPerSecond,
                        under ? "below" : "above",
                        lowestPulsesPerSecond(),
                        highestPulsesPerSecond(),
                        shown(lowest()),
                        shown(highest())));
    }

    private static String shown(FlowRate flow) {
        return String.format(Locale.ROOT, "%.4g US gal/min", flow.perMinute(VolumeUnit.US_GALLON));
    }

    /** Between the point before the one of that index and itself. */
    private Reading between(int index, double rate) {
        Point low = points.get(index - 1);
        Point high = points.get(index);
        double q0 = low.flow.litresPerSecond();
        double k0 = low.constant.pulsesPerLitre();
        double slope = slope(low, high);
        double linear = k0 - slope * q0;
        // The root written so that nothing cancels, and so that slope = 0 needs no case of its own.
        double root = Math.sqrt(linear * linear + 4 * slope * rate);
        double flow = linear >= 0 ? 2 * rate / (linear + root) : (root - linear) / (2 * slope);
        Optional<Ratio> expanded = Optional.empty();
        if (low.expanded.isPresent() && high.expanded.isPresent()) {
            double along = (flow - q0) / (high.flow.litresPerSecond() - q0);
            double from = low.expanded.get().value();
            expanded = Optional.of(new Ratio(from + along * (high.expanded.get().value() - from)));
        }
        double constant = rate / flow;
        double room = (flow - q0) * (high.flow.litresPerSecond() - flow);
        return new Reading.InRange(
                new FlowRate(flow),
                new PulseConstant(constant),
                expanded,
                new Ratio(Math.max(0, curvature(index) * room / constant)));
    }

    /**
     * How strongly the meter's curve may bend between two points, as half its second derivative: as
     * strongly as at either of them, where a straight line between the neighbours misses the point
     * itself. Two points alone show no bend; then it is taken for one that leads a quarter of their
     * difference away half way between them (common practice, no source).
     */
    private double curvature(int index) {
        if (points.size() == 2) {
            double width = highest().litresPerSecond() - lowest().litresPerSecond();
            return Math.abs(slope(points.getFirst(), points.getLast())) / width;
        }
        double strongest = 0;
        for (int i = Math.max(1, index - 1); i <= Math.min(index, points.size() - 2); i++) {
            double before = slope(points.get(i - 1), points.get(i));
            double after = slope(points.get(i), points.get(i + 1));
            double width =
                    points.get(i + 1).flow.litresPerSecond()
                            - points.get(i - 1).flow.litresPerSecond();
            strongest = Math.max(strongest, Math.abs(after - before) / width);
        }
        return strongest;
    }
}
