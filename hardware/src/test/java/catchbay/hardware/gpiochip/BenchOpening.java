package catchbay.hardware.gpiochip;

import catchbay.port.PortOpening;
import catchbay.port.PortSettings;
import catchbay.port.Timekeeper;
import catchbay.quantity.Speed;
import catchbay.run.RunSetup;

import java.util.Optional;
import java.util.function.Supplier;

/** How a test opens a port: with settings, a clock and a bay that has no meter of its own. */
final class BenchOpening implements PortOpening {

    private final PortSettings settings;
    private final Timekeeper time;
    private boolean markedSimulated;

    BenchOpening(PortSettings settings, Timekeeper time) {
        this.settings = settings;
        this.time = time;
    }

    boolean markedSimulated() {
        return markedSimulated;
    }

    @Override
    public RunSetup setup() {
        return new RunSetup(
                "bench",
                null,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                null,
                null,
                null,
                null,
                null,
                null,
                null,
                null,
                null);
    }

    @Override
    public Speed usualSpeed() {
        return setup().asked().speed();
    }

    @Override
    public PortSettings settings() {
        return settings;
    }

    @Override
    public Timekeeper time() {
        return time;
    }

    @Override
    public void markSimulated() {
        markedSimulated = true;
    }

    @Override
    public <T> T shared(Class<T> kind, Supplier<T> maker) {
        return maker.get();
    }
}
