package catchbay.record;

import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.run.Guard;
import catchbay.run.Part;

import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.Optional;

/** The sections {@code guard} and {@code part} of a setup. */
final class GuardText {

    private static final long SECOND = 1_000_000_000L;
    private static final long DAY_SECONDS = 86_400L;
    private static final int LEGS_MAX = 1_000_000;

    private static final Measure<Mass> LEAK =
            Measure.MASS.within("above zero", mass -> mass.kilograms() > 0);

    private GuardText() {}

    /**
     * @param restBand of the scale
     */
    static Guard guard(Fields from, Optional<Mass> restBand) {
        Guard usual = Guard.usual(restBand);
        long noFlow = duration(from, "no_flow", 3600, usual.noFlowNanos());
        long runOut = duration(from, "run_out", 3600, usual.runOutNanos());
        Ratio runaway =
                new Ratio(from.number("runaway_ratio", 1.01, 1000, usual.runaway().value()));
        long missed = from.whole("truck_pulses_missed", 2, 1_000_000, usual.truckPulsesMissed());
        Mass leak = from.quantity("leak", LEAK, usual.leak());
        long disk =
                from.whole("disk_free_mb", 0, 1_000_000, usual.diskFreeBytesLeast() / 1_000_000);
        long run = duration(from, "run", DAY_SECONDS, usual.runNanosMost());
        return from.made(() ->
                new Guard(
                        noFlow,
                        runOut,
                        runaway,
                        missed,
                        leak,
                        from.optionalQuantity("pressure_most", Measure.PRESSURE),
                        from.optionalQuantity("liquid_least", Measure.TEMPERATURE),
                        from.optionalQuantity("liquid_most", Measure.TEMPERATURE),
                        disk * 1_000_000,
                        run));
    }

    static void write(ObjectNode to, Guard guard) {
        SetupWriter.seconds(to, "no_flow", guard.noFlowNanos());
        SetupWriter.seconds(to, "run_out", guard.runOutNanos());
        to.put("runaway_ratio", guard.runaway().value())
                .put("truck_pulses_missed", guard.truckPulsesMissed())
                .put("leak_kg", guard.leak().kilograms());
        guard.pressureMost().ifPresent(p -> to.put("pressure_most_kpa", p.kilopascals()));
        guard.liquidLeast().ifPresent(t -> to.put("liquid_least_celsius", t.celsius()));
        guard.liquidMost().ifPresent(t -> to.put("liquid_most_celsius", t.celsius()));
        to.put("disk_free_mb", guard.diskFreeBytesLeast() / 1_000_000);
        SetupWriter.seconds(to, "run", guard.runNanosMost());
    }

    static Part part(Fields from) {
        String sweep = from.text("sweep");
        int leg = (int) from.whole("leg", 1, LEGS_MAX);
        String by = from.text("confirmed_by");
        Optional<Part.Presence> presence =
                from.optionalQuantity("presence", durations(DAY_SECONDS))
                        .map(interval ->
                                from.made(() -> new Part.Presence(interval, left(from, interval))));
        long empty = from.quantity("empty", fromZero(), 0L);
        Optional<Volume> room = from.optionalQuantity("room", Measure.VOLUME);
        Volume inTank = from.quantity("in_tank", Measure.VOLUME, Volume.ZERO);
        Optional<Mass> left = from.optionalQuantity("left", Measure.MASS);
        Optional<String> speedBy = from.optionalText("speed_confirmed_by");
        return from.made(
                () -> new Part(sweep, leg, by, speedBy, presence, empty, room, inTank, left));
    }

    private static long left(Fields from, long interval) {
        return from.quantity("presence_left", fromZero(), interval);
    }

    static void write(ObjectNode to, Part part) {
        to.put("sweep", part.sweep())
                .put("leg", part.leg())
                .put("confirmed_by", part.confirmedBy());
        part.speedConfirmedBy().ifPresent(by -> to.put("speed_confirmed_by", by));
        part.presence()
                .ifPresent(presence -> {
                    SetupWriter.seconds(to, "presence", presence.intervalNanos());
                    SetupWriter.seconds(to, "presence_left", presence.leftNanos());
                });
        SetupWriter.seconds(to, "empty", part.emptyNanos());
        part.room().ifPresent(room -> to.put("room_litres", room.litres()));
        to.put("in_tank_litres", part.inTank().litres());
        part.left().ifPresent(left -> to.put("left_kg", left.kilograms()));
    }

    private static long duration(Fields from, String stem, long mostSeconds, long otherwise) {
        return from.quantity(stem, durations(mostSeconds), otherwise);
    }

    private static Measure<Long> durations(long mostSeconds) {
        return Measure.DURATION.within(
                "above 0 and at most " + mostSeconds + " seconds",
                nanos -> nanos > 0 && nanos <= mostSeconds * SECOND);
    }

    private static Measure<Long> fromZero() {
        return Measure.DURATION.within(
                "from 0 to " + DAY_SECONDS + " seconds",
                nanos -> nanos >= 0 && nanos <= DAY_SECONDS * SECOND);
    }
}
