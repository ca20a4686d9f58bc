package catchbay.sim;

import catchbay.run.BayContact;

import java.util.function.Consumer;

/**
 * Lets faults begin and end in a world. A fault about something that the bay does not have changes
 * nothing.
 */
final class FaultPlay {

    private final World world;

    FaultPlay(World world) {
        this.world = world;
    }

    void begin(Fault fault) {
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
                    THERMOMETER_SPIKE -> {
                // Happens at once, or ends by itself, or not at all.
            }
        }
    }

    private void door(Fault fault, Consumer<Door> spoil) {
        Door door = world.door(fault.line());
        if (door != null) {
            spoil.accept(door);
        }
    }
}
