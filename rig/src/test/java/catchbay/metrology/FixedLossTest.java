package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.metrology.Diagnosis.Limits;
import catchbay.quantity.VolumeUnit;
import catchbay.seeded.Seeds;

import org.hipparchus.stat.regression.GLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The loss that is the same at all flows, against Hipparchus's generalized least squares. */
final class FixedLossTest {

    private static final double RANDOM = 0.002;

    /** A regression that also tells the uncertainty of its parameters for a known covariance. */
    private static final class KnownCovariance extends GLSMultipleLinearRegression {
        double intercept() {
            return calculateBeta().getEntry(0);
        }

        double interceptStandard() {
            return Math.sqrt(calculateBetaVariance().getEntry(0, 0));
        }
    }

    @Test
    void againstHipparchus() {
        Seeds.forSeeds(
                300,
                random -> {
                    double[] flows = {5, 10, 20, 35, 60};
                    double loss = 0.4 + random.nextDouble();
                    double slope = 0.95 + 0.1 * random.nextDouble();
                    List<CurvePoint> points = new ArrayList<>();
                    double[] reported = new double[flows.length];
                    double[][] measured = new double[flows.length][1];
                    double[][] covariance = new double[flows.length][flows.length];
                    for (int i = 0; i < flows.length; i++) {
                        double noise = 1 + RANDOM * (2 * random.nextDouble() - 1);
                        reported[i] = (loss + slope * flows[i]) * noise;
                        measured[i][0] = flows[i];
                        covariance[i][i] = Math.pow(RANDOM * flows[i], 2);
                        double number = 600 * reported[i] / flows[i];
                        points.add(Trucks.point("run-" + i, flows[i], number, RANDOM, 0.002));
                    }
                    KnownCovariance line = new KnownCovariance();
                    line.newSampleData(reported, measured, covariance);
                    Finding.LiquidElsewhere finding =
                            (Finding.LiquidElsewhere)
                                    new MeterJudgement(
                                                    Optional.of(
                                                            Trucks.drawn(Trucks.PULSES, points)),
                                                    FlowMix.EVEN,
                                                    List.of(Trucks.caught("run-0", 5, 5, 5)),
                                                    Limits.USUAL,
                                                    false)
                                            .findings()
                                            .getFirst();
                    Finding.Loss told = finding.loss().orElseThrow();
                    assertEquals(
                            line.intercept(), told.flow().perMinute(VolumeUnit.US_GALLON), 1e-9);
                    assertEquals(
                            1.959963984540054 * line.interceptStandard(),
                            told.expanded().perMinute(VolumeUnit.US_GALLON),
                            1e-9);
                });
    }
}
