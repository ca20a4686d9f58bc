package catchbay.sim;

import static catchbay.run.Outcome.Cause.CHANNELS_PART;
import static catchbay.run.Outcome.Cause.DIVERTER_MOVED;
import static catchbay.run.Outcome.Cause.DIVERTER_NOT_ARRIVED;
import static catchbay.run.Outcome.Cause.EDGES_LOST;
import static catchbay.run.Outcome.Cause.FLOW_STOPPED;
import static catchbay.run.Outcome.Cause.NOT_AT_REST;
import static catchbay.run.Outcome.Cause.NOT_SETTLED;
import static catchbay.run.Outcome.Cause.OUT_OF_RANGE;
import static catchbay.run.Outcome.Cause.PULSES_LEAP;
import static catchbay.run.Outcome.Cause.REFERENCES_DISAGREE;
import static catchbay.run.Outcome.Cause.REPORT_UNUSABLE;
import static catchbay.run.Outcome.Cause.SCALE_CHANGED;
import static catchbay.run.Outcome.Cause.SCALE_NOT_AT_REST;
import static catchbay.run.Outcome.Cause.TEMPERATURE_LOST;
import static catchbay.run.Outcome.Cause.WINDOW_UNUSABLE;

import catchbay.run.Outcome.Cause;

import java.util.Arrays;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The kinds of things that can go wrong in a stand-in bay, each with the ends to which it may lead.
 */
