package catchbay.signal;

/** The pulse lines a bay can read. The order is the order in which a turn drains them. */
public enum PulseLine {
    /** The bay's own reference meter. */
    REFERENCE("reference"),
    /** The reference meter's second channel, where it has one: the same pulses, shifted. */
    REFERENCE_SECOND("reference-second"),
    /** The truck's meter, tapped. */
    TRUCK("truck"),
    /** Ground-speed pulses the bay sends, looped back. */
    SPEED("speed"),
    /** Feeder (conveyor) pulses, the truck's own or the bay's looped back. */
    FEEDER("feeder");

    private final String key;

    PulseLine(String key) {
        this.key = key;
    }

    /** How settings, traces and sentences call this line. */
    public String key() {
        return key;
    }

    /** The line called so; fails with a sentence that lists the known ones. */
    public static PulseLine ofKey(String key) {
        for (PulseLine line : values()) {
            if (line.key.equals(key)) {
                return line;
            }
        }
        throw new IllegalArgumentException(
                "unknown pulse line '"
                        + key
                        + "'; use reference, reference-second, truck,"
                        + " speed or feeder");
    }
}
