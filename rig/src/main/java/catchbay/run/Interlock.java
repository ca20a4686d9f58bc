package catchbay.run;

import catchbay.run.Outcome.Cause;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * What ends a run whatever it is doing. In every step each of them is looked at, in this order,
 * before anything else; the first that acts puts the bay into its safe state in the same step.
 */
public enum Interlock {
    /** The trace cannot be written. */
    TRACE_FAILED(
            Cause.TRACE_FAILED,
            "nothing",
            "the turn in which the writer says so",
            Interlocks::traceFailed),
    /** A port failed: a pulse line that overflows or is gone, an output, a serial line. */
    PORT_FAILED(
            Cause.PORT_FAILED,
            "nothing",
            "the turn in which the port says so",
            Interlocks::portFailed),
    /** The emergency stop is pressed, or its wire is broken. */
    EMERGENCY_STOP(
            Cause.EMERGENCY_STOP, "contact emergency-stop", "one turn", Interlocks::emergencyStop),
    /** The catch tank's float is up. */
    HIGH_LEVEL(Cause.HIGH_LEVEL, "contact high-level", "one turn", Interlocks::highLevel),
    /** Liquid on the floor. */
    SPILL(Cause.SPILL, "contact spill", "one turn", Interlocks::spill),
    /** The bay's own supply is lost. */
    SUPPLY_LOST(Cause.SUPPLY_LOST, "contact supply-lost", "one turn", Interlocks::supplyLost),
    /** The scale changed its unit or its net/gross state. */
    SCALE_CHANGED(Cause.SCALE_CHANGED, "scale", "one turn", Interlocks::scaleChanged),
    /** More in the tank than the scale or the tank may hold. */
    OVERFILL(
            Cause.OVERFILL,
            "scale; its tank's room needs a sweep, and then the reference does as well",
            "one turn after the weight or the pulse",
            Interlocks::overfill),
    /** Pressure at the coupler above its limit. */
    PRESSURE_HIGH(
            Cause.PRESSURE_HIGH,
            "gauge at the coupler, guard.pressure_most",
            "one turn after the reading",
            Interlocks::pressureHigh),
    /** The liquid is colder or warmer than is allowed. */
    TEMPERATURE_OUTSIDE(
            Cause.TEMPERATURE_OUTSIDE,
            "thermometer in the liquid, guard.liquid_least or guard.liquid_most",
            "one turn after the reading",
            Interlocks::temperatureOutside),
    /** The disk is nearly full. */
    DISK_LOW(Cause.DISK_LOW, "guard", "10 s", Interlocks::diskLow),
    /** Nobody showed to be there. */
    ATTENDANT_ABSENT(
            Cause.ATTENDANT_ABSENT,
            "sweep without a hand",
            "one turn after the interval",
            Interlocks::attendantAbsent),
    /** The catch takes longer than it may. */
    TIME_LIMIT(Cause.TIME_LIMIT, "guard", "one turn after the limit", Interlocks::timeLimit),
    /** A line cannot be counted any more. */
    WINDOW_UNUSABLE(
            Cause.WINDOW_UNUSABLE,
            "a pulse line",
            "one turn, while the window is open",
            Interlocks::uncountable),
    /** The door's numbers skip. */
    EDGES_LOST(
            Cause.EDGES_LOST,
            "a pulse line",
            "one turn, while the window is open",
            Interlocks::edgesLost),
    /** The two channels of the reference meter do not tell the same. */
    CHANNELS_PART(
            Cause.CHANNELS_PART,
            "reference with two channels",
            "one turn, while the window is open",
            Interlocks::channelsPart),
    /** The scale sends nothing. */
    SCALE_SILENT(
            Cause.SCALE_SILENT,
            "scale",
            "scale.silent_seconds (2 s), while liquid may flow",
            Interlocks::scaleSilent),
    /** Flow ended during the catch: the truck has run dry, its pump or a wire has failed. */
    FLOW_STOPPED(
            Cause.FLOW_STOPPED,
            "reference, flying catch",
            "5 of the longest certified spacings, 2 s at least",
            Interlocks::flowStopped),
    /** The diverter did not arrive in time. */
    DIVERTER_NOT_ARRIVED(
            Cause.DIVERTER_NOT_ARRIVED,
            "diverter",
            "diverter.travel_limit_seconds (3 s)",
            Interlocks::diverterNotArrived),
    /** The tank was to be emptied and was not. */
    TANK_NOT_EMPTIED(
            Cause.TANK_NOT_EMPTIED,
            "scale, sweep",
            "one turn after the tank's drain and drip",
            Interlocks::tankNotEmptied),
    /** Flow was started and did not come. */
    NO_FLOW(
            Cause.NO_FLOW,
            "guard, reference or tap or scale",
            "guard.no_flow_seconds (15 s)",
            Interlocks::noFlow),
    /** The scale does not rise while liquid runs into the tank. */
    SCALE_FROZEN(
            Cause.SCALE_FROZEN,
            "guard, reference and scale",
            "8 s, or as long as ten steps of the scale take if that is longer",
            Interlocks::scaleFrozen),
    /** Liquid flows that nobody started, or that was stopped. */
    FLOW_UNCOMMANDED(
            Cause.FLOW_UNCOMMANDED,
            "guard, reference",
            "guard.run_out_seconds (5 s) and 4 s",
            Interlocks::flowUncommanded),
    /** The tank grows lighter, or a little flows, with everything shut. */
    LEAK(
            Cause.LEAK,
            "guard, scale or reference",
            "the turn in which the scale rests, or guard.run_out_seconds (5 s) and 4 s",
            Interlocks::leak),
    /** Far more flows than is asked, or the truck's meter does not see it. */
    RUNAWAY(
            Cause.RUNAWAY,
            "guard, reference",
            "4 s; of a silent truck meter as long as guard.truck_pulses_missed (10) take",
            Interlocks::runaway);

