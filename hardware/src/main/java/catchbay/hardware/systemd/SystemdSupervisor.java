package catchbay.hardware.systemd;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;

/**
 * Tells systemd how the program fares: {@code supervisor = "systemd"}. Where nobody waits for news,
 * as when a person started the program, nobody is told.
 */
public final class SystemdSupervisor implements PortProvider {

    @Override
    public PortKind kind() {
        return PortKind.SUPERVISOR;
    }

    @Override
    public String name() {
        return "systemd";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        return ServiceNews.of(System.getenv(), ProcessHandle.current().pid());
    }
}
