package catchbay.port;

/** The kinds of port that a bay's settings choose one by one. */
public enum PortKind {
    /** The clock; opened as a {@link Timekeeper}. */
    TIME("time"),
    /** On-off signals; a {@link Source}. */
    CONTACTS("contacts"),
    /** Pulse lines; a {@link Source}. */
    PULSES("pulses"),
    /** The scale under the tank; a {@link Source}. */
    SCALE("scale"),
    /** The truck controller's line; a {@link Source}. */
    CONTROLLER("controller"),
    /** The bay's thermometers; a {@link Source}. */
    TEMPERATURE("temperature"),
    /** The gauge at the bay's coupler; a {@link Source}. */
    PRESSURE("pressure"),
    /** The person at the bay; an {@link Operator}. */
    OPERATOR("operator"),
    /** The bay's outputs that are on or off; an {@link Outputs}. */
    OUTPUTS("outputs"),
    /** Speed and feeder pulses to the truck; a {@link PulseOutput}. */
    PULSE_OUTPUT("pulse_output"),
    /** The bay's own computer; a {@link Computer}. */
    COMPUTER("computer"),
    /** Whoever started the program as a service; a {@link Supervisor}. */
    SUPERVISOR("supervisor");

    private final String key;

    PortKind(String key) {
        this.key = key;
    }

    /**
     * The key under {@code [port]} this kind's section, whose {@code provider} chooses who opens
     * it.
     */
    public String key() {
        return key;
    }
}
