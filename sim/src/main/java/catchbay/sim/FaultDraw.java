package catchbay.sim;

import catchbay.run.Part;
import catchbay.run.RunSetup;
import catchbay.signal.PulseLine;

import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;

/**
 * Draws the faults of a seed: first whole kinds are switched off, then one to three are drawn from
 * those left. No more than one of them shifts an instrument, since two can hide each other and no
 * bay could tell. Spans are illustrative.
 */
final class FaultDraw {

    static final int FAULTS_MAX = 3;

    private final int most;

    private final Scenario scenario;
    private final RandomGenerator random;

    private FaultDraw(Scenario scenario, int most) {
        this.most = most;
        this.scenario = scenario;
        this.random = new Streams(scenario.options().seed()).of(Streams.Subsystem.FAULTS);
    }

    static List<Fault> of(Scenario scenario, int most) {
        return new FaultDraw(scenario, most).draw();
    }

    private List<Fault> draw() {
        List<FaultKind> on = new ArrayList<>();
        for (FaultKind kind : FaultKind.values()) {
            boolean kept = random.nextDouble() < (ends(kind) ? 0.15 : 0.5);
            if (kept && applies(kind)) {
                on.add(kind);
            }
        }
        List<Fault> faults = new ArrayList<>();
        boolean shifted = false;
        int wanted = random.nextInt(1, most + 1);
        while (faults.size() < wanted && !on.isEmpty()) {
            FaultKind kind = on.remove(random.nextInt(on.size()));
            Fault fault = fault(kind);
            if (!shifts(kind) || !shifted) {
                faults.add(fault);
                shifted |= shifts(kind);
            }
        }
        return faults;
    }

    /**
     * Whether a fault of the kind nearly always ends the run, so that nothing is learned of others
     * beside it.
     */
    private static boolean ends(FaultKind kind) {
        return switch (kind) {
            case EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    SUPPLY_LOST,
                    POWER_CUT,
                    DISK_FULL,
                    SCALE_SILENT,
                    SCALE_OVERLOADED,
                    SCALE_UNPLUGGED,
                    CONTROLLER_UNPLUGGED,
                    SCALE_WRONG_UNIT ->
                    true;
            case LOST_NUMBERED,
                    LOST_UNNUMBERED,
                    BOUNCE,
                    STRAY,
                    READER_STALLED,
                    AIR,
                    DIVERTER_STUCK,
                    DIVERTER_SLOW,
                    SCALE_GARBLED,
                    SCALE_FROZEN,
                    SCALE_DRIFT,
                    SCALE_MOVING,
                    CONTROLLER_LATE,
                    CONTROLLER_RESET,
                    TYPO,
                    TRANSPOSED,
                    TRUCK_METER_DEAD,
                    PUMP_SAG,
                    UNSTEADY,
                    REFERENCE_OFF,
                    LINE_DEAD,
                    THERMOMETER_SILENT,
                    THERMOMETER_GARBLED,
                    THERMOMETER_POWER_ON,
                    THERMOMETER_SPIKE,
                    LOST_EVERY,
                    LINE_NOISE,
                    GHOST_FLOW,
                    TRUCK_DRY,
                    RUNAWAY,
                    VALVE_STUCK,
                    TANK_LEAK,
                    STRAY_LIQUID,
                    WRONG_LIQUID,
                    DRAIN_STUCK,
                    CONTROLLER_SILENT,
                    IMPERIAL_GALLONS,
                    PREVIOUS_TOTAL,
                    TRUCK_METER_OFF,
                    NOZZLE_CLOGGED,
                    SCALE_LEANT_ON,
                    SCALE_DOUBLED,
                    SCALE_MOTION_UNTOLD,
                    PROGRAM_STALLED,
                    ATTENDANT_GONE ->
                    false;
        };
    }

