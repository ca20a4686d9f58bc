package catchbay.port;

/**
 * Opens one port of one kind. Found by {@link java.util.ServiceLoader} and chosen by name in the
 * settings, as in {@code provider = "serial"} under {@code [port.scale]}.
 */
public interface PortProvider {

    /** The kind of port. */
    PortKind kind();

    /** The name by which settings choose it; unique within its kind. */
    String name();

    /**
     * Whether it stands in for the real thing: a run with such a port is marked as simulated for
     * ever.
     */
    boolean simulated();

    /**
     * Opens the port; what comes back is of the class that {@link PortKind} names for the kind.
     *
     * @throws PortException when it cannot be opened, with a sentence that says what to do
     */
    Object open(PortOpening opening) throws PortException;
}
