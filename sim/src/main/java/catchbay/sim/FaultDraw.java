package catchbay.sim;

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

    private static final int FAULTS_MAX = 3;

    private final Scenario scenario;
    private final RandomGenerator random;

    private FaultDraw(Scenario scenario) {
        this.scenario = scenario;
        this.random = new Streams(scenario.options().seed()).of(Streams.Subsystem.FAULTS);
    }

    static List<Fault> of(Scenario scenario) {
        return new FaultDraw(scenario).draw();
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
        int wanted = random.nextInt(1, FAULTS_MAX + 1);
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
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SCALE_SILENT, SCALE_WRONG_UNIT -> true;
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
                    THERMOMETER_SPIKE ->
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
                    SCALE_MOVING ->
                    setup.scale().isPresent();
            case REFERENCE_OFF -> setup.reference().isPresent();
            case THERMOMETER_SILENT, THERMOMETER_GARBLED, THERMOMETER_POWER_ON, THERMOMETER_SPIKE ->
                    !setup.doubts().temperatures().sensors().places().isEmpty();
            case CONTROLLER_LATE, CONTROLLER_RESET ->
                    !(setup.reported() instanceof RunSetup.Reported.MeterPulses);
            case TYPO, TRANSPOSED -> setup.reported() instanceof RunSetup.Reported.Display;
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
                    LINE_DEAD ->
                    true;
        };
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
                    LINE_DEAD ->
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
                    THERMOMETER_SPIKE ->
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
        // A wrong digit comes when it is typed, a stall must end.
        double lasts = kind == FaultKind.READER_STALLED ? between(0.05, 6) : length;
        return new Fault(
                kind,
                early ? Fault.Since.RUN : Fault.Since.CATCH,
                Scenario.seconds(after),
                Scenario.seconds(lasts),
                size,
                line);
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
            case READER_STALLED,
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