    private boolean applies(FaultKind kind) {
        RunSetup setup = scenario.setup();
        return switch (kind) {
            case DIVERTER_STUCK, DIVERTER_SLOW -> setup.diverter().isPresent();
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
                    SCALE_UNPLUGGED,
                    TANK_LEAK,
                    STRAY_LIQUID,
                    WRONG_LIQUID ->
                    setup.scale().isPresent();
            case DRAIN_STUCK -> emptied(setup);
            case ATTENDANT_GONE -> setup.part().flatMap(Part::presence).isPresent();
            case REFERENCE_OFF, GHOST_FLOW -> setup.reference().isPresent();
            case THERMOMETER_SILENT, THERMOMETER_GARBLED, THERMOMETER_POWER_ON, THERMOMETER_SPIKE ->
                    !setup.doubts().temperatures().sensors().places().isEmpty();
            case CONTROLLER_LATE, CONTROLLER_RESET ->
                    !(setup.reported() instanceof RunSetup.Reported.MeterPulses);
            case CONTROLLER_SILENT, CONTROLLER_UNPLUGGED ->
                    setup.reported() instanceof RunSetup.Reported.RunningLine;
            case TYPO, TRANSPOSED, IMPERIAL_GALLONS, PREVIOUS_TOTAL ->
                    setup.reported() instanceof RunSetup.Reported.Display;
            case LOST_NUMBERED,
                    LOST_UNNUMBERED,
                    BOUNCE,
                    STRAY,
                    READER_STALLED,
                    AIR,
                    EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    TRUCK_METER_DEAD,
                    PUMP_SAG,
                    UNSTEADY,
                    LINE_DEAD,
                    LOST_EVERY,
                    LINE_NOISE,
                    TRUCK_DRY,
                    RUNAWAY,
                    VALVE_STUCK,
                    TRUCK_METER_OFF,
                    NOZZLE_CLOGGED,
                    PROGRAM_STALLED,
                    POWER_CUT,
                    DISK_FULL,
                    SUPPLY_LOST ->
                    true;
        };
    }

    /** Whether the tank is emptied before the catch, and anybody sees whether it is. */
    private static boolean emptied(RunSetup setup) {
        return setup.scale().isPresent()
                && setup.part().filter(part -> part.emptyNanos() > 0).isPresent();
    }

    /** Whether a fault of the kind can make an instrument read wrong without a sign of its own. */
    private static boolean shifts(FaultKind kind) {
        return switch (kind) {
            case LOST_UNNUMBERED,
                    BOUNCE,
                    STRAY,
                    AIR,
                    DIVERTER_STUCK,
                    SCALE_FROZEN,
                    SCALE_DRIFT,
                    REFERENCE_OFF,
                    LINE_DEAD,
                    LOST_EVERY,
                    LINE_NOISE,
                    GHOST_FLOW,
                    TANK_LEAK,
                    STRAY_LIQUID,
                    WRONG_LIQUID,
                    SCALE_LEANT_ON,
                    TRUCK_DRY,
                    SCALE_MOTION_UNTOLD ->
                    true;
            case LOST_NUMBERED,
                    READER_STALLED,
                    DIVERTER_SLOW,
                    SCALE_GARBLED,
                    SCALE_SILENT,
                    SCALE_WRONG_UNIT,
                    SCALE_MOVING,
                    CONTROLLER_LATE,
                    CONTROLLER_RESET,
                    TYPO,
                    TRANSPOSED,
                    EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    TRUCK_METER_DEAD,
                    PUMP_SAG,
                    UNSTEADY,
                    THERMOMETER_SILENT,
                    THERMOMETER_GARBLED,
                    THERMOMETER_POWER_ON,
                    THERMOMETER_SPIKE,
                    RUNAWAY,
                    VALVE_STUCK,
                    DRAIN_STUCK,
                    CONTROLLER_SILENT,
                    CONTROLLER_UNPLUGGED,
                    IMPERIAL_GALLONS,
                    PREVIOUS_TOTAL,
                    TRUCK_METER_OFF,
                    NOZZLE_CLOGGED,
                    SCALE_DOUBLED,
                    SCALE_OVERLOADED,
                    SCALE_UNPLUGGED,
                    PROGRAM_STALLED,
                    POWER_CUT,
                    DISK_FULL,
                    SUPPLY_LOST,
                    ATTENDANT_GONE ->
                    false;
        };
    }

    private Fault fault(FaultKind kind) {
        double catchSeconds = scenario.setup().plan().catchNanos() / 1e9;
        boolean early = random.nextDouble() < 0.2;
        double after = early ? between(0, 30) : between(0, 0.9) * catchSeconds;
        double length = random.nextBoolean() ? 0 : between(0.5, catchSeconds);
        PulseLine line = line();
        double size = size(kind);
        double lasts = lasts(kind, length);
        if (standing(kind)) {
            return new Fault(kind, Fault.Since.RUN, 0, 0, size, line);
        }
        return new Fault(
                kind,
                early ? Fault.Since.RUN : Fault.Since.CATCH,
                Scenario.seconds(after),
                Scenario.seconds(lasts),
                size,
                line);
    }

