package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.metrology.Input.Scope;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * JCGM 100:2008, H.2, resistance and reactance from five simultaneous readings: three outputs whose
 * published correlations come out of what they share. The readings, themselves correlated, enter as
 * three independent causes (their covariance's square root), as any correlated inputs must. Means,
 * uncertainties and correlations of the inputs as in the open copy MSLNZ/GTC examples/GUM_H2.py;
 * the readings and the outputs of table H.4 from memory, and each checked by the other.
 */
final class GumH2Test {

    private static final double[] VOLTS = {5.007, 4.994, 5.005, 4.990, 4.999};
    private static final double[] AMPERES = {19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3};
    private static final double[] RADIANS = {1.0456, 1.0438, 1.0468, 1.0428, 1.0433};
    private static final double[][] READINGS = {VOLTS, AMPERES, RADIANS};

    private static final List<String> OUTPUTS = List.of("R", "X", "Z");
    private static final List<Input> CAUSES =
            List.of(
                    Input.normal("first cause", 0, 1, Scope.RUN),
                    Input.normal("second cause", 0, 1, Scope.RUN),
                    Input.normal("third cause", 0, 1, Scope.RUN));

    /** Covariance of two means (5.2.3). */
    private static double covariance(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += (a[i] - Sample.mean(a)) * (b[i] - Sample.mean(b));
        }
        return sum / (a.length * (a.length - 1));
    }

    /** Lower triangle L with L L' the covariance of the three means. */
    private static double[][] root() {
        double[][] root = new double[3][3];
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j <= i; j++) {
                double rest = covariance(READINGS[i], READINGS[j]);
                for (int k = 0; k < j; k++) {
                    rest -= root[i][k] * root[j][k];
                }
                root[i][j] = i == j ? Math.sqrt(rest) : rest / root[j][j];
            }
        }
        return root;
    }

    private static Model model() {
        double[][] root = root();
        return z -> {
            double[] x = new double[3];
            for (int i = 0; i < 3; i++) {
                x[i] = Sample.mean(READINGS[i]);
                for (int k = 0; k < 3; k++) {
                    x[i] += root[i][k] * z[k];
                }
            }
            double impedance = x[0] / x[1];
            return new double[] {
                impedance * StrictMath.cos(x[2]), impedance * StrictMath.sin(x[2]), impedance
            };
        };
    }

    /** u(V) 0.0032 V, u(I) 0.0095 mA, u(phi) 0.00075; r -0.36, 0.86, -0.65. */
    @Test
    void readings() {
        assertEquals(4.9990, Sample.mean(VOLTS), 0.00005);
        assertEquals(19.6610e-3, Sample.mean(AMPERES), 0.00005e-3);
        assertEquals(1.04446, Sample.mean(RADIANS), 0.000005);
        double volt = Math.sqrt(covariance(VOLTS, VOLTS));
        double ampere = Math.sqrt(covariance(AMPERES, AMPERES));
        double radian = Math.sqrt(covariance(RADIANS, RADIANS));
        assertEquals(0.0032, volt, 0.00005);
        assertEquals(0.0095e-3, ampere, 0.00005e-3);
        assertEquals(0.00075, radian, 0.000005);
        assertEquals(-0.36, covariance(VOLTS, AMPERES) / volt / ampere, 0.005);
        assertEquals(0.86, covariance(VOLTS, RADIANS) / volt / radian, 0.005);
        assertEquals(-0.65, covariance(AMPERES, RADIANS) / ampere / radian, 0.005);
    }

    /**
     * Table H.4: R 127.732 (0.071), X 219.847 (0.295), Z 254.260 (0.236) ohm; r(R,X) -0.588, r(R,Z)
     * -0.485, r(X,Z) 0.993. Uncertainties to one in the last digit: X has 0.2956, printed 0.295.
     */
    @Test
    void outputsAndTheirCorrelations() {
        Budget budget = Budget.of(CAUSES, OUTPUTS, model());
        double[] values = {127.732, 219.847, 254.260};
        double[] standards = {0.071, 0.295, 0.236};
        for (int o = 0; o < OUTPUTS.size(); o++) {
            assertEquals(values[o], budget.outputs().get(o).value(), 0.0005);
            assertEquals(standards[o], budget.outputs().get(o).standard(), 0.001);
        }
        assertEquals(-0.588, budget.correlation("R", "X"), 0.0005);
        assertEquals(-0.485, budget.correlation("R", "Z"), 0.0005);
        assertEquals(0.993, budget.correlation("X", "Z"), 0.0005);
    }

    /** And the other propagation sees the same: a sampled r scatters by (1 - r^2)/sqrt(M). */
    @Test
    void monteCarloAgrees() {
        int draws = 100_000;
        Budget budget = Budget.of(CAUSES, OUTPUTS, model());
        MonteCarlo drawn = MonteCarlo.of(CAUSES, OUTPUTS, model(), draws, Seeds.generator(2));
        for (String one : OUTPUTS) {
            for (String other : OUTPUTS) {
                double r = budget.correlation(one, other);
                double allowed = 4 * (1 - r * r) / Math.sqrt((double) draws) + 1e-5;
                assertEquals(r, drawn.correlation(one, other), allowed);
            }
            assertEquals(
                    budget.output(one).standard(),
                    drawn.result(one).standard(),
                    4 * drawn.result(one).standardDeviation());
        }
    }
}
