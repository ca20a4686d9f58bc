package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import catchbay.quantity.Mass;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.stream.IntStream;

/** A leak by hand. */
final class StaticLeakTest {

    private static StaticLeak watched(double kilogramsPerHour, double step) {
        List<StaticLeak.Reading> readings =
                IntStream.rangeClosed(0, 3000)
                        .mapToObj(i -> {
                            double truly = 50 + kilogramsPerHour * i / 36_000.0;
                            double shown = step == 0 ? truly : Math.rint(truly / step) * step;
                            return new StaticLeak.Reading(i / 10.0, new Mass(shown));
                        })
                        .toList();
        return StaticLeak.of(readings, new Mass(step), 1);
    }

    /** The slope of a straight line, whichever parts of it are averaged. */
    @Test
    void anEvenLossIsItsSlope() {
        assertEquals(-0.5, watched(-0.5, 0).kilogramsPerHour().value(), 1e-9);
        assertEquals(WeightCheck.Answer.PASSES, watched(-0.5, 0).answer());
        assertEquals(WeightCheck.Answer.FAILS, watched(4, 0.02).answer());
    }

    /** A quiet scale shows one step: a triangle of two half steps of 0.02 kg over 270 s. */
    @Test
    void aQuietScaleIsNoBetterThanItsSteps() {
        StaticLeak still = watched(0, 0.02);
        assertEquals(0, still.kilogramsPerHour().value(), 1e-9);
        assertEquals(0.02 / Math.sqrt(6) / 270 * 3600, still.kilogramsPerHour().standard(), 1e-4);
        assertEquals(WeightCheck.Answer.CANNOT_TELL, watched(0, 0.2).answer());
    }

    @Test
    void tooFewReadingsTellNothing() {
        assertThrows(
                IllegalArgumentException.class, () -> StaticLeak.of(List.of(), new Mass(1), 1));
        List<StaticLeak.Reading> two =
                List.of(
                        new StaticLeak.Reading(0, new Mass(1)),
                        new StaticLeak.Reading(300, new Mass(1)));
        assertThrows(IllegalArgumentException.class, () -> StaticLeak.of(two, new Mass(1), 1));
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        new StaticLeak(
                                new Mass(1), new Mass(1), watched(0, 0.02).kilogramsPerHour(), 0));
    }
}
