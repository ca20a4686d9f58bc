package catchbay.hardware.clock;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;

/** Opens the real time of this machine: {@code time = "system"}. */
public final class SystemTime implements PortProvider {

    @Override
    public PortKind kind() {
        return PortKind.TIME;
    }

    @Override
    public String name() {
        return "system";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        return new SystemTimekeeper(MonotonicClock.open());
    }
}
