package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ReferenceCurve.Point;
import catchbay.metrology.ReferenceCurve.Reading;
import catchbay.quantity.FlowRate;
import catchbay.quantity.PulseConstant;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;

final class ReferenceCurveTest {

    private static Point point(double litresPerSecond, double pulsesPerLitre) {
        return new Point(new FlowRate(litresPerSecond), new PulseConstant(pulsesPerLitre));
    }

    private static ReferenceCurve curve(Point... points) {
        return new ReferenceCurve(List.of(points));
    }

    private static void assertRefused(String part, Point... points) {
        String refusal =
                assertThrows(IllegalArgumentException.class, () -> curve(points)).getMessage();
        assertTrue(refusal.contains(part), refusal);
    }

    @Test
    void badCurvesAreRefused() {
        assertRefused("at least two points, has 0");
        assertRefused("at least two points, has 1", point(1, 100));
        assertRefused("sort them by flow", point(2, 100), point(1, 100));
        assertRefused("sort them by flow", point(1, 100), point(1, 101));
        assertRefused("no flow", point(0, 100), point(1, 100));
        assertRefused("no more pulses/s", point(1, 100), point(1.1, 50));
        // 100 to 120 pulses/s, yet 122.5 in between: one rate, two flows.
        assertRefused("two flows", point(1, 100), point(2, 60));
    }

    /** Straight line of K in flow: at 1.5 L/s half way from 100 to 102. */
    @Test
    void readsBetweenPoints() {
        ReferenceCurve curve = curve(point(1, 100), point(2, 102));
        Reading.InRange half = assertInstanceOf(Reading.InRange.class, curve.at(1.5 * 101));
        assertEquals(1.5, half.flow().litresPerSecond(), 1e-14);
        assertEquals(101, half.constant().pulsesPerLitre(), 1e-12);
        Reading.InRange low = assertInstanceOf(Reading.InRange.class, curve.at(100));
        assertEquals(1, low.flow().litresPerSecond(), 1e-15);
        Reading.InRange high = assertInstanceOf(Reading.InRange.class, curve.at(204));
        assertEquals(2, high.flow().litresPerSecond(), 1e-14);
    }

    /**
     * Half way between two points a parabola lies off their chord by its second derivative over
     * eight times the width squared (the error of linear interpolation, any textbook of numerical
     * analysis); here K = 100 + q + 0.3 q^2, seen at four flows, and every flow between them.
     */
    @Test
    void bendOfAParabolaIsFound() {
        double[] flows = {1, 1.5, 3, 4};
        Point[] points = new Point[flows.length];
        for (int i = 0; i < flows.length; i++) {
            points[i] = point(flows[i], 100 + flows[i] + 0.3 * flows[i] * flows[i]);
        }
        ReferenceCurve curve = curve(points);
        for (double rate = curve.lowestPulsesPerSecond();
                rate <= curve.highestPulsesPerSecond();
                rate += 0.37) {
            Reading.InRange read = assertInstanceOf(Reading.InRange.class, curve.at(rate));
            double q = read.flow().litresPerSecond();
            double off = read.constant().pulsesPerLitre() - (100 + q + 0.3 * q * q);
            double bend = read.bend().value() * read.constant().pulsesPerLitre();
            assertEquals(Math.abs(off), bend, 1e-9, "at " + q);
        }
        Reading.InRange half = assertInstanceOf(Reading.InRange.class, curve.at(2.25 * 103.825));
        assertEquals(0.6 / 8 * 1.5 * 1.5 / 103.825, half.bend().value(), 1e-4);
    }

    /**
     * Two points show no bend: a quarter of their difference, half way; a straight meter has none.
     */
    @Test
    void bendOfTwoPointsAndOfNone() {
        Reading.InRange half =
                assertInstanceOf(
                        Reading.InRange.class, curve(point(1, 100), point(2, 102)).at(1.5 * 101));
        assertEquals(0.5 / 101, half.bend().value(), 1e-12);
        Reading.InRange straight =
                assertInstanceOf(
                        Reading.InRange.class,
                        curve(point(1, 100), point(2, 101), point(4, 103)).at(3 * 102));
        assertEquals(0, straight.bend().value(), 1e-15);
    }

    @Test
    void nothingOutside() {
        ReferenceCurve curve = curve(point(1, 100), point(2, 102));
        for (double rate : new double[] {0, 99.999, 204.001, 1e300}) {
            Reading.OutOfRange out =
                    assertInstanceOf(Reading.OutOfRange.class, curve.at(rate), "at " + rate);
            assertTrue(out.reason().contains(rate < 100 ? "below" : "above"), out.reason());
        }
        for (double rate : new double[] {-1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> curve.at(rate));
        }
    }

    /** The flow found gives back the rate: q K(q) = f, with K interpolated here on its own. */
    @Test
    void inversionHoldsForRandomCurves() {
        Seeds.forSeeds(
                5_000,
                random -> {
                    ReferenceCurve curve = random(random);
                    double low = curve.lowestPulsesPerSecond();
                    double high = curve.highestPulsesPerSecond();
                    double rate = low + (high - low) * random.nextDouble();
                    Reading.InRange found = assertInstanceOf(Reading.InRange.class, curve.at(rate));
                    double flow = found.flow().litresPerSecond();
                    assertEquals(rate, flow * constantAt(curve, flow), rate * 1e-12);
                    assertEquals(
                            constantAt(curve, flow),
                            found.constant().pulsesPerLitre(),
                            found.constant().pulsesPerLitre() * 1e-12);
                    assertTrue(flow >= curve.lowest().litresPerSecond() * (1 - 1e-12));
                    assertTrue(flow <= curve.highest().litresPerSecond() * (1 + 1e-12));
                });
    }

    /** A curve whose constant rises and falls, by up to a fifth from point to point. */
    private static ReferenceCurve random(RandomGenerator random) {
        List<Point> points = new ArrayList<>();
        double flow = random.nextDouble(0.01, 1);
        double constant = random.nextDouble(1, 2_000);
        int count = random.nextInt(2, 9);
        for (int i = 0; i < count; i++) {
            points.add(point(flow, constant));
            flow *= random.nextDouble(1.6, 3);
            constant *= random.nextBoolean() ? 1 : random.nextDouble(0.8, 1.25);
        }
        return new ReferenceCurve(points);
    }

    private static double constantAt(ReferenceCurve curve, double flow) {
        List<Point> points = curve.points();
        int i = 1;
        while (i < points.size() - 1 && points.get(i).flow().litresPerSecond() < flow) {
            i++;
        }
        Point low = points.get(i - 1);
        Point high = points.get(i);
        double part =
                (flow - low.flow().litresPerSecond())
                        / (high.flow().litresPerSecond() - low.flow().litresPerSecond());
        return low.constant().pulsesPerLitre() * (1 - part)
                + high.constant().pulsesPerLitre() * part;
    }
}
