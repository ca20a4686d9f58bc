package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.quantity.Volume;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;

final class ComparisonTest {

    private static Estimate estimate(double usGallons, double standardUsGallons) {
        return new Estimate(Volume.ofUsGallons(usGallons), List.of())
                .with("a term", Volume.ofUsGallons(standardUsGallons).litres());
    }

    /** The definitions multiply out: (1 + e_a) (1 + e_m) = M/A x R/M = R/A = 1 + e_c. */
    @Test
    void errorsMultiply() {
        Seeds.forSeeds(
                5_000,
                random -> {
                    Comparison comparison =
                            new Comparison(
                                    Volume.ofUsGallons(random.nextDouble(0.01, 200)),
                                    estimate(random.nextDouble(0, 200), 0.01),
                                    estimate(random.nextDouble(0.01, 200), 0.01));
                    double application = 1 + comparison.applicationError().value();
                    double meter = 1 + comparison.meterError().value();
                    double control = 1 + comparison.controlError().value();
                    assertEquals(control, application * meter, 1e-13 * (1 + control * meter));
                });
    }

    @Test
    void signsSayWhoIsOver() {
        Comparison comparison =
                new Comparison(Volume.ofUsGallons(10), estimate(11, 0), estimate(8, 0));
        assertEquals(0.375, comparison.meterError().value(), 1e-15);
        assertEquals(0.1, comparison.controlError().value(), 1e-15);
        assertEquals(-0.2, comparison.applicationError().value(), 1e-15);
    }

    /**
     * JCGM 100:2008, 5.1.2 applied to e = R/M - 1: u(e)^2 = (u(R)/M)^2 + (R u(M)/M^2)^2; here by
     * finite differences instead of the formula.
     */
    @Test
    void uncertaintyOfTheMeterErrorPropagates() {
        Seeds.forSeeds(
                500,
                random -> {
                    double reported = random.nextDouble(1, 100);
                    double measured = random.nextDouble(1, 100);
                    double ofReported = reported * random.nextDouble(0.0001, 0.01);
                    double ofMeasured = measured * random.nextDouble(0.0001, 0.01);
                    double step = 1e-5;
                    double byReported =
                            (reported * (1 + step) - reported * (1 - step))
                                    / measured
                                    / (2 * step * reported)
                                    * ofReported;
                    double byMeasured =
                            (reported / (measured * (1 + step))
                                            - reported / (measured * (1 - step)))
                                    / (2 * step * measured)
                                    * ofMeasured;
                    double expected = 2 * Math.hypot(byReported, byMeasured);
                    double stated =
                            new Comparison(
                                            Volume.ofUsGallons(1),
                                            estimate(reported, ofReported),
                                            estimate(measured, ofMeasured))
                                    .meterErrorExpanded()
                                    .value();
                    assertEquals(expected, stated, expected * 1e-6);
                });
    }

    @Test
    void nothingAskedOrMeasuredIsRefused() {
        Estimate some = estimate(1, 0);
        Estimate none = estimate(0, 0);
        assertThrows(IllegalArgumentException.class, () -> new Comparison(Volume.ZERO, some, some));
        assertThrows(
                IllegalArgumentException.class,
                () -> new Comparison(Volume.ofUsGallons(1), some, none));
        assertEquals(-1, new Comparison(Volume.ofUsGallons(1), none, some).meterError().value());
    }

    /**
     * Root of the sum of squares (JCGM 100:2008, 5.1.2, equal sensitivities): 3, 4 and 12 give 13.
     */
    @Test
    void termsAddAsSquares() {
        Estimate estimate =
                new Estimate(new Volume(100), List.of()).with("a", 3).with("b", 4).with("c", 12);
        assertEquals(13, estimate.standardLitres(), 1e-14);
        assertEquals(26, estimate.expanded().litres(), 1e-13);
        assertEquals(0.13, estimate.relativeStandard(), 1e-15);
        for (double bad : new double[] {-1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> estimate.with("bad", bad));
        }
    }

    /**
     * Standard deviation of an even spread of half-width 1, by quadrature of x^2 / 2 over (-1, 1).
     */
    @Test
    void evenSpread() {
        int slices = 100_000;
        double sum = 0;
        for (int i = 0; i < slices; i++) {
            double x = -1 + (i + 0.5) * 2 / slices;
            sum += x * x / slices;
        }
        assertEquals(Math.sqrt(sum), Estimate.EVEN, 1e-9);
    }
}
