package catchbay.sim;

import static catchbay.run.Outcome.Cause.ATTENDANT_ABSENT;
import static catchbay.run.Outcome.Cause.CHANNELS_PART;
import static catchbay.run.Outcome.Cause.DIVERTER_MOVED;
import static catchbay.run.Outcome.Cause.DIVERTER_NOT_ARRIVED;
import static catchbay.run.Outcome.Cause.EDGES_LOST;
import static catchbay.run.Outcome.Cause.FLOW_STOPPED;
import static catchbay.run.Outcome.Cause.FLOW_UNCOMMANDED;
import static catchbay.run.Outcome.Cause.LEAK;
import static catchbay.run.Outcome.Cause.NOT_AT_REST;
import static catchbay.run.Outcome.Cause.NOT_SETTLED;
import static catchbay.run.Outcome.Cause.NO_ANSWER;
import static catchbay.run.Outcome.Cause.NO_FLOW;
import static catchbay.run.Outcome.Cause.OUT_OF_RANGE;
import static catchbay.run.Outcome.Cause.OVERFILL;
import static catchbay.run.Outcome.Cause.PORT_FAILED;
import static catchbay.run.Outcome.Cause.PULSES_LEAP;
import static catchbay.run.Outcome.Cause.REFERENCES_DISAGREE;
import static catchbay.run.Outcome.Cause.REPORT_UNUSABLE;
import static catchbay.run.Outcome.Cause.SCALE_CHANGED;
import static catchbay.run.Outcome.Cause.SCALE_NOT_AT_REST;
import static catchbay.run.Outcome.Cause.TANK_NOT_EMPTIED;
import static catchbay.run.Outcome.Cause.TEMPERATURE_LOST;
import static catchbay.run.Outcome.Cause.TRACE_FAILED;
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
            Cause.RUNAWAY, // of the truck's line: flow that its meter seems not to see
            EDGES_LOST,
            CHANNELS_PART, // a channel may lose so many that it is silent before the next number
            FLOW_STOPPED),
    /** {@code size} edges of a line are lost before anything numbers them. */
    LOST_UNNUMBERED(
            "lost-unnumbered",
            "edges are lost without a trace in the numbers",
            Cause.RUNAWAY,
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            FLOW_STOPPED),
    /** {@code size} edges of a line bounce. */
    BOUNCE(
            "bounce",
            "edges bounce",
            Cause.RUNAWAY,
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            OUT_OF_RANGE,
            NOT_SETTLED),
    /** {@code size} edges of a line are followed by one that no pulse made. */
    STRAY(
            "stray",
            "edges come that no pulse made",
            Cause.RUNAWAY, // as many again as pulses
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
            Cause.SCALE_FROZEN,
            NO_FLOW,
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
            Cause.SCALE_FROZEN,
            TANK_NOT_EMPTIED,
            NO_FLOW,
            NOT_AT_REST, // it thaws between the weighing and the typing of the display's total
            REFERENCES_DISAGREE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE),
    /** The scale's indication creeps up by {@code size} kg/min. */
    SCALE_DRIFT(
            "scale-drift",
            "the scale's value creeps",
            TANK_NOT_EMPTIED, // it creeps up by more than runs out of a tank with little in it
            LEAK,
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
            NO_FLOW,
            Cause.RUNAWAY,
            NOT_SETTLED,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE,
            PULSES_LEAP,
            Cause.HIGH_LEVEL,
            Cause.OVERFILL),
    /** The pump can give only the share {@code 1 - size} of what it could. */
    PUMP_SAG(
            "pump-sag",
            "the pump sags",
            Cause.RUNAWAY, // the controller has opened its valve for it when it recovers
            NOT_SETTLED,
            OUT_OF_RANGE,
            REPORT_UNUSABLE),
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
            NO_FLOW,
            Cause.RUNAWAY,
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
            "thermometer-spike", "a reading of the thermometers is off", TEMPERATURE_LOST),
    /** Every {@code size}th edge of a line is lost before anything numbers it. */
    LOST_EVERY(
            "lost-every",
            "every so manieth edge is lost without a trace in the numbers",
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            OUT_OF_RANGE),
    /** Edges that no pulse made come to a line at {@code size} hertz, at moments of their own. */
    LINE_NOISE(
            "line-noise",
            "a line picks up edges that no pulse made",
            PULSES_LEAP,
            CHANNELS_PART,
            REFERENCES_DISAGREE,
            OUT_OF_RANGE,
            NOT_SETTLED,
            NOT_AT_REST,
            WINDOW_UNUSABLE,
            FLOW_UNCOMMANDED,
            LEAK,
            Cause.OVERFILL, // of a tank whose room is known
            Cause.RUNAWAY),
    /** The reference meter counts the share {@code size} of the asked flow with nothing flowing. */
    GHOST_FLOW(
            "ghost-flow",
            "the reference meter counts flow that is not there",
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            NOT_AT_REST,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            FLOW_UNCOMMANDED,
            PULSES_LEAP,
            LEAK,
            Cause.RUNAWAY),
    /** The truck's tank runs dry: air, then nothing. */
    TRUCK_DRY(
            "truck-dry",
            "the truck's tank runs dry",
            FLOW_STOPPED,
            NO_FLOW,
            NOT_SETTLED,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE,
            PULSES_LEAP,
            CHANNELS_PART,
            Cause.SCALE_FROZEN,
            Cause.RUNAWAY,
            REFERENCES_DISAGREE),
    /** The truck's controller opens its valve fully as long as it is asked for anything. */
    RUNAWAY(
            "runaway",
            "the truck's controller opens its valve fully",
            Cause.RUNAWAY,
            NOT_SETTLED,
            OUT_OF_RANGE,
            OVERFILL,
            Cause.HIGH_LEVEL,
            PULSES_LEAP,
            REPORT_UNUSABLE),
    /** The truck's valve stays where it stands. */
    VALVE_STUCK(
            "valve-stuck",
            "the truck's valve stays where it stands",
            Cause.RUNAWAY, // what the controller has made up for in vain comes when it is free
            FLOW_UNCOMMANDED,
            LEAK,
            NO_FLOW,
            NOT_AT_REST,
            NOT_SETTLED,
            SCALE_NOT_AT_REST,
            Cause.SCALE_FROZEN,
            OVERFILL,
            Cause.HIGH_LEVEL,
            FLOW_STOPPED,
            OUT_OF_RANGE,
            WINDOW_UNUSABLE,
            REPORT_UNUSABLE),
    /** The catch tank loses {@code size} litres a second. */
    TANK_LEAK(
            "tank-leak",
            "the catch tank leaks",
            LEAK,
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            NOT_AT_REST,
            SCALE_NOT_AT_REST,
            REPORT_UNUSABLE,
            NO_FLOW,
            WINDOW_UNUSABLE,
            Cause.SCALE_FROZEN),
    /** The share {@code size} of the asked amount gets into the catch tank past every meter. */
    STRAY_LIQUID(
            "stray-liquid",
            "liquid gets into the catch tank past the meters",
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            NOT_AT_REST,
            REPORT_UNUSABLE,
            SCALE_NOT_AT_REST),
    /** The liquid is heavier than the setup says by the share {@code size}. */
    WRONG_LIQUID(
            "wrong-liquid",
            "the liquid is another than the setup says",
            REFERENCES_DISAGREE,
            REPORT_UNUSABLE,
            WINDOW_UNUSABLE,
            OVERFILL),
    /** The drain stays shut. */
    DRAIN_STUCK(
            "drain-stuck",
            "the catch tank's drain does not open",
            TANK_NOT_EMPTIED,
            OVERFILL,
            Cause.HIGH_LEVEL),
    /** The controller's line sends nothing. */
    CONTROLLER_SILENT("controller-silent", "the controller's line is silent", REPORT_UNUSABLE),
    /** The adapter of the controller's line is gone. */
    CONTROLLER_UNPLUGGED("controller-unplugged", "the controller's adapter is gone", PORT_FAILED),
    /** Totals are typed in imperial gallons. */
    IMPERIAL_GALLONS("imperial-gallons", "a total is typed in imperial gallons", REPORT_UNUSABLE),
    /** The total typed next is the one before. */
    PREVIOUS_TOTAL("previous-total", "the total before is typed again", REPORT_UNUSABLE),
    /** The truck's meter makes {@code 1 + size} times its pulses. */
    TRUCK_METER_OFF(
            "truck-meter-off",
            "the truck's meter has changed",
            NOT_SETTLED,
            REPORT_UNUSABLE,
            PULSES_LEAP),
    /** One nozzle of several is clogged, and the others give what it does not. */
    NOZZLE_CLOGGED("nozzle-clogged", "a nozzle is clogged with the total unchanged", NOT_SETTLED),
    /** Somebody leans on the tank with {@code size} kilograms. */
    SCALE_LEANT_ON(
            "scale-leant-on",
            "somebody leans on the tank",
            REFERENCES_DISAGREE,
            NOT_SETTLED,
            NOT_AT_REST,
            SCALE_NOT_AT_REST,
            REPORT_UNUSABLE,
            WINDOW_UNUSABLE,
            TANK_NOT_EMPTIED,
            LEAK,
            NO_FLOW,
            Cause.SCALE_FROZEN,
            OVERFILL),
    /** Every frame of the scale comes twice. */
    SCALE_DOUBLED("scale-doubled", "every frame of the scale comes twice", SCALE_NOT_AT_REST),
    /** The scale never says that its load moves. */
    SCALE_MOTION_UNTOLD(
            "scale-motion-untold", "the scale never says that its load moves", REFERENCES_DISAGREE),
    /** The scale says that its load is above its capacity. */
    SCALE_OVERLOADED(
            "scale-overloaded",
            "the scale says that it is overloaded",
            Cause.SCALE_SILENT,
            TANK_NOT_EMPTIED,
            NO_FLOW,
            OVERFILL),
    /** The adapter of the scale is gone. */
    SCALE_UNPLUGGED("scale-unplugged", "the scale's adapter is gone", PORT_FAILED),
    /** The whole program stands still. */
    PROGRAM_STALLED(
            "program-stalled",
            "the whole program stands still for a while",
            PORT_FAILED,
            EDGES_LOST,
            FLOW_STOPPED,
            NOT_SETTLED,
            NOT_AT_REST,
            WINDOW_UNUSABLE,
            DIVERTER_NOT_ARRIVED,
            Cause.SCALE_SILENT,
            REPORT_UNUSABLE,
            PORT_FAILED,
            NO_FLOW),
    /** The computer loses its power. */
    POWER_CUT("power-cut", "the computer's power is cut", PORT_FAILED),
    /** The trace cannot be written any more. */
    DISK_FULL("disk-full", "the disk takes nothing more", TRACE_FAILED),
    /** The contact of the bay's own supply says that it is lost. */
    SUPPLY_LOST("supply-lost", "the bay's own supply is lost", Cause.SUPPLY_LOST),
    /** The attendant has gone. */
    ATTENDANT_GONE(
            "attendant-gone",
            "the attendant has gone",
            ATTENDANT_ABSENT,
            NO_ANSWER,
            Cause.HIGH_LEVEL,
            OVERFILL);

    private final String key;
    private final String words;
    private final Set<Cause> causes;

    FaultKind(String key, String words, Cause... causes) {
        this.key = key;
        this.words = words;
        this.causes = Collections.unmodifiableSet(EnumSet.copyOf(List.of(causes)));
    }

    /** Where a fault comes from. */
    public enum Group {
        /** Pulses and the lines that carry them. */
        PULSES("Pulses and their lines"),
        /** Liquid, hydraulics and tank. */
        LIQUID("Liquid, hydraulics and tank"),
        /** The truck's controller, its meter, and who reads its display. */
        CONTROLLER("The truck's controller and display"),
        /** The scale and its line. */
        SCALE("The scale and its line"),
        /** The bay itself: its contacts, its computer, its thermometers, its people. */
        BAY("The bay's contacts, computer and people");

        private final String words;

        Group(String words) {
            this.words = words;
        }

        /** What a table calls it. */
        public String words() {
            return words;
        }
    }

    /** Where a fault of this kind comes from. */
    public Group group() {
        return switch (this) {
            case LOST_NUMBERED,
                    LOST_UNNUMBERED,
                    LOST_EVERY,
                    BOUNCE,
                    STRAY,
                    LINE_NOISE,
                    LINE_DEAD,
                    READER_STALLED ->
                    Group.PULSES;
            case AIR,
                    GHOST_FLOW,
                    REFERENCE_OFF,
                    PUMP_SAG,
                    UNSTEADY,
                    TRUCK_DRY,
                    RUNAWAY,
                    VALVE_STUCK,
                    TANK_LEAK,
                    STRAY_LIQUID,
                    WRONG_LIQUID,
                    DRAIN_STUCK,
                    DIVERTER_STUCK,
                    DIVERTER_SLOW,
                    NOZZLE_CLOGGED ->
                    Group.LIQUID;
            case CONTROLLER_LATE,
                    CONTROLLER_RESET,
                    CONTROLLER_SILENT,
                    CONTROLLER_UNPLUGGED,
                    TYPO,
                    TRANSPOSED,
                    IMPERIAL_GALLONS,
                    PREVIOUS_TOTAL,
                    TRUCK_METER_DEAD,
                    TRUCK_METER_OFF ->
                    Group.CONTROLLER;
            case SCALE_GARBLED,
                    SCALE_SILENT,
                    SCALE_WRONG_UNIT,
                    SCALE_FROZEN,
                    SCALE_DRIFT,
                    SCALE_MOVING,
                    SCALE_LEANT_ON,
                    SCALE_DOUBLED,
                    SCALE_MOTION_UNTOLD,
                    SCALE_OVERLOADED,
                    SCALE_UNPLUGGED ->
                    Group.SCALE;
            case EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    SUPPLY_LOST,
                    ATTENDANT_GONE,
                    THERMOMETER_SILENT,
                    THERMOMETER_GARBLED,
                    THERMOMETER_POWER_ON,
                    THERMOMETER_SPIKE,
                    PROGRAM_STALLED,
                    POWER_CUT,
                    DISK_FULL ->
                    Group.BAY;
        };
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
