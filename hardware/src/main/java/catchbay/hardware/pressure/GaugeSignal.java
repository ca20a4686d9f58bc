package catchbay.hardware.pressure;

import catchbay.quantity.Pressure;
import catchbay.signal.PressureReading;

import java.util.Locale;

/**
 * What a gauge's line carries: a current or a voltage that goes evenly from the one end of its
 * range to the other.
 *
 * @param kind which of the two
 * @param factor a current's shunt in ohm; how many times the voltage at the converter a voltage is
 * @param from the pressure at the lower end
 * @param to the pressure at the upper end
 */
record GaugeSignal(Kind kind, double factor, Pressure from, Pressure to) {

    /** Current or voltage. */
    enum Kind {
        /** 4 to 20 mA through a shunt. */
        CURRENT("4-20mA", "mA", 4, 20),
        /** 0 to 10 V over a divider. */
        VOLTAGE("0-10V", "V", 0, 10);

        private final String key;
        private final String unit;
        private final double low;
        private final double high;

        Kind(String key, String unit, double low, double high) {
            this.key = key;
            this.unit = unit;
            this.low = low;
            this.high = high;
        }

        /** How settings call it. */
        String key() {
            return key;
        }
    }

    // NAMUR NE 43: a measured value is told by 3.8 to 20.5 mA, a failure below 3.6 or above 21 mA
    // (from memory).
    private static final double BROKEN_MILLIAMPERES = 3.6;
    private static final double LEAST_MILLIAMPERES = 3.8;
    private static final double MOST_MILLIAMPERES = 20.5;
    private static final double FAILED_MILLIAMPERES = 21;

    /** Common practice, no source: what converter, divider and gauge may be off at the ends, V. */
    private static final double BEYOND_VOLTS = 0.2;

    /**
     * What so many millivolts at the converter say.
     *
     * @param millivolts finite
     */
    PressureReading reading(double millivolts) {
        return switch (kind) {
            case CURRENT -> byCurrent(millivolts / factor);
            case VOLTAGE -> byVoltage(millivolts * factor / 1000);
        };
    }

    private PressureReading byCurrent(double milliamperes) {
        if (milliamperes < BROKEN_MILLIAMPERES) {
            return missing(
                    milliamperes, "is below 3.6 mA: its wire is broken or it has failed (NE 43)");
        }
        if (milliamperes > FAILED_MILLIAMPERES) {
            return missing(
                    milliamperes, "is above 21 mA: its wire is shorted or it has failed (NE 43)");
        }
        if (milliamperes < LEAST_MILLIAMPERES) {
            return missing(milliamperes, "is below 3.8 mA: the pressure is under its range");
        }
        if (milliamperes > MOST_MILLIAMPERES) {
            return missing(milliamperes, "is above 20.5 mA: the pressure is over its range");
        }
        return shown(milliamperes);
    }

    private PressureReading byVoltage(double volts) {
        if (volts < kind.low - BEYOND_VOLTS || volts > kind.high + BEYOND_VOLTS) {
            return missing(volts, "is outside of 0 to 10 V: look after its wire and its divider");
        }
        return shown(volts);
    }

    private PressureReading shown(double value) {
        double part = (value - kind.low) / (kind.high - kind.low);
        return new PressureReading.Shown(
                new Pressure(from.kilopascals() + part * (to.kilopascals() - from.kilopascals())));
    }

    private PressureReading missing(double value, String why) {
        return new PressureReading.Missing(
                String.format(Locale.ROOT, "%.2f %s %s", value, kind.unit, why));
    }
}
