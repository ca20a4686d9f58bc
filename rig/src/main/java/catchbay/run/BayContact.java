package catchbay.run;

/**
 * The on-off signals a bay can see. Active means that the thing named is so, whatever the wire's
 * level.
 */
public enum BayContact {
    /** The diverter's switch at mid-travel: active while the flap is on the tank's side of it. */
    DIVERTER_TRIGGER("diverter-trigger"),
    /** The diverter has arrived at its tank end. */
    DIVERTER_AT_TANK("diverter-at-tank"),
    /** The diverter has arrived at its bypass end. */
    DIVERTER_AT_BYPASS("diverter-at-bypass"),
    /** The emergency stop is pressed, or its wire is broken. */
    EMERGENCY_STOP("emergency-stop"),
    /** The catch tank's float is up. */
    HIGH_LEVEL("high-level"),
    /** Liquid on the floor. */
    SPILL("spill"),
    /** The bay's own supply, its pump, air or current, is lost, or its wire is broken. */
    SUPPLY_LOST("supply-lost"),
    /** The button by which an attendant shows to be there. */
    ATTENDANT("attendant");

    private final String key;

    BayContact(String key) {
        this.key = key;
    }

    /** How settings, traces and sentences call this contact. */
    public String key() {
        return key;
    }

    /** Whether no run can go on, or begin, while it is active: an interlock looks at it. */
    public boolean endsRuns() {
        return switch (this) {
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST -> true;
            case DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS, ATTENDANT -> false;
        };
    }

    /** The contact called so; fails with a sentence that lists the known ones. */
    public static BayContact ofKey(String key) {
        for (BayContact contact : values()) {
            if (contact.key.equals(key)) {
                return contact;
            }
        }
        throw new IllegalArgumentException(
                "unknown contact '"
                        + key
                        + "'; use diverter-trigger, diverter-at-tank, "
                        + "diverter-at-bypass, emergency-stop, high-level, spill, "
                        + "supply-lost or attendant");
    }
}
