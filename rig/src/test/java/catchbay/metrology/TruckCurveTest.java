package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.descriptive.StreamingStatistics;
import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** The curve of a truck's meter, on invented catches whose figures are worked out by hand. */
final class TruckCurveTest {

    private static final double TINY = 1e-12;

    private static TruckCurve repeated() {
        return Trucks.drawn(
                Trucks.PULSES,
                List.of(
                        Trucks.point("a", 10, 594, 0.001, 0.002),
                        Trucks.point("b", 10.1, 600, 0.001, 0.002),
                        Trucks.point("c", 10.2, 606, 0.001, 0.002),
                        Trucks.point("d", 20, 600, 0.001, 0.002),
                        Trucks.point("e", 40, 612, 0.001, 0.002)));
    }

    @Test
    void catchesAtOneFlowAreOneStation() {
        TruckCurve curve = repeated();
        assertEquals(
                List.of(3, 1, 1),
                curve.stations().stream().map(TruckCurve.Station::catches).toList());
        assertEquals(600, curve.stations().getFirst().number(), 1e-9);
        assertEquals(
                Trucks.flow(10.1).litresPerSecond(),
                curve.stations().getFirst().flow().litresPerSecond(),
                TINY);
    }

    /** Hipparchus gives the standard deviation of 594, 600, 606: 6, which is 1 % of 600. */
    @Test
    void scatterAgainstHipparchus() {
        StreamingStatistics repeats = new StreamingStatistics();
        for (double number : new double[] {594, 600, 606}) {
            repeats.addValue(number);
        }
        TruckCurve.Scatter scatter = repeated().scatter();
        assertEquals(repeats.getStandardDeviation() / 600, scatter.relativeObserved(), TINY);
        assertEquals(2, scatter.degreesOfFreedom());
        assertEquals(0.001, scatter.relativeStated(), TINY);
        assertEquals(Math.sqrt(0.01 * 0.01 - 0.001 * 0.001), scatter.relativeOwn(), TINY);
    }

    /**
     * Of one catch: random 1 % with 2 degrees of freedom, common 0.2 %; so u = 1.0198 %, effective
     * degrees of freedom 2 x 1.0198^4 = 2.16, truncated 2, t = 4.303 (Student's table, JCGM
     * 100:2008, table G.2).
     */
    @Test
    void theBandOfOneCatchByTheTable() {
        TruckCurve curve = repeated();
        TruckCurve.Reading reading = curve.at(curve.stations().get(1));
        assertEquals(0.01, reading.relativeRandom(), TINY);
        assertEquals(2 * Math.pow(1.0198, 4), reading.degreesOfFreedom(), 1e-3);
        assertEquals(4.303 * 0.010198, reading.expanded().value(), 1e-5);
    }

    /** The mean of three divides the random part by the root of 3, the common one by nothing. */
    @Test
    void theCommonPartIsNeverDivided() {
        TruckCurve curve = repeated();
        TruckCurve.Reading reading = curve.at(curve.stations().getFirst());
        assertEquals(0.01 / Math.sqrt(3), reading.relativeRandom(), TINY);
        assertEquals(0.002, reading.relativeCommon(), TINY);
        List<CurvePoint> many = new ArrayList<>();
        for (int i = 0; i < 3000; i++) {
            many.add(Trucks.point("r" + i, 10 * (1 + i % 3), 600, 0.001, 0.002));
        }
        TruckCurve thousand = Trucks.drawn(Trucks.PULSES, many);
        assertEquals(
                1.96 * 0.002, thousand.at(thousand.stations().getFirst()).expanded().value(), 1e-5);
    }

    /** Without repeats the stated part alone is there, with k of the normal distribution. */
    @Test
    void withoutRepeatsTheStatedPartAlone() {
        TruckCurve curve =
                Trucks.curve(
                        Trucks.PULSES,
                        0.003,
                        0.004,
                        new double[] {10, 600},
                        new double[] {20, 600},
                        new double[] {30, 600});
        assertEquals(0, curve.scatter().degreesOfFreedom());
        assertEquals(1.959964 * 0.005, curve.at(curve.stations().get(1)).expanded().value(), 1e-8);
    }

