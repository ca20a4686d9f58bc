package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.TruckConstant.Form;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.math.BigDecimal;
import java.util.Optional;

final class TruckConstantTest {

    static TruckConstant constant(Form form, double value, double step, double least, double most) {
        return new TruckConstant(
                form, value, VolumeUnit.US_GALLON, step, least, most, Optional.empty());
    }

    /** Common practice, no source: new = old x reported / caught. */
    @Test
    void pulsesPerVolumeGrowsWithOverReading() {
        TruckConstant old = constant(Form.PULSES_PER_VOLUME, 600, 0.1, 1, 9999);
        assertEquals(630, old.curing(Volume.ofUsGallons(10.5), Volume.ofUsGallons(10)), 1e-10);
    }

    @Test
    void theTwoOtherFormsShrinkWithOverReading() {
        for (Form form : new Form[] {Form.VOLUME_PER_PULSE, Form.PERCENT_OF_READING}) {
            TruckConstant old = constant(form, 100, 0.1, 1, 9999);
            assertEquals(80, old.curing(Volume.ofUsGallons(12.5), Volume.ofUsGallons(10)), 1e-10);
        }
    }

    /** With the curing number in place the same pulses report what was measured, in every form. */
    @Test
    void theCuringNumberCures() {
        Seeds.forSeeds(
                2_000,
                random -> {
                    Form form = Form.values()[random.nextInt(Form.values().length)];
                    double value = random.nextDouble(0.01, 1000);
                    TruckConstant old =
                            new TruckConstant(
                                    form,
                                    value,
                                    VolumeUnit.values()[random.nextInt(3)],
                                    1e-9,
                                    1e-9,
                                    1e9,
                                    Optional.of(new PulseConstant(random.nextDouble(1, 500))));
                    double pulses = random.nextDouble(100, 1e6);
                    Volume reported = old.pulses().orElseThrow().volumeOf(pulses);
                    Volume measured = reported.times(random.nextDouble(0.5, 2));
                    TruckConstant cured = old.with(old.curing(reported, measured));
                    assertEquals(
                            measured.litres(),
                            cured.pulses().orElseThrow().volumeOf(pulses).litres(),
                            measured.litres() * 1e-12);
                });
    }

    @Test
    void decimalStepsAreExact() {
        assertEquals(125.3, rounded(0.1, 125.34999));
        assertEquals(125.4, rounded(0.1, 125.35001));
        assertEquals(0.3, rounded(0.1, 0.1 + 0.2));
        assertEquals(600.07, rounded(0.01, 600.0712));
        assertEquals(1.15, rounded(0.01, 1.1499999));
        assertEquals(12.75, rounded(0.25, 12.80));
        assertEquals(125, rounded(1, 125.4));
        assertEquals(130, rounded(10, 125.4));
        assertEquals(0.00123, rounded(0.00001, 0.0012345));
    }

    private static double rounded(double step, double number) {
        return constant(Form.PULSES_PER_VOLUME, 100, step, 1, 9999).rounded(number);
    }

    /** What is rounded is a whole number of steps as a decimal, and no other is nearer. */
    @Test
    void roundingGoesToTheNearestEntry() {
        double[] steps = {0.00001, 0.001, 0.01, 0.1, 0.25, 0.5, 1, 5, 10};
        Seeds.forSeeds(
                3_000,
                random -> {
                    double step = steps[random.nextInt(steps.length)];
                    double number = random.nextDouble(step, 5000);
                    double rounded = rounded(step, number);
                    BigDecimal[] division =
                            BigDecimal.valueOf(rounded)
                                    .divideAndRemainder(BigDecimal.valueOf(step));
                    assertEquals(0, division[1].signum(), rounded + " in steps of " + step);
                    assertTrue(
                            Math.abs(rounded - number) <= step / 2 * (1 + 1e-6),
                            rounded + " for " + number);
                });
    }

