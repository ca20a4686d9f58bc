package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.VolumeUnit;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Expected values by hand from JCGM 100:2008, 4.2.3, 4.2.4 and 5.1.2. */
final class MeanOfCatchesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 2, 3);
    private static final double CERTIFICATE = 0.001;

    private static final TruckConstant CONSTANT =
            new TruckConstant(
                    TruckConstant.Form.PULSES_PER_VOLUME,
                    600,
                    VolumeUnit.US_GALLON,
                    0.1,
                    1,
                    5000,
                    Optional.empty());

    /** A catch of ten litres whose measured volume is as uncertain as a certificate, no more. */
    private static Comparison comparison(double meterError, double scatter) {
        ModelSketch sketch = new ModelSketch();
        Quantity certificate = sketch.normal("certificate", 0, CERTIFICATE, Scope.BAY);
        Quantity run =
                sketch.input(
                        scatter == 0
                                ? Input.exact(Comparison.RUN_SCATTER, 0)
                                : new Input(
                                        Comparison.RUN_SCATTER,
                                        0,
                                        scatter,
                                        8,
                                        Input.Shape.NORMAL,
                                        Scope.RUN));
        return Comparison.of(
                sketch,
                ModelSketch.exactly(10),
                ModelSketch.exactly(10 * (1 + meterError)),
                x -> 10 * (1 + certificate.at(x)),
                run,
                CONSTANT);
    }

    private static List<MeanOfCatches.Catch> catches(double scatter, double... errors) {
        List<MeanOfCatches.Catch> catches = new ArrayList<>();
        for (double error : errors) {
            catches.add(new MeanOfCatches.Catch(DAY, comparison(error, scatter)));
        }
        return catches;
    }

    private static Budget.Output error(MeanOfCatches mean) {
        return mean.budget().output(Comparison.METER_ERROR);
    }

    /** s of 1, 2, 3 per mille about nothing is 1 per mille; of the mean of three, over root 3. */
    @Test
    void whatIsCommonIsNotDividedAndTheScatterIs() {
        MeanOfCatches mean =
                MeanOfCatches.of(catches(0, -0.001, 0, 0.001), 3, Optional.empty(), false);
        assertEquals(0, error(mean).value(), 1e-12);
        assertEquals(
                Math.sqrt(CERTIFICATE * CERTIFICATE + 0.001 * 0.001 / 3),
                error(mean).standard(),
                1e-8);
        assertEquals(2, mean.scatter().orElseThrow().degreesOfFreedom());
        assertTrue(mean.own());
    }

    /** Later runs make the mean, but do not say how runs scatter. */
    @Test
    void onlyThePlannedRunsSayHowRunsScatter() {
        MeanOfCatches mean =
                MeanOfCatches.of(catches(0, -0.001, 0, 0.001, 0, 0, 0), 3, Optional.empty(), false);
        assertEquals(0.001, mean.scatter().orElseThrow().standard(), 1e-8);
        assertEquals(
                Math.sqrt(CERTIFICATE * CERTIFICATE + 0.001 * 0.001 / 6),
                error(mean).standard(),
                1e-8);
    }

    /** (2 x 1^2 + 8 x 1.2^2) / 10 = 1.352. */
    @Test
    void earlierWorkIsPooledWithThem() {
        MeanOfCatches mean =
                MeanOfCatches.of(
                        catches(0.0012, -0.001, 0, 0.001),
                        3,
                        Optional.of(new Scatter(0.0012, 8)),
                        true);
        assertEquals(Math.sqrt(1.352) / 1000, mean.scatter().orElseThrow().standard(), 1e-8);
        assertEquals(10, mean.scatter().orElseThrow().degreesOfFreedom());
        assertEquals(
                Math.sqrt(CERTIFICATE * CERTIFICATE + 1.352e-6 / 3), error(mean).standard(), 1e-8);
    }

    /** A figure that nobody here has measured gives way to what the series shows. */
    @Test
    void whatIsNoWorkIsNotPooled() {
        MeanOfCatches mean =
                MeanOfCatches.of(
                        catches(0.0012, -0.001, 0, 0.001),
                        3,
                        Optional.of(new Scatter(0.0012, 8)),
                        false);
        assertEquals(0.001, mean.scatter().orElseThrow().standard(), 1e-8);
        assertEquals(2, mean.scatter().orElseThrow().degreesOfFreedom());
    }

    @Test
    void fewerThanPlannedOrIdenticalOnesLeaveItToEarlierWork() {
        Optional<Scatter> earlier = Optional.of(new Scatter(0.0012, 8));
        for (MeanOfCatches mean :
                List.of(
                        MeanOfCatches.of(catches(0.0012, 0.001, 0.002), 3, earlier, true),
                        MeanOfCatches.of(catches(0.0012, 0.001, 0.001, 0.001), 3, earlier, true))) {
            assertEquals(earlier, mean.scatter());
            assertFalse(mean.own());
        }
    }

    /** 1000.3 - 1000.1 and 1000.5 - 1000.3 differ in the last digits of their arithmetic only. */
    @Test
    void whatArithmeticLeavesIsNoScatter() {
        double first = 1000.3 - 1000.1;
        double second = 1000.5 - 1000.3;
        assertTrue(first != second);
        double[] overs = MeanOfCatches.overs(catches(0, first, second, first));
        assertEquals(0, Repeatability.rangeOverMean(overs).value());
    }

    /** The constant of the mean by the rules of one catch: 600 x 1.05. */
    @Test
    void theConstantIsThatOfTheMean() {
        MeanOfCatches mean =
                MeanOfCatches.of(catches(0, 0.049, 0.05, 0.051), 3, Optional.empty(), false);
        ConstantAdvice.Enter enter =
                (ConstantAdvice.Enter)
                        ConstantAdvice.after(
                                mean.budget(), 3, CONSTANT, ConstantAdvice.Control.OPEN_LOOP, null);
        assertEquals(630, enter.constant().value());
        assertTrue(
                ConstantAdvice.after(
                                MeanOfCatches.of(
                                                catches(0, -0.001, 0.0005, 0.002),
                                                3,
                                                Optional.empty(),
                                                false)
                                        .budget(),
                                3,
                                CONSTANT,
                                ConstantAdvice.Control.OPEN_LOOP,
                                null)
                        instanceof ConstantAdvice.Keep);
    }
}
