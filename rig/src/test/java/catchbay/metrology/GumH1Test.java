package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.metrology.Budget.Output;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * JCGM 100:2008, H.1, calibration of an end gauge. Inputs and published results as in the open copy
 * MSLNZ/GTC docs/API/GUM_H1.rst, commit 1c165fce9bbfd7f75f00e43157dbe5773cc94332; figures with more
 * digits than the guide prints are recomputed.
 */
final class GumH1Test {

    private static final double INFINITE = Double.POSITIVE_INFINITY;
    private static final double STANDARD_NM = 50_000_623;
    private static final double EXPANSION = 11.5e-6;
    private static final double DIFFERENCE_OF_EXPANSION = 1e-6 / Math.sqrt(3);
    private static final double DIFFERENCE_OF_TEMPERATURE = 0.05 / Math.sqrt(3);
    private static final double TEMPERATURE = 0.41;
    private static final double OF_EXPANSION = 1.2e-6;

    private static final List<Input> INPUTS =
            List.of(
                    input("standard", STANDARD_NM, 25, 18, Shape.NORMAL),
                    input("repeated readings", 215, 5.8, 24, Shape.NORMAL),
                    input("random of comparator", 0, 3.9, 5, Shape.NORMAL),
                    input("systematic of comparator", 0, 6.7, 8, Shape.NORMAL),
                    input("expansion", EXPANSION, OF_EXPANSION, INFINITE, Shape.RECTANGULAR),
                    input("temperature", -0.1, TEMPERATURE, INFINITE, Shape.NORMAL),
                    input(
                            "difference of expansion",
                            0,
                            DIFFERENCE_OF_EXPANSION,
                            50,
                            Shape.RECTANGULAR),
                    input(
                            "difference of temperature",
                            0,
                            DIFFERENCE_OF_TEMPERATURE,
                            2,
                            Shape.RECTANGULAR));

    private static final Model LENGTH =
            x ->
                    new double[] {
                        x[0] + x[1] + x[2] + x[3] - x[0] * (x[6] * x[5] + x[4] * x[7]),
                        x[1] + x[2] + x[3]
                    };

    private static final Budget BUDGET = Budget.of(INPUTS, List.of("length", "d"), LENGTH);

    private static Input input(
            String name, double value, double standard, double degreesOfFreedom, Shape shape) {
        return new Input(name, value, standard, degreesOfFreedom, shape, Scope.RUN);
    }

    /** H.1.3.2: u(d) 9.7 nm; 25.4 effective degrees of freedom recomputed (the guide's 25.6). */
    @Test
    void differenceOfTheGauges() {
        Output d = BUDGET.output("d");
        assertEquals(215, d.value());
        assertEquals(9.7, d.standard(), 0.05);
        assertEquals(25.45, d.degreesOfFreedom(), 0.01);
    }

    /** H.1.4 to H.1.6: l = 50 000 838 nm, u_c = 32 nm, 16 degrees of freedom, U99 = 93 nm. */
    @Test
    void lengthAndItsUncertainty() {
        Output length = BUDGET.output("length");
        assertEquals(50_000_838, length.value(), 0.5);
        assertEquals(31.66, length.standard(), 0.005);
        assertEquals(32, Math.rint(length.standard()));
        assertEquals(16.75, length.degreesOfFreedom(), 0.03);
        double factor = length.expanded(0.99) / length.standard();
        assertEquals(2.92, factor, 0.005);
        // The guide multiplies its rounded u_c.
        assertEquals(93, Math.rint(factor * 32));
        assertEquals(Coverage.factor(0.95, 16) * length.standard(), length.expanded(), 1e-12);
    }

    /** H.1.3: contributions 2.9 nm and 16.6 nm; two that vanish to first order. */
    @Test
    void contributions() {
        List<Budget.Row> rows = BUDGET.output("length").rows();
        double[] expected = {25, 5.8, 3.9, 6.7, 0, 0, 2.9, 16.6};
        double sum = 0;
        for (int i = 0; i < expected.length; i++) {
            assertEquals(expected[i], rows.get(i).contribution(), 0.05, rows.get(i).name());
            assertEquals(INPUTS.get(i).name(), rows.get(i).name());
            sum += rows.get(i).share();
        }
        assertEquals(1, sum, 1e-12);
        assertEquals(625 / (31.66 * 31.66), rows.getFirst().share(), 5e-4);
        assertEquals(-STANDARD_NM * EXPANSION, rows.get(7).sensitivity(), 1e-3);
    }

    /**
     * H.1.7: second-order terms of 11.7 nm (11.8 recomputed) and 1.7 nm lead to u_c = 34 nm. A
     * budget is of first order; the two are worked out here by hand and must be what Monte Carlo
     * sees beyond it.
     */
    @Test
    void secondOrderTermsAreWhatMonteCarloAdds() {
        double first = BUDGET.output("length").standard();
        double ofExpansion = STANDARD_NM * DIFFERENCE_OF_EXPANSION * TEMPERATURE;
        double ofTemperature = STANDARD_NM * OF_EXPANSION * DIFFERENCE_OF_TEMPERATURE;
        assertEquals(11.8, ofExpansion, 0.05);
        assertEquals(1.7, ofTemperature, 0.05);
        double both =
                Math.sqrt(
                        first * first + ofExpansion * ofExpansion + ofTemperature * ofTemperature);
        assertEquals(33.84, both, 0.01);
        MonteCarlo.Result drawn =
                MonteCarlo.of(INPUTS, List.of("length", "d"), LENGTH, 200_000, Seeds.generator(1))
                        .result("length");
        assertEquals(both, drawn.standard(), 4 * drawn.standardDeviation());
        assertEquals(50_000_838, drawn.mean(), 4 * drawn.meanDeviation() + 0.5);
    }
}