    @Test
    void limitsAreInclusive() {
        TruckConstant constant = constant(Form.PERCENT_OF_READING, 100, 0.1, 50, 200);
        assertTrue(constant.accepts(50));
        assertTrue(constant.accepts(200));
        assertFalse(constant.accepts(49.9));
        assertFalse(constant.accepts(200.1));
        assertThrows(IllegalArgumentException.class, () -> constant.with(200.1));
    }

    @Test
    void contradictionsAreRefused() {
        for (double bad : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> constant(Form.PULSES_PER_VOLUME, bad, 0.1, 1, 999));
            assertThrows(
                    IllegalArgumentException.class,
                    () -> constant(Form.PULSES_PER_VOLUME, 100, bad, 1, 999));
            assertThrows(
                    IllegalArgumentException.class,
                    () -> constant(Form.PULSES_PER_VOLUME, 100, 0.1, bad, 999));
            assertThrows(
                    IllegalArgumentException.class,
                    () -> constant(Form.PULSES_PER_VOLUME, 100, 0.1, 1, bad));
        }
        assertThrows(
                IllegalArgumentException.class,
                () -> constant(Form.PULSES_PER_VOLUME, 100, 0.1, 200, 150));
        assertThrows(
                IllegalArgumentException.class,
                () -> constant(Form.PULSES_PER_VOLUME, 100, 0.1, 101, 150));
    }

    @Test
    void pulsesPerVolumeInEveryForm() {
        PulseConstant hundred = PulseConstant.per(100, VolumeUnit.US_GALLON);
        assertEquals(
                hundred, constant(Form.PULSES_PER_VOLUME, 100, 0.1, 1, 999).pulses().orElseThrow());
        assertEquals(
                hundred.pulsesPerLitre(),
                constant(Form.VOLUME_PER_PULSE, 0.01, 0.001, 0.001, 1)
                        .pulses()
                        .orElseThrow()
                        .pulsesPerLitre(),
                1e-12);
        assertTrue(constant(Form.PERCENT_OF_READING, 100, 1, 50, 200).pulses().isEmpty());
        // 125 % of what 125 pulses/gal would say is what 100 pulses/gal says.
        TruckConstant scaled =
                new TruckConstant(
                        Form.PERCENT_OF_READING,
                        125,
                        VolumeUnit.US_GALLON,
                        1,
                        50,
                        200,
                        Optional.of(PulseConstant.per(125, VolumeUnit.US_GALLON)));
        assertEquals(
                hundred.pulsesPerLitre(), scaled.pulses().orElseThrow().pulsesPerLitre(), 1e-12);
    }

    @Test
    void formsAreReadByTheirKeys() {
        for (Form form : Form.values()) {
            assertEquals(form, Form.ofKey(form.key()));
        }
        assertThrows(IllegalArgumentException.class, () -> Form.ofKey("k-factor"));
    }

    /** 630 where 600 stands over-reads by 5 %; a curing number leaves no error in any form. */
    @Test
    void theErrorThatANumberLeaves() {
        assertEquals(
                0.05,
                constant(Form.PULSES_PER_VOLUME, 600, 0.1, 1, 9999).errorWith(600, 630).value(),
                1e-15);
        for (Form form : Form.values()) {
            TruckConstant old = constant(form, 100, 0.1, 1, 9999);
            double right = old.curing(Volume.ofUsGallons(12.5), Volume.ofUsGallons(10));
            assertEquals(0.25, old.errorWith(100, right).value(), 1e-15, form.key());
            assertEquals(0, old.errorWith(right, right).value(), 0, form.key());
        }
    }

    @Test
    void aNumberAsItIsEntered() {
        assertEquals(
                "632 pulses/US gal",
                constant(Form.PULSES_PER_VOLUME, 600, 0.1, 1, 9999).written(632.0));
        assertEquals(
                "0.00167 US gal/pulse",
                constant(Form.VOLUME_PER_PULSE, 0.002, 0.00001, 0.00001, 9).written(0.00167));
    }
}
