package catchbay.record;

import static catchbay.signal.TemperaturePlace.REFERENCE;
import static catchbay.signal.TemperaturePlace.TANK;
import static catchbay.signal.TemperaturePlace.TRUCK_METER;

import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.run.Doubts;
import catchbay.run.RunSetup;
import catchbay.signal.TemperaturePlace;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * Reads and writes what is known of a bay's errors: each figure stands in the section of what it
 * speaks of. Every default here is a row of {@code src/docs/settings.md}.
 */
final class DoubtsText {

    static final Measure<Mass> MASS =
            Measure.MASS.within("at least 0", mass -> mass.kilograms() >= 0);

    /** From the coldest brine to a hot summer's bay; a figure in another unit is caught by it. */
    static final Measure<Temperature> WARMTH =
            Measure.TEMPERATURE.within(
                    "from -40 to 60 degrees Celsius", t -> t.celsius() >= -40 && t.celsius() <= 60);

    private static final double KELVIN_MAX = 50;

    private DoubtsText() {}

    static Doubts read(Fields document, Optional<RunSetup.Scale> scale) {
        return new Doubts(
                document.optionalSection("reference")
                        .map(DoubtsText::reference)
                        .orElse(Doubts.Reference.USUAL),
                scale.isPresent()
                        ? scale(document.section("scale"), scale.get().resolution())
                        : Doubts.Scale.usual(new Mass(0)),
                document.optionalSection("diverter")
                        .map(DoubtsText::diverter)
                        .orElse(Doubts.Diverter.USUAL),
                temperatures(document.sectionOrDefaults("temperature")),
                line(document.sectionOrDefaults("line")),
                document.section("asked")
                        .quantity("speed_uncertainty", Measure.SHARE, Doubts.USUAL.speed()),
                document.section("asked")
                        .quantity("salt_uncertainty", Measure.SHARE, Doubts.USUAL.salt()),
                scatter(document.sectionOrDefaults("scatter")));
    }

    private static Doubts.Reference reference(Fields from) {
        Doubts.Reference usual = Doubts.Reference.USUAL;
        Ratio drift = from.quantity("yearly_drift", Measure.SHARE, usual.driftPerYear());
        Ratio liquid = from.quantity("other_liquid", Measure.SHARE, usual.otherLiquid());
        long damping =
                from.quantity(
                        "damping",
                        Measure.DURATION.within(
                                "from 0 to 60 seconds",
                                nanos -> nanos >= 0 && nanos <= 60_000_000_000L),
                        usual.dampingNanos());
        Optional<Temperature> coldest = from.optionalQuantity("coldest", WARMTH);
        Optional<Temperature> warmest = from.optionalQuantity("warmest", WARMTH);
        return from.made(() -> new Doubts.Reference(drift, liquid, damping, coldest, warmest));
    }

    private static Doubts.Scale scale(Fields from, Mass resolution) {
        Mass nothing = new Mass(0);
        return new Doubts.Scale(
                from.quantity("uncertainty_base", MASS, nothing),
                from.quantity("linearity", MASS, nothing),
                from.quantity("repeatability", MASS, nothing),
                from.quantity("eccentricity", MASS, nothing),
                from.quantity("creep", MASS, nothing),
                from.quantity("zero_drift", MASS, nothing),
                from.quantity("hose", MASS, nothing),
                from.quantity("drip", MASS, resolution),
                from.quantity("yearly_drift", Measure.SHARE, Ratio.ofPercent(0.05)),
                from.quantity("span_per_kelvin", Measure.SHARE, Ratio.ZERO),
                from.quantity("smallest_net", MASS, nothing),
                from.has("in_place") ? Optional.of(from.flag("in_place")) : Optional.empty());
    }

    private static Doubts.Diverter diverter(Fields from) {
        Doubts.Diverter usual = Doubts.Diverter.USUAL;
        double error = from.number("timing_error_seconds", -10, 10, usual.timingErrorSeconds());
        double halfWidth =
                from.number("timing_uncertainty_seconds", 0, 10, usual.timingHalfWidthSeconds());
        if (error != 0 && !from.has("timing_source")) {
            throw from.refused(
                    "timing_error_seconds",
                    "it changes every weighed volume, so say in timing_source how it was found");
        }
        return new Doubts.Diverter(
                error, halfWidth, from.text("timing_source", usual.timingSource()));
    }

    private static Doubts.Temperatures temperatures(Fields from) {
        Doubts.Temperatures usual = Doubts.Temperatures.USUAL;
        Optional<Temperature> truck = from.optionalQuantity("truck_meter", WARMTH);
        Optional<Temperature> reference = from.optionalQuantity("reference", WARMTH);
        Doubts.Sensors sensors = sensors(from);
        boolean truckTold = truck.isPresent() || sensors.places().contains(TRUCK_METER);
        boolean bayTold =
                reference.isPresent()
                        || sensors.places().contains(REFERENCE)
                        || sensors.places().contains(TANK);
        if (truck.isPresent() && !bayTold || reference.isPresent() && !truckTold) {
            throw from.refused(
                    truck.isPresent() ? "truck_meter" : "reference",
                    "the liquid's temperature counts as a difference between two places; give both"
                            + " or neither");
        }
        return new Doubts.Temperatures(
                truck,
                reference,
                from.optionalQuantity("room", WARMTH),
                from.uncertainty("uncertainty_kelvin", KELVIN_MAX, usual.halfWidthKelvin()),
                from.has("expansion_per_kelvin")
                        ? Optional.of(from.number("expansion_per_kelvin", -0.01, 0.01))
                        : Optional.empty(),
                sensors);
    }

