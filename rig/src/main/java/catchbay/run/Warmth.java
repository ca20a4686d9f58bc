package catchbay.run;

import catchbay.quantity.Temperature;
import catchbay.run.Outcome.Cause;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureSense;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The temperatures of a catch: those that the bay's thermometers measured in the window stand in
 * place of those that were typed.
 */
final class Warmth {

    /** Answers that may be missing without a word. Common practice, no source. */
    private static final double SILENT_RATIO = 0.1;

    private final RunSetup setup;
    private final Doubts.Temperatures typed;
    private final List<String> notes;
    private final Map<TemperaturePlace, Temperature> measured =
            new EnumMap<>(TemperaturePlace.class);

    private Warmth(Sensed sensed, List<String> notes) {
        this.setup = sensed.setup();
        this.typed = setup.doubts().temperatures();
        this.notes = notes;
    }

    /**
     * The same catch with the temperatures that hold for it.
     *
     * @param notes to which is added what a reader must know
     * @throws Unfit when a thermometer did not tell its temperature throughout the window and none
     *     was typed in its place, or when the liquid was not as warm as the reference may be used
     *     at
     */
    static Sensed applied(Sensed sensed, List<String> notes) throws Unfit {
        if (sensed.thermometers().senses().isEmpty()) {
            return sensed;
        }
        Warmth warmth = new Warmth(sensed, notes);
        for (var entry : sensed.thermometers().senses().entrySet()) {
            warmth.measure(entry.getKey(), entry.getValue());
        }
        Doubts.Temperatures held = warmth.held();
        warmth.tell();
        warmth.refuseOutsideLimits(held);
        return sensed.with(warmth.setup.with(warmth.setup.doubts().with(held)));
    }

    private void measure(TemperaturePlace place, TemperatureSense sense) throws Unfit {
        Optional<Temperature> mean = sense.mean();
        if (mean.isPresent()) {
            measured.put(place, mean.get());
            remark(place, sense);
            return;
        }
        String last = sense.missing() == null ? "" : " (last: " + sense.missing() + ")";
        String failed =
                "The thermometer at the "
                        + words(place)
                        + " did not tell its temperature throughout the window"
                        + last;
        Optional<Temperature> otherwise = typed(place);
        if (otherwise.isEmpty()) {
            throw new Unfit(
                    Cause.TEMPERATURE_LOST,
                    failed
                            + "; check its wire and its port, or type the temperature, and repeat"
                            + " the catch.");
        }
        notes.add(failed + "; the " + otherwise.get().words() + " of the settings was taken.");
    }

    /** A figure that was left out is always said, silence only where there was much of it. */
    private void remark(TemperaturePlace place, TemperatureSense sense) {
        long without = sense.amiss().answers();
        long all = without + sense.readings();
        boolean figure = sense.amiss().figure() != null;
        if (figure || without > all * SILENT_RATIO) {
            notes.add(
                    "Of the thermometer at the "
                            + words(place)
                            + ", "
                            + without
                            + " of "
                            + all
                            + " answers in the window did not count (last: "
                            + (figure ? sense.amiss().figure() : sense.missing())
                            + "); its mean is that of the others. Look at the sensor and its"
                            + " wire.");
        }
    }

    /**
     * Why a catch need not begin: a thermometer that it cannot do without has answered, and never
     * with a temperature. Empty where that is not so.
     */
    static Optional<String> lostBefore(Sensed sensed) {
        Warmth warmth = new Warmth(sensed, List.of());
        for (var entry : sensed.thermometers().senses().entrySet()) {
            TemperaturePlace place = entry.getKey();
            TemperatureSense sense = entry.getValue();
            boolean dumb = sense.last() == null && sense.missing() != null;
            boolean reference =
                    sensed.thermometers().senses().containsKey(TemperaturePlace.REFERENCE);
            boolean spare = place == TemperaturePlace.TANK && reference;
            if (dumb && !spare && warmth.typed(place).isEmpty()) {
                return Optional.of(
                        "The thermometer at the "
                                + words(place)
                                + " has told no temperature yet (last: "
                                + sense.missing()
                                + "), and none is typed in its place; nothing has flowed. Check its"
                                + " wire and its port, or type the temperature, and begin again.");
            }
        }
        return Optional.empty();
    }

    private Optional<Temperature> typed(TemperaturePlace place) {
        return switch (place) {
            case TRUCK_METER -> typed.truckMeter();
            case REFERENCE -> typed.reference();
            case ROOM -> typed.room();
            // What is caught has just come from the reference.
            case TANK -> typed.reference().or(() -> measured(TemperaturePlace.REFERENCE));
        };
    }

    private Optional<Temperature> measured(TemperaturePlace place) {
        return Optional.ofNullable(measured.get(place));
    }

    /** Where nothing tells how warm it is at the reference, the tank does: the same liquid. */
    private Doubts.Temperatures held() {
        Optional<Temperature> atReference =
                measured(TemperaturePlace.REFERENCE)
                        .or(typed::reference)
                        .or(() -> measured(TemperaturePlace.TANK));
        boolean both =
                measured.containsKey(TemperaturePlace.TRUCK_METER)
                        && (measured.containsKey(TemperaturePlace.REFERENCE)
                                || typed.reference().isEmpty()
                                        && measured.containsKey(TemperaturePlace.TANK));
        // Two sensors that are each off evenly make a triangle; this even spread is as wide.
        double halfWidth =
                both ? Math.sqrt(2) * typed.sensors().halfWidthKelvin() : typed.halfWidthKelvin();
        return new Doubts.Temperatures(
                measured(TemperaturePlace.TRUCK_METER).or(typed::truckMeter),
                atReference,
                measured(TemperaturePlace.ROOM).or(typed::room),
                halfWidth,
                typed.expansionPerKelvin(),
                typed.sensors());
    }

    private void tell() {
        List<String> told = new ArrayList<>();
        measured.forEach((place, t) -> told.add(t.words() + " at the " + words(place)));
        if (!told.isEmpty()) {
            notes.add("By the bay's thermometers it was " + String.join(", ", told) + ".");
        }
    }

    /** What the setup's check could not know before. */
    private void refuseOutsideLimits(Doubts.Temperatures held) throws Unfit {
        Optional<Temperature> warm = held.reference();
        if (warm.isPresent() && setup.doubts().reference().excludes(warm.get())) {
            throw new Unfit(
                    Cause.OUT_OF_RANGE,
                    "Liquid of "
                            + warm.get().words()
                            + " is outside what the reference may be used at; warm or cool it, or"
                            + " use another reference.");
        }
    }

    private static String words(TemperaturePlace place) {
        return switch (place) {
            case TRUCK_METER -> "truck's meter";
            case REFERENCE -> "reference meter";
            case TANK -> "tank";
            case ROOM -> "scale";
        };
    }
}
