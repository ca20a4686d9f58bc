package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.VolumeUnit;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** Meters and scale by hand. */
final class InstrumentCheckTest {

    private static final LocalDate DAY = LocalDate.of(2026, 1, 5);
    private static final TruckConstant CONSTANT =
            new TruckConstant(
                    TruckConstant.Form.PULSES_PER_VOLUME,
                    600,
                    VolumeUnit.US_GALLON,
                    0.1,
                    1,
                    5000,
                    Optional.empty());
    private static final double METER = 0.001;
    private static final double READING = 0.0003;

    /** A meter of standard uncertainty 0.1 %, and a scale whose readings scatter by 0.03 %. */
    private static Comparison apart(double ratio) {
        ModelSketch sketch = new ModelSketch();
        Quantity meter = sketch.normal("meter", 1 + ratio, METER, Scope.BAY);
        Quantity scale = sketch.normal("scale", 1, READING, Scope.RUN);
        sketch.output(Comparison.BETWEEN_INSTRUMENTS, x -> meter.at(x) / scale.at(x) - 1);
        Quantity one = ModelSketch.exactly(1);
        return Comparison.of(
                sketch, one, ModelSketch.exactly(0), one, ModelSketch.exactly(0), CONSTANT);
    }

    private static InstrumentCheck check(double... ratios) {
        List<Comparison> catches =
                Arrays.stream(ratios).mapToObj(InstrumentCheckTest::apart).toList();
        return InstrumentCheck.of(DAY, catches, 0.01);
    }

    /** What is drawn anew in each run is averaged, what the meter is wrong by is not. */
    @Test
    void theMeanWithBothInstruments() {
        InstrumentCheck same = check(0.004, 0.004, 0.004, 0.004);
        assertEquals(0.004, same.difference().value(), 1e-9);
        assertEquals(
                Math.sqrt(METER * METER + READING * READING / 4),
                same.difference().standard(),
                1e-5);
        assertEquals(WeightCheck.Answer.PASSES, same.answer());
        assertEquals(WeightCheck.Answer.FAILS, check(0.02, 0.02, 0.02).answer());
    }

    /** JCGM 100:2008, 4.2.3: of 0.2, 0.4 and 0.6 % the mean scatters by 0.2 % over root 3. */
    @Test
    void theCatchesScatter() {
        double standard = check(0.002, 0.004, 0.006).difference().standard();
        double wanted = 0.002 * 0.002 / 3 + METER * METER + READING * READING / 3;
        assertEquals(Math.sqrt(wanted), standard, 1e-5);
    }

    @Test
    void oneMeterAgainstAnother() {
        InstrumentCheck between = check(0.02, 0.02, 0.02).against(check(0.005, 0.005, 0.005));
        assertEquals(1.02 / 1.005 - 1, between.difference().value(), 1e-9);
        assertEquals(WeightCheck.Answer.FAILS, between.answer());
    }

    @Test
    void twoCatchesDoNotScatter() {
        assertThrows(IllegalArgumentException.class, () -> check(0.01, 0.01));
    }
}
