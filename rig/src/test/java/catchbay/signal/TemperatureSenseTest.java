package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Temperature;

import org.junit.jupiter.api.Test;

import java.util.Optional;

/** What counts of a thermometer's readings, and the mean of those in a window. */
final class TemperatureSenseTest {

    private static final long SECOND = 1_000_000_000L;

    private static TemperatureSense shown(TemperatureSense sense, double second, double celsius) {
        return sense.take(
                (long) (second * SECOND), new TemperatureReading.Shown(new Temperature(celsius)));
    }

    private static TemperatureSense starting() {
        return TemperatureSense.starting(5 * SECOND);
    }

    private static TemperatureSense opened(double celsius) {
        return shown(starting(), 9, celsius).open(10 * SECOND);
    }

    private static double mean(TemperatureSense sense, double closeSecond) {
        return sense.close((long) (closeSecond * SECOND)).mean().orElseThrow().celsius();
    }

    @Test
    void theMeanIsOfTheWindowAlone() {
        TemperatureSense sense = shown(shown(starting(), 1, 4), 3, 5);
        sense = sense.open(4 * SECOND);
        sense = shown(shown(shown(sense, 5, 6), 6, 7), 7, 8);
        TemperatureSense closed = sense.close(8 * SECOND);
        assertEquals((5 + 6 + 7 + 8) / 4.0, closed.mean().orElseThrow().celsius());
        assertEquals(closed, shown(closed, 9, 20), "what comes after the window is no matter");
        assertEquals(Optional.empty(), sense.mean(), "not before it has closed");
    }

    @Test
    void aShortWindowIsToldOfByTheReadingBeforeIt() {
        assertEquals(7, mean(opened(7), 10.5));
    }

    @Test
    void aThermometerMayBeginWithinTheWindow() {
        TemperatureSense sense = starting().open(10 * SECOND);
        assertEquals(7, mean(shown(sense, 14.9, 7), 16));
        assertEquals(Optional.empty(), shown(sense, 15.1, 7).close(16 * SECOND).mean());
    }

    @Test
    void aPauseThatIsTooLongLeavesTheWindowUntold() {
        TemperatureSense sense = shown(opened(7), 13, 7);
        assertEquals(7, mean(sense, 18), "5 s are allowed");
        assertEquals(Optional.empty(), sense.close(18 * SECOND + 1).mean(), "to the end");
        sense = shown(sense, 18.1, 7);
        assertEquals(Optional.empty(), sense.close(19 * SECOND).mean(), "and in between");
        assertEquals(Optional.empty(), starting().open(SECOND).close(2 * SECOND).mean());
    }

    @Test
    void readingsThatAreMissingCountAsPause() {
        TemperatureSense sense = opened(7);
        for (int second = 11; second < 16; second++) {
            sense = sense.take(second * SECOND, new TemperatureReading.Missing("the wire is cut"));
        }
        assertEquals("the wire is cut", sense.missing());
        assertEquals(Optional.empty(), sense.close(16 * SECOND).mean());
    }

    /** 85.000 C: what the sensor holds before its first conversion (its maker's sheet). */
    @Test
    void thePowerOnValueIsNeverTaken() {
        TemperatureSense first = shown(starting(), 9, 85);
        assertTrue(first.missing().contains("powered on"), first.missing());
        assertEquals(7, mean(shown(first.open(10 * SECOND), 11, 7), 12));
        TemperatureSense amid = shown(shown(opened(7), 11, 85), 12, 7);
        assertEquals(7, mean(amid, 13));
        // Even where it comes again and again, as from a sensor with a bad supply.
        TemperatureSense often = opened(7);
        for (int second = 11; second < 16; second++) {
            often = shown(often, second, 85);
        }
        assertEquals(Optional.empty(), often.close(16 * SECOND).mean());
    }

    @Test
    void whatCannotBeIsNotTaken() {
        for (double celsius : new double[] {-40.001, 60.001, -127, 125}) {
            TemperatureSense sense = shown(opened(7), 11, celsius);
            sense = shown(sense, 12, celsius);
            assertTrue(sense.missing().contains("cannot be"), sense.missing());
            assertEquals(7, mean(sense, 13));
        }
        assertEquals(-40, mean(opened(-40), 11));
        assertEquals(60, mean(opened(60), 11));
    }

    @Test
    void aJumpCountsOnceTheNextReadingSaysTheSame() {
        assertEquals(12, mean(shown(opened(12), 11, 12), 12));
        TemperatureSense spike = shown(shown(opened(12), 11, 17.1), 12, 12);
        assertEquals(12, mean(spike, 13));
        assertTrue(spike.missing().contains("17.1"), spike.missing());
        TemperatureSense real = shown(shown(shown(opened(12), 11, 18), 12, 19), 13, 20);
        // The first of the three only announces the jump.
        assertEquals((12 + 19 + 20) / 3.0, mean(real, 14), 1e-12);
        TemperatureSense wild = opened(12);
        for (int second = 11; second < 18; second++) {
            wild = shown(wild, second, second % 2 == 0 ? 30 : 40);
        }
        assertEquals(Optional.empty(), wild.close(18 * SECOND).mean(), "never twice the same");
    }
}
