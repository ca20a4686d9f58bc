package catchbay.hardware.relay;

/**
 * What a line of the bay's outputs drives. Each is at its safe level when its line is off: no relay
 * is energized.
 */
enum Relay {
    /** On: into the tank. Off: to bypass. */
    DIVERTER("diverter"),
    /** On: open. Off: shut. */
    DRAIN("drain"),
    /** On: the bay's supply is enabled. Off: it is cut. */
    SUPPLY("supply"),
    /** On: a catch is under way. */
    LIGHT("light"),
    /** Beats while the program is well; what counts is that it changes. */
    HEARTBEAT("heartbeat");

    private final String key;

    Relay(String key) {
        this.key = key;
    }

    /** How settings, sentences and the kernel's list of lines call it. */
    String key() {
        return key;
    }
}