    /** A stall must end, and a valve that sticks be shut by the person at the truck. */
    private double lasts(FaultKind kind, double length) {
        boolean ends =
                kind == FaultKind.READER_STALLED
                        || kind == FaultKind.PROGRAM_STALLED
                        || kind == FaultKind.VALVE_STUCK;
        return ends ? between(0.05, kind == FaultKind.VALVE_STUCK ? 20 : 6) : length;
    }

    /** What is so before the run begins, and stays so. */
    private static boolean standing(FaultKind kind) {
        return kind == FaultKind.WRONG_LIQUID
                || kind == FaultKind.DRAIN_STUCK
                || kind == FaultKind.NOZZLE_CLOGGED
                || kind == FaultKind.SCALE_MOTION_UNTOLD;
    }

    private PulseLine line() {
        double drawn = random.nextDouble();
        boolean tapped = scenario.setup().reported() instanceof RunSetup.Reported.MeterPulses;
        if (drawn < 0.25 && tapped) {
            return PulseLine.TRUCK;
        }
        if (drawn > 0.9) {
            return PulseLine.SPEED;
        }
        boolean paired =
                scenario.setup().reference().filter(RunSetup.Reference::twoChannels).isPresent();
        return paired && drawn > 0.6 ? PulseLine.REFERENCE_SECOND : PulseLine.REFERENCE;
    }

    private double size(FaultKind kind) {
        double drawn = random.nextDouble();
        return switch (kind) {
            case LOST_NUMBERED, LOST_UNNUMBERED, BOUNCE, STRAY ->
                    Math.rint(StrictMath.pow(200, drawn));
            case AIR, REFERENCE_OFF -> 0.002 + 0.1 * drawn;
            case DIVERTER_STUCK -> drawn < 0.35 ? 0 : drawn < 0.7 ? 1 : drawn;
            case DIVERTER_SLOW -> 1 + 15 * drawn;
            case SCALE_GARBLED, THERMOMETER_GARBLED -> 0.2 + 0.75 * drawn;
            case THERMOMETER_SPIKE -> 6 + 20 * drawn;
            case SCALE_DRIFT -> 5 * drawn;
            case CONTROLLER_LATE -> 4 * drawn;
            case TYPO -> Math.rint(1 + 200 * drawn);
            case PUMP_SAG -> 0.1 + 0.7 * drawn;
            case UNSTEADY -> 0.01 + 0.3 * drawn;
            case LOST_EVERY -> Math.rint(3 + 60 * drawn);
            case LINE_NOISE -> StrictMath.pow(10, -1 + 3 * drawn);
            case GHOST_FLOW -> 0.003 + 0.2 * drawn;
            case TANK_LEAK -> 0.001 + 0.1 * drawn * drawn;
            case STRAY_LIQUID -> 0.001 + 0.1 * drawn * drawn;
            case WRONG_LIQUID -> 0.002 + 0.18 * drawn * drawn;
            case SCALE_LEANT_ON -> 0.05 + 20 * drawn * drawn;
            case TRUCK_METER_OFF -> 0.1 * drawn;
            case READER_STALLED,
                    TRUCK_DRY,
                    RUNAWAY,
                    VALVE_STUCK,
                    DRAIN_STUCK,
                    CONTROLLER_SILENT,
                    CONTROLLER_UNPLUGGED,
                    IMPERIAL_GALLONS,
                    PREVIOUS_TOTAL,
                    NOZZLE_CLOGGED,
                    SCALE_DOUBLED,
                    SCALE_MOTION_UNTOLD,
                    SCALE_OVERLOADED,
                    SCALE_UNPLUGGED,
                    PROGRAM_STALLED,
                    POWER_CUT,
                    DISK_FULL,
                    SUPPLY_LOST,
                    ATTENDANT_GONE,
                    SCALE_SILENT,
                    SCALE_WRONG_UNIT,
                    SCALE_FROZEN,
                    SCALE_MOVING,
                    CONTROLLER_RESET,
                    TRANSPOSED,
                    EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    TRUCK_METER_DEAD,
                    LINE_DEAD,
                    THERMOMETER_SILENT,
                    THERMOMETER_POWER_ON ->
                    0;
        };
    }

    private double between(double least, double most) {
        return least + (most - least) * random.nextDouble();
    }
}
