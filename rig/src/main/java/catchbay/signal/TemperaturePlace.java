package catchbay.signal;

/** The places at which a bay may measure how warm it is. */
public enum TemperaturePlace {
    /** The liquid at the truck's meter. */
    TRUCK_METER("truck-meter"),
    /** The liquid at the bay's reference meter. */
    REFERENCE("reference"),
    /** The liquid in the catch tank. */
    TANK("tank"),
    /** The air around the scale. */
    ROOM("room");

    private final String key;

    TemperaturePlace(String key) {
        this.key = key;
    }

    /** How settings, traces and sentences call this place. */
    public String key() {
        return key;
    }

    /** The place called so; fails with a sentence that lists the known ones. */
    public static TemperaturePlace ofKey(String key) {
        for (TemperaturePlace place : values()) {
            if (place.key.equals(key)) {
                return place;
            }
        }
        throw new IllegalArgumentException(
                "unknown place '" + key + "'; use truck-meter, reference, tank or room");
    }
}