    @Test
    void straightBetweenAndNothingOutside() {
        TruckCurve curve = repeated();
        assertEquals(609, curve.at(Trucks.flow(35)).orElseThrow().number(), 1e-9);
        assertEquals(606, curve.at(Trucks.flow(30)).orElseThrow().number(), 1e-9);
        assertEquals(612, curve.at(Trucks.flow(41.9)).orElseThrow().number(), 1e-9);
        assertEquals(600, curve.at(Trucks.flow(9.7)).orElseThrow().number(), 1e-9);
        assertTrue(curve.at(Trucks.flow(42.1)).isEmpty());
        assertTrue(curve.at(Trucks.flow(9.5)).isEmpty());
    }

    /** Midway the random parts of both neighbours count half: 0.003 / sqrt 2. */
    @Test
    void theBandBetween() {
        TruckCurve curve =
                Trucks.curve(
                        Trucks.PULSES,
                        0.003,
                        0.004,
                        new double[] {10, 600},
                        new double[] {20, 600},
                        new double[] {30, 600});
        TruckCurve.Reading middle = curve.at(Trucks.flow(15)).orElseThrow();
        assertEquals(0.003 / Math.sqrt(2), middle.relativeRandom(), TINY);
        assertEquals(0.004, middle.relativeCommon(), TINY);
    }

    /**
     * (612 - 588) / 1200 = 2 %. Its uncertainty: half of sqrt 2 x 0.3 %, times the quantile of 1 -
     * 0.05 / 6 for three pairs, 2.394 (normal table); what is common cancels.
     */
    @Test
    void linearity() {
        TruckCurve curve =
                Trucks.curve(
                        Trucks.PULSES,
                        0.003,
                        0.004,
                        new double[] {10, 588},
                        new double[] {20, 600},
                        new double[] {30, 612});
        TruckCurve.Linearity linearity = curve.linearity();
        assertEquals(0.02, linearity.halfWidth().value(), TINY);
        assertEquals(2.394 * 0.003 * Math.sqrt(2) / 2, linearity.expanded().value(), 2e-6);
        assertEquals(Trucks.flow(10).litresPerSecond(), linearity.lowest().litresPerSecond(), TINY);
        assertEquals(
                Trucks.flow(30).litresPerSecond(), linearity.highest().litresPerSecond(), TINY);
    }

    /** Between two instruments what each has to itself does not cancel. */
    @Test
    void linearityAcrossTwoInstruments() {
        List<CurvePoint> points =
                List.of(
                        Trucks.point("a", 10, 588, 0.003, 0.004, "R-1", Trucks.DAY),
                        Trucks.point("b", 20, 600, 0.003, 0.004, "R-7", Trucks.DAY),
                        Trucks.point("c", 30, 612, 0.003, 0.004, "R-7", Trucks.DAY));
        assertEquals(
                2.394 * 0.005 * Math.sqrt(2) / 2,
                Trucks.drawn(Trucks.PULSES, points).linearity().expanded().value(),
                3e-6);
    }

    @Test
    void tooFewFlows() {
        TruckCurve.Drawing.TooFew few =
                assertInstanceOf(
                        TruckCurve.Drawing.TooFew.class,
                        TruckCurve.through(
                                Trucks.PULSES,
                                List.of(
                                        Trucks.point("a", 10, 600, 0, 0),
                                        Trucks.point("b", 10.4, 600, 0, 0),
                                        Trucks.point("c", 20, 600, 0, 0))));
        assertEquals(
                "3 catches at 2 flows (10.20 US gal/min, 20.00 US gal/min) make no curve; at least"
                        + " 3 flows more than 5 % apart are needed, a low, a middle and a high one",
                few.reason());
        assertEquals(
                "0 catches at 0 flows make no curve; at least 3 flows more than 5 % apart are"
                        + " needed, a low, a middle and a high one",
                ((TruckCurve.Drawing.TooFew) TruckCurve.through(Trucks.PULSES, List.of()))
                        .reason());
    }

    @Test
    void theOrderOfCatchesChangesNothing() {
        Seeds.forSeeds(
                200,
                random -> {
                    List<CurvePoint> points = new ArrayList<>();
                    for (int i = 0; i < 12; i++) {
                        points.add(
                                Trucks.point(
                                        "run-" + i,
                                        10 * (1 + i % 4) * (1 + 0.02 * random.nextDouble()),
                                        600 * (1 + 0.02 * random.nextDouble()),
                                        0.001,
                                        0.002));
                    }
                    TruckCurve before = Trucks.drawn(Trucks.PULSES, points);
                    Collections.shuffle(points, java.util.Random.from(random));
                    assertEquals(before, Trucks.drawn(Trucks.PULSES, points));
                });
    }

