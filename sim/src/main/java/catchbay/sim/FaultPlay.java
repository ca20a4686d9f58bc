package catchbay.sim;

import catchbay.run.BayContact;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/**
 * Lets faults begin and end in a world. A fault about something that the bay does not have changes
 * nothing.
 */
final class FaultPlay {

    private final World world;
    private final List<World.Struck> struck = new ArrayList<>();
    private final List<Fault> underWay = new ArrayList<>();

    FaultPlay(World world) {
        this.world = world;
    }

    void begin(Fault fault) {
        struck.add(new World.Struck(fault, world.nowNanos()));
        underWay.add(fault);
        double size = fault.size();
        switch (fault.kind()) {
            case LOST_NUMBERED -> door(fault, door -> door.loseNumbered((long) size));
            case LOST_UNNUMBERED -> door(fault, door -> door.loseUnnumbered((long) size));
            case BOUNCE -> door(fault, door -> door.bounce((long) size));
            case STRAY -> door(fault, door -> door.stray((long) size));
            case READER_STALLED -> world.stallReader(fault.forNanos());
            case AIR -> world.air(size);
            case DIVERTER_STUCK -> world.jamDiverter(size);
            case DIVERTER_SLOW -> world.slowDiverter(size);
            case SCALE_GARBLED -> world.scale(cell -> cell.garbled(size));
            case SCALE_SILENT -> world.scale(cell -> cell.silent(true));
            case SCALE_WRONG_UNIT -> world.scale(cell -> cell.wrongUnit(true));
            case SCALE_FROZEN -> world.scale(cell -> cell.frozen(true));
            case SCALE_DRIFT -> world.scale(cell -> cell.drift(world.nowNanos(), size));
            case SCALE_MOVING -> world.scale(cell -> cell.moving(true));
            case CONTROLLER_LATE -> world.truck().extraLagSeconds(size);
            case CONTROLLER_RESET -> world.truck().resetTotal();
            case TYPO -> world.person().mistype(size);
            case TRANSPOSED -> world.person().transpose();
            case EMERGENCY_STOP -> world.emergencyStop(true);
            case HIGH_LEVEL -> world.forceFloat(true);
            case SPILL -> world.contact(BayContact.SPILL, true);
            case TRUCK_METER_DEAD -> world.truck().meterDead(true);
            case PUMP_SAG -> world.truck().pumpRatio(1 - size);
            case UNSTEADY -> world.truck().swingRatio(size);
            case REFERENCE_OFF -> world.referenceRatio(1 + size);
            case LINE_DEAD -> door(fault, Door::die);
            case THERMOMETER_SILENT -> world.thermometers().silent(true);
            case THERMOMETER_GARBLED -> world.thermometers().garbled(size);
            case THERMOMETER_POWER_ON -> world.thermometers().poweredOn(true);
            case THERMOMETER_SPIKE -> world.thermometers().spike(size);
            case LOST_EVERY -> door(fault, door -> door.loseEvery((long) size));
            case LINE_NOISE -> world.noise(fault.line(), size);
            case GHOST_FLOW -> world.ghost(size);
            case TRUCK_DRY -> runDry();
            case RUNAWAY -> world.truck().runsAway(true);
            case VALVE_STUCK -> world.truck().holdValve(true);
            case TANK_LEAK -> world.tank().leak(size);
            case STRAY_LIQUID -> world.tank().pour(size * world.askedLitres());
            case WRONG_LIQUID -> world.densityRatio(1 + size);
            case DRAIN_STUCK -> world.tank().drainStuck(true);
            case CONTROLLER_SILENT -> world.silenceController(true);
            case CONTROLLER_UNPLUGGED -> world.unplugController(true);
            case IMPERIAL_GALLONS -> world.person().typesImperial(true);
            case PREVIOUS_TOTAL -> world.person().typesPrevious(true);
            case TRUCK_METER_OFF -> world.truck().meterRatio(1 + size);
            case NOZZLE_CLOGGED -> {
                // The flows through all nozzles are one flow: what one lacks the others give.
            }
            case SCALE_LEANT_ON -> world.scale(cell -> cell.leant(size));
            case SCALE_DOUBLED -> world.doubleScale(true);
            case SCALE_MOTION_UNTOLD -> world.scale(cell -> cell.motionUntold(true));
            case SCALE_OVERLOADED -> world.scale(cell -> cell.overloaded(true));
            case SCALE_UNPLUGGED -> world.unplugScale(true);
            case PROGRAM_STALLED -> world.stallProgram(fault.forNanos());
            case POWER_CUT -> world.cutPower(true);
            case DISK_FULL -> world.fillDisk(true);
            case SUPPLY_LOST -> world.contact(BayContact.SUPPLY_LOST, true);
            case ATTENDANT_GONE -> world.person().leaves(true);
        }
    }

