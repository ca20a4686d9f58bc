package catchbay.run;

import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;
import catchbay.signal.TemperatureSense;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.function.UnaryOperator;

/**
 * The bay's thermometers around the window; empty where none is fitted.
 *
 * @param senses what each of them has told
 */
public record Thermometers(Map<TemperaturePlace, TemperatureSense> senses) {

    static Thermometers starting(Doubts.Sensors fitted) {
        Map<TemperaturePlace, TemperatureSense> senses = new EnumMap<>(TemperaturePlace.class);
        for (TemperaturePlace place : fitted.places()) {
            senses.put(place, TemperatureSense.starting(fitted.pauseNanosMax()));
        }
        return new Thermometers(Collections.unmodifiableMap(senses));
    }

    /** One more reading; of a place that the setup does not name it tells nothing. */
    Thermometers take(long atNanos, TemperaturePlace place, TemperatureReading reading) {
        if (!senses.containsKey(place)) {
            return this;
        }
        Map<TemperaturePlace, TemperatureSense> next = new EnumMap<>(senses);
        next.put(place, senses.get(place).take(atNanos, reading));
        return new Thermometers(Collections.unmodifiableMap(next));
    }

    Thermometers open(long nanos) {
        return each(sense -> sense.open(nanos));
    }

    Thermometers close(long nanos) {
        return each(sense -> sense.close(nanos));
    }

    private Thermometers each(UnaryOperator<TemperatureSense> change) {
        if (senses.isEmpty()) {
            return this;
        }
        Map<TemperaturePlace, TemperatureSense> next = new EnumMap<>(senses);
        next.replaceAll((place, sense) -> change.apply(sense));
        return new Thermometers(Collections.unmodifiableMap(next));
    }
}
