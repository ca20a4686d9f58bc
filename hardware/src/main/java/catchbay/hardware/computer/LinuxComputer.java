package catchbay.hardware.computer;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;

import java.nio.file.Path;
import java.time.Clock;

/** Watches the computer that the program runs on: {@code computer = "linux"}. */
public final class LinuxComputer implements PortProvider {

    @Override
    public PortKind kind() {
        return PortKind.COMPUTER;
    }

    @Override
    public String name() {
        return "linux";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        KernelClock kernel = KernelClock.open();
        return new WatchedComputer(
                new LinuxFiles(Path.of("/")),
                kernel::isSynchronised,
                MonotonicClock.open(),
                Clock.systemUTC());
    }
}
