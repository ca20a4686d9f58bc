package catchbay.port;

import catchbay.quantity.Speed;
import catchbay.run.RunSetup;

import java.util.function.Supplier;

/** What a provider may know when it opens a port. */
public interface PortOpening {

    /** The run that is about to begin. */
    RunSetup setup();

    /**
     * The speed at which the settings file has the truck asked; the run may be at another, which
     * its command says. What a stand-in draws for good must not follow the command.
     */
    Speed usualSpeed();

    /** The settings section of this port, as in {@code [port.scale]}. */
    PortSettings settings();

    /**
     * The settings section of another port, for ports that share one device. Its unknown keys are
     * refused by that port alone.
     */
    PortSettings settings(PortKind other);

    /** The clock; not there yet while the clock itself is being opened. */
    Timekeeper time();

    /**
     * Marks the run as simulated for ever: what the port found at the other end stands in for the
     * real thing, though the port itself is real.
     */
    void markSimulated();

    /**
     * Tells a person what was found and put right at opening, that somebody should look into.
     *
     * @param found one sentence or two: what, where, and what to look for
     */
    void tell(String found);

    /**
     * Something shared by the ports of one run, made by whoever asks first: a stand-in bay's one
     * world, or one chip that carries several kinds of line.
     */
    <T> T shared(Class<T> kind, Supplier<T> maker);
}
