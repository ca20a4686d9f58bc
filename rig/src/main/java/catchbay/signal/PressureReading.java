package catchbay.signal;

import catchbay.quantity.Pressure;

/** What a pressure gauge said when it was asked. */
public sealed interface PressureReading {

    /** A pressure, gauge. */
    record Shown(Pressure pressure) implements PressureReading {}

    /** No pressure, for the reason given in words. */
    record Missing(String reason) implements PressureReading {}
}
