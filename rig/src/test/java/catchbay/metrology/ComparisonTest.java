package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.metrology.TruckConstant.Form;
import catchbay.quantity.Volume;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

final class ComparisonTest {

    private static final TruckConstant SIX_HUNDRED =
            TruckConstantTest.constant(Form.PULSES_PER_VOLUME, 600, 0.1, 1, 9999);

    /** Three amounts in US gallons, each with a standard uncertainty of its own. */
    static Comparison comparison(
            double asked,
            double reported,
            double standardOfReported,
            double measured,
            double standardOfMeasured) {
        ModelSketch sketch = new ModelSketch();
        return Comparison.of(
                sketch,
                ModelSketch.exactly(litres(asked)),
                sketch.normal("R", litres(reported), litres(standardOfReported), Scope.RUN),
                sketch.normal("M", litres(measured), litres(standardOfMeasured), Scope.RUN),
                ModelSketch.exactly(0),
                SIX_HUNDRED);
    }

    private static double litres(double usGallons) {
        return Volume.ofUsGallons(usGallons).litres();
    }

    /** The definitions multiply out: (1 + e_a) (1 + e_m) = M/A x R/M = R/A = 1 + e_c. */
    @Test
    void errorsMultiply() {
        Seeds.forSeeds(
                2_000,
                random -> {
                    Comparison comparison =
                            comparison(
                                    random.nextDouble(0.01, 200),
                                    random.nextDouble(0, 200),
                                    0.01,
                                    random.nextDouble(0.1, 200),
                                    0.01);
                    double application = 1 + comparison.applicationError().value();
                    double meter = 1 + comparison.meterError().value();
                    double control = 1 + comparison.controlError().value();
                    assertEquals(control, application * meter, 1e-13 * (1 + control * meter));
                });
    }

    @Test
    void signsSayWhoIsOver() {
        Comparison comparison = comparison(10, 11, 0, 8, 0);
        assertEquals(0.375, comparison.meterError().value(), 1e-15);
        assertEquals(0.1, comparison.controlError().value(), 1e-15);
        assertEquals(-0.2, comparison.applicationError().value(), 1e-15);
    }

    /** JCGM 100:2008, 5.1.2 applied to e = R/M - 1: u(e)^2 = (u(R)/M)^2 + (R u(M)/M^2)^2. */
    @Test
    void uncertaintyOfTheMeterErrorPropagates() {
        Seeds.forSeeds(
                500,
                random -> {
                    double reported = random.nextDouble(1, 100);
                    double measured = random.nextDouble(1, 100);
                    double ofReported = reported * random.nextDouble(0.0001, 0.01);
                    double ofMeasured = measured * random.nextDouble(0.0001, 0.01);
                    double expected =
                            1.959964
                                    * Math.hypot(
                                            ofReported / measured,
                                            reported * ofMeasured / measured / measured);
                    double stated =
                            comparison(1, reported, ofReported, measured, ofMeasured)
                                    .expanded(Comparison.METER_ERROR)
                                    .value();
                    // Finite steps of one standard uncertainty: off by (u/M)^2 at most.
                    assertEquals(expected, stated, expected * 2e-4);
                });
    }

    /**
     * Meter and application error share the measured volume with opposite signs: where only that is
     * uncertain they are fully correlated, r = -1 (JCGM 100:2008, 5.2.2).
     */
    @Test
    void errorsShareTheMeasuredVolume() {
        Budget budget = comparison(10, 10, 0, 9.5, 0.01).budget();
        assertEquals(
                -1, budget.correlation(Comparison.METER_ERROR, Comparison.APPLICATION_ERROR), 1e-9);
        Budget both = comparison(10, 10, 0.01, 9.5, 0.01).budget();
        // u(R) and u(M) alike: e_m takes both, e_a one of them, so r = -(R/M) / hypot(1, R/M).
        double over = 10 / 9.5;
        assertEquals(
                -over / Math.hypot(1, over),
                both.correlation(Comparison.METER_ERROR, Comparison.APPLICATION_ERROR),
                1e-5);
    }

    /** Scatter is of the next catch, so of the meter error and the constant, not of this amount. */
    @Test
    void scatterIsOfTheErrorNotOfTheAmount() {
        ModelSketch sketch = new ModelSketch();
        Quantity scatter = sketch.normal("scatter", 0, 0.003, 8, Scope.RUN);
        Comparison comparison =
                Comparison.of(
                        sketch,
                        ModelSketch.exactly(10),
                        ModelSketch.exactly(10),
                        ModelSketch.exactly(10),
                        scatter,
                        SIX_HUNDRED);
        assertEquals(0, comparison.measured().standardLitres());
        // t95 of 8 degrees of freedom: 2.306 (JCGM 100:2008, table G.2).
        assertEquals(2.306 * 0.003, comparison.expanded(Comparison.METER_ERROR).value(), 1e-5);
        Budget.Output constant = comparison.budget().output(Comparison.CONSTANT);
        assertEquals(600, constant.value(), 1e-9);
        // 600 x 0.003, and the entry step of 0.1 even over half of it both ways.
        assertEquals(Math.hypot(1.8, 0.05 / Math.sqrt(3)), constant.standard(), 1e-9);
    }

    @Test
    void nothingAskedOrMeasuredIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> comparison(0, 1, 0, 1, 0));
        assertThrows(IllegalArgumentException.class, () -> comparison(1, 1, 0, 0, 0));
        assertEquals(-1, comparison(1, 0, 0, 1, 0).meterError().value());
    }

    /**
     * Root of the sum of squares (JCGM 100:2008, 5.1.2, equal sensitivities): 3, 4 and 12 give 13,
     * and its terms say which is which.
     */
    @Test
    void termsAddAsSquares() {
        ModelSketch sketch = new ModelSketch();
        Quantity a = sketch.normal("a", 0, 3, Scope.RUN);
        Quantity b = sketch.normal("b", 0, 4, Scope.RUN);
        Quantity c = sketch.normal("c", 100, 12, Scope.BAY);
        Quantity none = sketch.even("none", 0, 0, Scope.BAY);
        Estimate estimate =
                Comparison.of(
                                sketch,
                                ModelSketch.exactly(100),
                                ModelSketch.exactly(100),
                                x -> a.at(x) + b.at(x) + c.at(x) + none.at(x),
                                ModelSketch.exactly(0),
                                SIX_HUNDRED)
                        .measured();
        assertEquals(13, estimate.standardLitres(), 1e-12);
        assertEquals(1.959964 * 13, estimate.expanded().litres(), 1e-4);
        assertEquals(3, estimate.terms().size(), estimate.terms().toString());
        assertEquals(new Estimate.Term("b", 4), estimate.terms().get(1));
    }
}
