package catchbay.sim;

import java.util.Arrays;
import java.util.stream.Collectors;

/** The kinds of things that can go wrong in a stand-in bay. */
public enum FaultKind {
    /** {@code size} edges of a line are lost after the door numbered them. */
    LOST_NUMBERED("lost-numbered"),
    /** {@code size} edges of a line are lost before anything numbers them. */
    LOST_UNNUMBERED("lost-unnumbered"),
    /** {@code size} edges of a line bounce. */
    BOUNCE("bounce"),
    /** {@code size} edges of a line are followed by one that no pulse made. */
    STRAY("stray"),
    /** Nobody empties the pulse buffers. */
    READER_STALLED("reader-stalled"),
    /** Air takes the share {@code size} of what flows, on average and in bubbles. */
    AIR("air"),
    /** The flap cannot pass position {@code size}: 0 = bypass, 1 = tank. */
    DIVERTER_STUCK("diverter-stuck"),
    /** The flap takes {@code size} times as long. */
    DIVERTER_SLOW("diverter-slow"),
    /** The share {@code size} of the scale's frames cannot be read. */
    SCALE_GARBLED("scale-garbled"),
    /** The scale sends nothing. */
    SCALE_SILENT("scale-silent"),
    /** The scale's frames carry another unit. */
    SCALE_WRONG_UNIT("scale-wrong-unit"),
    /** The scale goes on sending the same value. */
    SCALE_FROZEN("scale-frozen"),
    /** The scale's indication creeps up by {@code size} kg/min. */
    SCALE_DRIFT("scale-drift"),
    /** The scale says that its load moves, all the time. */
    SCALE_MOVING("scale-moving"),
    /** The controller's total lags {@code size} seconds more. */
    CONTROLLER_LATE("controller-late"),
    /** The controller's total goes back to zero. */
    CONTROLLER_RESET("controller-reset"),
    /** The person mistypes a digit: the total is off by {@code size} steps of the display. */
    TYPO("typo"),
    /** The person transposes the last two digits of the total. */
    TRANSPOSED("transposed"),
    /** The emergency stop is pressed. */
    EMERGENCY_STOP("emergency-stop"),
    /** The tank's float comes up. */
    HIGH_LEVEL("high-level"),
    /** Liquid on the floor. */
    SPILL("spill"),
    /** The truck's meter stands still. */
    TRUCK_METER_DEAD("truck-meter-dead"),
    /** The pump can give only the share {@code 1 - size} of what it could. */
    PUMP_SAG("pump-sag"),
    /** The flow swings by the share {@code size} each way. */
    UNSTEADY("unsteady"),
    /** The reference meter over-reads by {@code size} more than its certificate says. */
    REFERENCE_OFF("reference-off");

    private final String key;

    FaultKind(String key) {
        this.key = key;
    }

    /** How settings and banners call this kind. */
    public String key() {
        return key;
    }

    /** The kind called so; fails with a sentence that lists the known ones. */
    public static FaultKind ofKey(String key) {
        for (FaultKind kind : values()) {
            if (kind.key.equals(key)) {
                return kind;
            }
        }
        String known = Arrays.stream(values()).map(FaultKind::key).collect(Collectors.joining(", "));
        throw new IllegalArgumentException("unknown fault '" + key + "'; use one of " + known);
    }
}
