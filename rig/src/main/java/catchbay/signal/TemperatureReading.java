package catchbay.signal;

import catchbay.quantity.Temperature;

/** What a thermometer said when it was asked. */
public sealed interface TemperatureReading {

    /** A temperature, as it stands on the line: whether it can be is judged by the run. */
    record Shown(Temperature temperature) implements TemperatureReading {}

    /** No temperature, for the reason given in words. */
    record Missing(String reason) implements TemperatureReading {}
}