public enum FaultKind {
    /** {@code size} edges of a line are lost after the door numbered them. */
    LOST_NUMBERED(
            "lost-numbered",
            "edges are lost and their numbers are missing",
            EDGES_LOST,
            CHANNELS_PART, // a channel may lose so many that it is silent before the next number
            FLOW_STOPPED),
    /** {@code size} edges of a line are lost before anything numbers them. */
    LOST_UNNUMBERED(
            "lost-unnumbered",
            "edges are lost without a trace in the numbers",
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            FLOW_STOPPED),
    /** {@code size} edges of a line bounce. */
    BOUNCE(
            "bounce",
            "edges bounce",
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            OUT_OF_RANGE,
            NOT_SETTLED),
    /** {@code size} edges of a line are followed by one that no pulse made. */
    STRAY(
            "stray",
            "edges come that no pulse made",
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            OUT_OF_RANGE,
            NOT_SETTLED),
    /** Nobody empties the pulse buffers. */
    READER_STALLED(
            "reader-stalled",
            "the reader of the pulses stands still for a while",
            EDGES_LOST,
            FLOW_STOPPED,
            NOT_SETTLED,
            NOT_AT_REST,
            WINDOW_UNUSABLE),
    /** Air takes the share {@code size} of what flows, on average and in bubbles. */
    AIR(
            "air",
            "air runs through the meters with the liquid",
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            PULSES_LEAP,
            CHANNELS_PART, // a debounce takes pulses out that bubbles have pushed together
            OUT_OF_RANGE),
    /** The flap cannot pass position {@code size}: 0 = bypass, 1 = tank. */
    DIVERTER_STUCK(
            "diverter-stuck",
            "the diverter sticks",
            DIVERTER_NOT_ARRIVED,
            DIVERTER_MOVED,
            REFERENCES_DISAGREE),
    /** The flap takes {@code size} times as long, from its next move on. */
    DIVERTER_SLOW("diverter-slow", "the diverter is slow", DIVERTER_NOT_ARRIVED),
    /** The share {@code size} of the scale's frames cannot be read. */
    SCALE_GARBLED("scale-garbled", "many of the scale's frames cannot be read", Cause.SCALE_SILENT),
    /** The scale sends nothing. */
    SCALE_SILENT("scale-silent", "the scale is silent", Cause.SCALE_SILENT),
    /** The scale's frames carry another unit. */
    SCALE_WRONG_UNIT("scale-wrong-unit", "the scale shows another unit", SCALE_CHANGED),
    /** The scale goes on sending the same value. */
    SCALE_FROZEN(
            "scale-frozen",
            "the scale's value is frozen",
            NOT_AT_REST, // it thaws between the weighing and the typing of the display's total
            REFERENCES_DISAGREE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE),
    /** The scale's indication creeps up by {@code size} kg/min. */
    SCALE_DRIFT(
            "scale-drift",
            "the scale's value creeps",
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            NOT_AT_REST,
            SCALE_NOT_AT_REST),
    /** The scale says that its load moves, all the time. */
    SCALE_MOVING(
            "scale-moving",
            "the scale says that its load moves",
            NOT_SETTLED,
            NOT_AT_REST,
            SCALE_NOT_AT_REST),
    /** The controller's total lags {@code size} seconds more. */
    CONTROLLER_LATE("controller-late", "the controller's total comes late", REPORT_UNUSABLE),
    /** The controller's total goes back to zero. */
    CONTROLLER_RESET("controller-reset", "the controller's total is reset", REPORT_UNUSABLE),
    /** The person mistypes a digit: the total is off by {@code size} steps of the display. */
    TYPO("typo", "a typed total is off by a digit", REPORT_UNUSABLE),
    /** The person transposes the last two digits of the total. */
    TRANSPOSED("transposed", "two digits of a typed total are transposed", REPORT_UNUSABLE),
    /** The emergency stop is pressed. */
    EMERGENCY_STOP("emergency-stop", "the emergency stop is pressed", Cause.EMERGENCY_STOP),
    /** The tank's float comes up. */
    HIGH_LEVEL("high-level", "the tank's float comes up", Cause.HIGH_LEVEL),
    /** Liquid on the floor. */
    SPILL("spill", "liquid is on the floor", Cause.SPILL),
    /** The truck's meter stands still. */
    TRUCK_METER_DEAD(
            "truck-meter-dead",
            "the truck's meter stands still",
            NOT_SETTLED,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE,
            PULSES_LEAP,
            Cause.HIGH_LEVEL,
            Cause.OVERFILL),
    /** The pump can give only the share {@code 1 - size} of what it could. */
    PUMP_SAG("pump-sag", "the pump sags", NOT_SETTLED, OUT_OF_RANGE, REPORT_UNUSABLE),
    /** The flow swings by the share {@code size} each way. */
    UNSTEADY("unsteady", "the flow swings", NOT_SETTLED, OUT_OF_RANGE, REPORT_UNUSABLE),
    /** The reference meter over-reads by {@code size} more than its certificate says. */
    REFERENCE_OFF(
            "reference-off",
            "the reference meter has moved away from its certificate",
            REFERENCES_DISAGREE),
    /** A line gives no edge any more. */
    LINE_DEAD(
            "line-dead",
            "a pulse line is dead",
            CHANNELS_PART,
            FLOW_STOPPED,
            NOT_SETTLED,
            REFERENCES_DISAGREE,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE),
    /** No thermometer tells anything. */
    THERMOMETER_SILENT("thermometer-silent", "the thermometers are silent", TEMPERATURE_LOST),
    /** The share {@code size} of the thermometers' readings has a wrong check sum. */
    THERMOMETER_GARBLED(
            "thermometer-garbled", "many readings of thermometers are garbled", TEMPERATURE_LOST),
    /** The thermometers show what they hold before their first conversion. */
    THERMOMETER_POWER_ON(
            "thermometer-power-on", "the thermometers have lost their supply", TEMPERATURE_LOST),
    /** The next reading of each thermometer is off by {@code size} kelvin. */
    THERMOMETER_SPIKE(
            "thermometer-spike", "a reading of the thermometers is off", TEMPERATURE_LOST);

    private final String key;
    private final String words;
    private final Set<Cause> causes;

    FaultKind(String key, String words, Cause... causes) {
        this.key = key;
        this.words = words;
        this.causes = Collections.unmodifiableSet(EnumSet.copyOf(List.of(causes)));
    }

    /** How settings and banners call this kind. */
    public String key() {
        return key;
    }

    /** What goes wrong, in words. */
    public String words() {
        return words;
    }

    /**
     * The causes for which a catch with this fault may be void; any other would be a false alarm.
     */
    public Set<Cause> causes() {
        return causes;
    }

    /** The kind called so; fails with a sentence that lists the known ones. */
    public static FaultKind ofKey(String key) {
        for (FaultKind kind : values()) {
            if (kind.key.equals(key)) {
                return kind;
            }
        }
        String known =
                Arrays.stream(values()).map(FaultKind::key).collect(Collectors.joining(", "));
        throw new IllegalArgumentException("unknown fault '" + key + "'; use one of " + known);
    }
}