    @Test
    void pointsThatAreNoneAreRefused() {
        for (double bad : new double[] {Double.NaN, Double.POSITIVE_INFINITY, 0, -1}) {
            assertThrows(
                    IllegalArgumentException.class, () -> Trucks.point("a", 10, bad, 0.1, 0.1));
        }
        for (double bad : new double[] {Double.NaN, Double.POSITIVE_INFINITY, -1}) {
            assertThrows(
                    IllegalArgumentException.class, () -> Trucks.point("a", 10, 600, bad, 0.1));
            assertThrows(
                    IllegalArgumentException.class, () -> Trucks.point("a", 10, 600, 0.1, bad));
        }
        assertThrows(IllegalArgumentException.class, () -> Trucks.point("a", 0, 600, 0.1, 0.1));
    }

    private static CurvePoint ofDay(String run, double flow, LocalDate day) {
        return new CurvePoint(
                run, day, Trucks.flow(flow), 600 + flow, 0.003, 8, 0.004, 0.005, "R-7");
    }

    /**
     * Of one day the day's part cancels, of two it does not. The random part is known from nine
     * runs: 8 degrees of freedom whatever the number of flows; the quantile by Hipparchus.
     */
    @Test
    void linearityOfOneDayAndOfTwo() {
        LocalDate next = Trucks.DAY.plusDays(1);
        TruckCurve one =
                Trucks.drawn(
                        Trucks.PULSES,
                        List.of(
                                ofDay("a", 10, Trucks.DAY),
                                ofDay("b", 20, Trucks.DAY),
                                ofDay("c", 30, Trucks.DAY)));
        double factor = one.linearity().expanded().value() / (0.003 / Math.sqrt(2));
        assertEquals(new TDistribution(8).inverseCumulativeProbability(1 - 0.05 / 6), factor, 1e-9);
        TruckCurve two =
                Trucks.drawn(
                        Trucks.PULSES,
                        List.of(
                                ofDay("a", 10, Trucks.DAY),
                                ofDay("b", 20, Trucks.DAY),
                                ofDay("c", 30, next)));
        double wider = two.linearity().expanded().value() / (0.005 / Math.sqrt(2));
        // V^2 / (v^2 / 8) = 8 (25 / 9)^2 = 61.7, truncated 61.
        assertEquals(new TDistribution(61).inverseCumulativeProbability(1 - 0.05 / 6), wider, 1e-9);
        assertEquals(
                Math.hypot(0.004, 0.005), one.at(one.stations().getFirst()).relativeCommon(), TINY);
    }

    /** A budget with one cause of each scope, of 0.3, 0.4 and 0.5 % of R/M = 1.05. */
    @Test
    void aPointTakesItsCatchsBudgetApart() {
        ModelSketch sketch = new ModelSketch();
        ModelSketch.Quantity run = sketch.normal("run", 1, 0.003, 8, Input.Scope.RUN);
        ModelSketch.Quantity day = sketch.normal("day", 1, 0.004, Input.Scope.DAY);
        ModelSketch.Quantity bay = sketch.normal("bay", 1, 0.005, Input.Scope.BAY);
        Comparison comparison =
                Comparison.of(
                        sketch,
                        ModelSketch.exactly(10),
                        x -> 10.5 * run.at(x) * day.at(x) * bay.at(x),
                        ModelSketch.exactly(10),
                        ModelSketch.exactly(0),
                        Trucks.PULSES);
        CurvePoint point =
                CurvePoint.of("a", Trucks.DAY, Trucks.flow(10), comparison, Trucks.PULSES, "R-7");
        assertEquals(630, point.number(), 1e-9);
        assertEquals(0.003, point.relativeRandom(), TINY);
        assertEquals(0.004, point.relativeDay(), TINY);
        assertEquals(0.005, point.relativeCommon(), TINY);
        assertEquals(8, point.randomDegreesOfFreedom(), 1e-9);
    }
}
