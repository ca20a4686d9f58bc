package catchbay.sim;

import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.quantity.Pressure;
import catchbay.run.RunInput;
import catchbay.signal.PressureReading;

import java.util.function.Consumer;

/** A gauge at the coupler of a bay whose pressure never changes. */
final class StandInGauge implements Source {

    /** It is read so often, ns. */
    static final long PERIOD_NANOS = 1_000_000_000L;

    private final Timekeeper time;
    private final PressureReading reading;
    private long nextNanos;

    StandInGauge(Timekeeper time, double kilopascals) {
        this.time = time;
        this.reading = new PressureReading.Shown(new Pressure(kilopascals));
        this.nextNanos = time.monotonicNanos();
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        long now = time.monotonicNanos();
        if (now >= nextNanos) {
            nextNanos = now + PERIOD_NANOS;
            into.accept(new RunInput.CouplerPressure(now, reading));
        }
    }

    @Override
    public void close() {
        // Nothing is held.
    }
}
