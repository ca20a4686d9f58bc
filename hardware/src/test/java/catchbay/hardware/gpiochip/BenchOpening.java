package catchbay.hardware.gpiochip;

import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortSettings;
import catchbay.port.Timekeeper;
import catchbay.quantity.Speed;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/** How a test opens a port: with settings, a clock and a bay. */
public final class BenchOpening implements PortOpening {

    private final PortSettings settings;
    private final Timekeeper time;
    private final RunSetup setup;
    private final List<String> told = new ArrayList<>();
    private boolean markedSimulated;

    /** A bay that has no meter of its own. */
    BenchOpening(PortSettings settings, Timekeeper time) {
        this(settings, time, bare());
    }

    public BenchOpening(PortSettings settings, Timekeeper time, RunSetup setup) {
        this.settings = settings;
        this.time = time;
        this.setup = setup;
    }

    public boolean markedSimulated() {
        return markedSimulated;
    }

    private static RunSetup bare() {
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
    public RunSetup setup() {
        return setup;
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
    public PortSettings settings(PortKind other) {
        return settings();
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
    public void tell(String found) {
        told.add(found);
    }

    /** What a person was told. */
    public List<String> told() {
        return told;
    }

    @Override
    public <T> T shared(Class<T> kind, Supplier<T> maker) {
        return maker.get();
    }
}
