package catchbay.hardware.pressure;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.run.RunInput;
import catchbay.signal.PressureReading;

import java.io.IOException;

/** The gauge at the coupler, behind a channel of a converter. */
record Gauge(IioChannel channel, GaugeSignal signal, MonotonicClock clock) {

    /** Asks it. A converter that cannot be read is a reading that is missing. */
    RunInput read() {
        PressureReading reading;
        try {
            reading = signal.reading(channel.millivolts());
        } catch (IOException gone) {
            reading = new PressureReading.Missing("its file " + channel.raw() + " cannot be read");
        }
        return new RunInput.CouplerPressure(clock.nanos(), reading);
    }
}