    private static Doubts.Sensors sensors(Fields from) {
        Doubts.Sensors usual = Doubts.Sensors.NONE;
        Set<TemperaturePlace> places = EnumSet.noneOf(TemperaturePlace.class);
        for (String name : from.texts("sensors")) {
            TemperaturePlace place;
            try {
                place = TemperaturePlace.ofKey(name);
            } catch (IllegalArgumentException unknown) {
                throw from.refused("sensors", unknown.getMessage());
            }
            if (!places.add(place)) {
                throw from.refused("sensors", "'" + name + "' is named twice; name it once");
            }
        }
        return new Doubts.Sensors(
                places,
                from.uncertainty("sensor_uncertainty_kelvin", KELVIN_MAX, usual.halfWidthKelvin()),
                from.quantity(
                        "sensor_pause",
                        Measure.DURATION.within(
                                "from 1 to 600 seconds",
                                nanos -> nanos >= 1_000_000_000L && nanos <= 600_000_000_000L),
                        usual.pauseNanosMax()));
    }

    private static Doubts.Line line(Fields from) {
        Doubts.Line usual = Doubts.Line.USUAL;
        return new Doubts.Line(
                from.quantity("stored", Measure.VOLUME, usual.stored()),
                from.quantity("swell", Measure.VOLUME, usual.swell()),
                from.number("change_kelvin", 0, KELVIN_MAX, usual.kelvin()));
    }

    private static Doubts.Scatter scatter(Fields from) {
        Doubts.Scatter usual = Doubts.Scatter.USUAL;
        return new Doubts.Scatter(
                from.quantity("run", Measure.UNCERTAINTY, usual.run()),
                (int) from.whole("runs", 2, 10_000, usual.runs()),
                from.quantity("day", Measure.UNCERTAINTY, usual.day()),
                (int) from.whole("days", 2, 10_000, usual.days()));
    }

    /** Where there are none, nothing is said of them. */
    private static void writeSensors(ObjectNode to, Doubts.Sensors sensors) {
        if (sensors.places().isEmpty()) {
            return;
        }
        ArrayNode places = to.putArray("sensors");
        sensors.places().forEach(place -> places.add(place.key()));
        to.put("sensor_uncertainty_kelvin", sensors.halfWidthKelvin());
        SetupWriter.seconds(to, "sensor_pause", sensors.pauseNanosMax());
    }

    /** Adds its figures to the section of an instrument, which stands there already. */
    static void writeReference(ObjectNode to, Doubts.Reference doubts) {
        to.put("yearly_drift_ratio", doubts.driftPerYear().value())
                .put("other_liquid_ratio", doubts.otherLiquid().value());
        SetupWriter.seconds(to, "damping", doubts.dampingNanos());
        doubts.coldest().ifPresent(t -> to.put("coldest_celsius", t.celsius()));
        doubts.warmest().ifPresent(t -> to.put("warmest_celsius", t.celsius()));
    }

    /** As {@link #writeReference}. */
    static void writeScale(ObjectNode to, Doubts.Scale doubts) {
        if (doubts.certifiedBase().kilograms() > 0) {
            to.put("uncertainty_base_kg", doubts.certifiedBase().kilograms());
        }
        to.put("linearity_kg", doubts.linearity().kilograms())
                .put("repeatability_kg", doubts.repeatability().kilograms())
                .put("eccentricity_kg", doubts.eccentricity().kilograms())
                .put("creep_kg", doubts.creep().kilograms())
                .put("zero_drift_kg", doubts.zeroDrift().kilograms())
                .put("hose_kg", doubts.hose().kilograms())
                .put("drip_kg", doubts.drip().kilograms())
                .put("yearly_drift_ratio", doubts.driftPerYear().value())
                .put("span_per_kelvin_ratio", doubts.perKelvin().value());
        to.put("smallest_net_kg", doubts.smallestNet().kilograms());
        doubts.inPlace().ifPresent(is -> to.put("in_place", is));
    }

    /** As {@link #writeReference}. */
    static void writeDiverter(ObjectNode to, Doubts.Diverter doubts) {
        to.put("timing_error_seconds", doubts.timingErrorSeconds())
                .put("timing_uncertainty_seconds", doubts.timingHalfWidthSeconds())
                .put("timing_source", doubts.timingSource());
    }

    /** As {@link #writeReference}. */
    static void writeAsked(ObjectNode to, Doubts doubts) {
        to.put("speed_uncertainty_ratio", doubts.speed().value())
                .put("salt_uncertainty_ratio", doubts.salt().value());
    }

    /** The sections that are there for doubts alone. */
    static void writeOwnSections(ObjectNode document, Doubts doubts) {
        Doubts.Temperatures warmth = doubts.temperatures();
        ObjectNode temperature = document.putObject("temperature");
        warmth.truckMeter().ifPresent(t -> temperature.put("truck_meter_celsius", t.celsius()));
        warmth.reference().ifPresent(t -> temperature.put("reference_celsius", t.celsius()));
        warmth.room().ifPresent(t -> temperature.put("room_celsius", t.celsius()));
        temperature.put("uncertainty_kelvin", warmth.halfWidthKelvin());
        warmth.expansionPerKelvin().ifPresent(n -> temperature.put("expansion_per_kelvin", n));
        writeSensors(temperature, warmth.sensors());
        document.putObject("line")
                .put("stored_litres", doubts.line().stored().litres())
                .put("swell_litres", doubts.line().swell().litres())
                .put("change_kelvin", doubts.line().kelvin());
        document.putObject("scatter")
                .put("run_ratio", doubts.scatter().run().value())
                .put("runs", doubts.scatter().runs())
                .put("day_ratio", doubts.scatter().day().value())
                .put("days", doubts.scatter().days());
    }
}