    void end(Fault fault) {
        switch (fault.kind()) {
            case AIR -> world.air(0);
            case DIVERTER_SLOW -> world.slowDiverter(1);
            case SCALE_GARBLED -> world.scale(cell -> cell.garbled(0));
            case SCALE_SILENT -> world.scale(cell -> cell.silent(false));
            case SCALE_WRONG_UNIT -> world.scale(cell -> cell.wrongUnit(false));
            case SCALE_FROZEN -> world.scale(cell -> cell.frozen(false));
            case SCALE_DRIFT -> world.scale(LoadCell::stopDrift);
            case SCALE_MOVING -> world.scale(cell -> cell.moving(false));
            case CONTROLLER_LATE -> world.truck().extraLagSeconds(0);
            case EMERGENCY_STOP -> world.emergencyStop(false);
            case HIGH_LEVEL -> world.forceFloat(false);
            case SPILL -> world.contact(BayContact.SPILL, false);
            case TRUCK_METER_DEAD -> world.truck().meterDead(false);
            case PUMP_SAG -> world.truck().pumpRatio(1);
            case UNSTEADY -> world.truck().swingRatio(0);
            case REFERENCE_OFF -> world.referenceRatio(1);
            case THERMOMETER_SILENT -> world.thermometers().silent(false);
            case THERMOMETER_GARBLED -> world.thermometers().garbled(0);
            case THERMOMETER_POWER_ON -> world.thermometers().poweredOn(false);
            case LOST_EVERY -> door(fault, door -> door.loseEvery(0));
            case LINE_NOISE -> world.noise(fault.line(), 0);
            case GHOST_FLOW -> world.ghost(0);
            case TRUCK_DRY -> {
                world.air(0);
                world.truck().pumpRatio(1);
            }
            case RUNAWAY -> world.truck().runsAway(false);
            case VALVE_STUCK -> world.truck().holdValve(false);
            case TANK_LEAK -> world.tank().leak(0);
            case WRONG_LIQUID -> world.densityRatio(1);
            case DRAIN_STUCK -> world.tank().drainStuck(false);
            case CONTROLLER_SILENT -> world.silenceController(false);
            case CONTROLLER_UNPLUGGED -> world.unplugController(false);
            case IMPERIAL_GALLONS -> world.person().typesImperial(false);
            case TRUCK_METER_OFF -> world.truck().meterRatio(1);
            case SCALE_LEANT_ON -> world.scale(cell -> cell.leant(0));
            case SCALE_DOUBLED -> world.doubleScale(false);
            case SCALE_MOTION_UNTOLD -> world.scale(cell -> cell.motionUntold(false));
            case SCALE_OVERLOADED -> world.scale(cell -> cell.overloaded(false));
            case SCALE_UNPLUGGED -> world.unplugScale(false);
            case POWER_CUT -> world.cutPower(false);
            case DISK_FULL -> world.fillDisk(false);
            case SUPPLY_LOST -> world.contact(BayContact.SUPPLY_LOST, false);
            case ATTENDANT_GONE -> world.person().leaves(false);
            case LOST_NUMBERED,
                    LOST_UNNUMBERED,
                    BOUNCE,
                    STRAY,
                    READER_STALLED,
                    DIVERTER_STUCK,
                    CONTROLLER_RESET,
                    TYPO,
                    TRANSPOSED,
                    LINE_DEAD,
                    THERMOMETER_SPIKE,
                    PREVIOUS_TOTAL,
                    STRAY_LIQUID,
                    NOZZLE_CLOGGED,
                    PROGRAM_STALLED -> {
                // Happens at once, or ends by itself, or not at all.
            }
        }
    }

    /** The pump draws air before it draws nothing; the last of it drips. */
    private void runDry() {
        world.air(DRY_AIR_SHARE);
        world.truck().pumpRatio(0);
    }

    /** Illustrative. */
    private static final double DRY_AIR_SHARE = 0.3;

    /** Ends all that has begun. */
    void cure() {
        world.heal();
        underWay.forEach(this::end);
        underWay.clear();
    }

    List<World.Struck> struck() {
        return List.copyOf(struck);
    }

    private void door(Fault fault, Consumer<Door> spoil) {
        Door door = world.door(fault.line());
        if (door != null) {
            spoil.accept(door);
        }
    }
}
