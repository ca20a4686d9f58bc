package catchbay.run;

/** An end of the range of flow in which a truck can be told what to put down. */
public enum RangeEnd {
    /** Below it the truck's meter no longer counts. */
    LOW("low"),
    /** Above it the pump gives no more, whatever is asked. */
    HIGH("high");

    private final String key;

    RangeEnd(String key) {
        this.key = key;
    }

    /** How records and commands call it. */
    public String key() {
        return key;
    }
}