    /** How an interlock is seen to act. */
    interface Check {
        /** Why the run must end, as a sentence; empty while all is well. */
        Optional<String> on(RunState state, RunInput input);
    }

    private final Cause cause;
    private final String needs;
    private final String within;
    private final Check check;

    Interlock(Cause cause, String needs, String within, Check check) {
        this.cause = cause;
        this.needs = needs;
        this.within = within;
        this.check = check;
    }

    /** What a run that it ends is void by. */
    public Cause cause() {
        return cause;
    }

    /** What must be fitted or set for it, in words. */
    public String needs() {
        return needs;
    }

    /** Within what time it acts, in words. */
    public String within() {
        return within;
    }

    /**
     * Whether a person must acknowledge it before anything moves again. Of a count that is not
     * worth anything nobody is in danger: that catch may be made again.
     */
    public boolean acknowledged() {
        return switch (this) {
            case WINDOW_UNUSABLE, EDGES_LOST, CHANNELS_PART -> false;
            case TRACE_FAILED,
                    PORT_FAILED,
                    EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    SUPPLY_LOST,
                    SCALE_CHANGED,
                    OVERFILL,
                    PRESSURE_HIGH,
                    TEMPERATURE_OUTSIDE,
                    DISK_LOW,
                    ATTENDANT_ABSENT,
                    TIME_LIMIT,
                    SCALE_SILENT,
                    FLOW_STOPPED,
                    DIVERTER_NOT_ARRIVED,
                    TANK_NOT_EMPTIED,
                    NO_FLOW,
                    SCALE_FROZEN,
                    FLOW_UNCOMMANDED,
                    LEAK,
                    RUNAWAY ->
                    true;
        };
    }

    /** The interlock by which a run is void so; empty where it was none. */
    public static Optional<Interlock> of(Cause cause) {
        return Arrays.stream(values()).filter(lock -> lock.cause == cause).findFirst();
    }

    /** How the run must end; empty while all is well. */
    static Optional<Outcome> first(RunState state, RunInput input) {
        if (input instanceof RunInput.StopPressed(long at, String by)) {
            return Optional.of(new Outcome.Stopped(by));
        }
        for (Interlock lock : LOOKING.getOrDefault(input.getClass(), NONE)) {
            Optional<String> sentence = lock.check.on(state, input);
            if (sentence.isPresent()) {
                return Optional.of(new Outcome.Void(lock.cause, sentence.get()));
            }
        }
        return Optional.empty();
    }

    private static final Interlock[] NONE = {};

    /** Those that look at an input, by what it is: a run has many that few of them look at. */
    private static final Map<Class<?>, Interlock[]> LOOKING =
            Arrays.stream(values())
                    .flatMap(lock -> lock.looksAt().stream())
                    .distinct()
                    .collect(
                            Collectors.toUnmodifiableMap(
                                    Function.identity(),
                                    input ->
                                            Arrays.stream(values())
                                                    .filter(lock -> lock.looksAt().contains(input))
                                                    .toArray(Interlock[]::new)));

    private List<Class<? extends RunInput>> looksAt() {
        return switch (this) {
            case TRACE_FAILED -> List.of(RunInput.TraceFailed.class);
            case PORT_FAILED -> List.of(RunInput.PortFailed.class);
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST -> List.of(RunInput.Contact.class);
            case SCALE_CHANGED -> List.of(RunInput.Scale.class);
            // The room is held against the scale's weights and the reference's pulses.
            case OVERFILL -> List.of(RunInput.Scale.class, RunInput.Turn.class);
            case PRESSURE_HIGH -> List.of(RunInput.CouplerPressure.class);
            case TEMPERATURE_OUTSIDE -> List.of(RunInput.Thermometer.class);
            case DISK_LOW -> List.of(RunInput.DiskFree.class);
            case ATTENDANT_ABSENT,
                    TIME_LIMIT,
                    WINDOW_UNUSABLE,
                    EDGES_LOST,
                    CHANNELS_PART,
                    SCALE_SILENT,
                    FLOW_STOPPED,
                    DIVERTER_NOT_ARRIVED,
                    TANK_NOT_EMPTIED,
                    NO_FLOW,
                    SCALE_FROZEN,
                    FLOW_UNCOMMANDED,
                    LEAK,
                    RUNAWAY ->
                    List.of(RunInput.Turn.class);
        };
    }
}
