package catchbay.record;

import catchbay.metrology.Brine;
import catchbay.metrology.DensityReading;
import catchbay.metrology.HydrometerReference;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidSource;
import catchbay.metrology.Liquids;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Reads what is said of a liquid whose density is to be found: its kind, temperature, and strength
 * or sample. Settings and the command {@code density} are read by it alike. Every default here is a
 * row of {@code src/docs/settings.md}.
 */
public final class LiquidReader {

    /** What stands for the uncertainty of a strength or a temperature of which none is said. */
    public enum Unsaid {
        /** The usual one: nothing in a bay is known exactly. */
        USUAL,
        /** None: the density at exactly this strength and temperature is asked for. */
        EXACT
    }

    /**
     * A density that is wanted.
     *
     * @param source from what it is learned
     * @param at how warm the liquid is
     * @param expandedKelvin how uncertain that is, k = 2; empty when it is exact
     */
    public record Wanted(LiquidSource source, Temperature at, Optional<Double> expandedKelvin) {

        /** What is known of it. */
        public LiquidDensity.Answer answer() {
            return Liquids.density(source, at, expandedKelvin);
        }

        /** What is known of the same liquid at another temperature, taken as exact. */
        public LiquidDensity.Answer answerAt(Temperature other) {
            return Liquids.density(source, other, Optional.empty());
        }
    }

    private static final String KIND = "kind";
    private static final String SAMPLE = "sample";
    private static final String STRENGTH = "strength";
    private static final String TEMPERATURE = "temperature";
    private static final String GRAVITY = "specific_gravity";
    private static final String REFERENCE = "reference";
    private static final String SALOMETER = "salometer_degrees";
    private static final String SLOPE = "slope_kg_per_m3_per_celsius";

    /** Usual uncertainties, k = 2. Common practice, no source. */
    private static final double USUAL_KELVIN = 1;

    private static final double USUAL_STRENGTH_PERCENT = 0.5;
    private static final double USUAL_GRAVITY = 0.002;
    private static final double USUAL_DEGREES = 1;
    private static final double USUAL_DENSITY_PERCENT = 0.1;
    private static final double USUAL_WEIGHT_PERCENT = 0.1;
    private static final double USUAL_VOLUME_PERCENT = 0.3;
    private static final double USUAL_SLOPE = 0.2;

    private final Fields from;
    private final Density air;
    private final Unsaid unsaid;

    private LiquidReader(Fields from, Density air, Unsaid unsaid) {
        this.from = from;
        this.air = air;
        this.unsaid = unsaid;
    }

    /**
     * Reads a liquid.
     *
     * @param from the section; the caller finishes it
     * @param air density of the air in which a known volume was weighed
     * @param unsaid what stands for uncertainties that are not given
     * @throws DocumentException with a sentence, when something is missing or cannot be
     */
    public static Wanted read(Fields from, Density air, Unsaid unsaid) {
        LiquidReader reader = new LiquidReader(from, air, unsaid);
        Temperature at = from.quantity(TEMPERATURE, Measure.TEMPERATURE);
        return new Wanted(reader.source(), at, reader.kelvin(from));
    }

    private LiquidSource source() {
        String kind = from.text(KIND);
        boolean blend = kind.equals(Liquids.BLEND);
        boolean water = kind.equals(Liquids.WATER);
        Optional<Brine> brine = blend || water ? Optional.empty() : Optional.of(brine());
        Optional<Fields> sample = from.optionalSection(SAMPLE);
        Optional<MassFraction> strength = from.optionalQuantity(STRENGTH, Measure.STRENGTH);
        Optional<Ratio> expanded = strengthExpanded();
        if (brine.isEmpty() && strength.isPresent()) {
            throw from.refused(KIND, "only a salt brine has a strength; leave it out");
        }
        if (sample.isPresent() && strength.isPresent()) {
            throw from.refused(
                    KIND,
                    "a strength and a measured sample are given; the measured density counts, so"
                            + " leave the strength out");
        }
        if (sample.isPresent()) {
            if (water) {
                throw from.refused(
                        KIND, "water is computed; enter measured water as " + Liquids.BLEND);
            }
            return measured(brine, sample.get());
        }
        if (water) {
            return new LiquidSource.TapWater();
        }
        if (blend) {
            throw from.refused(
                    KIND,
                    "a blend's density cannot be computed, for it carries other salts too; measure"
                            + " it with a hydrometer, a density meter or a weighed volume");
        }
        MassFraction known = strength.orElseGet(() -> from.quantity(STRENGTH, Measure.STRENGTH));
        return from.made(() -> new LiquidSource.Computed(brine.get(), known, expanded));
    }

    private Brine brine() {
        return from.named(
                KIND,
                word -> {
                    try {
                        return Brine.ofKey(word);
                    } catch (IllegalArgumentException unknown) {
                        throw new IllegalArgumentException(
                                "unknown liquid; the known ones are " + Liquids.known(), unknown);
                    }
                });
    }

    private Optional<Ratio> strengthExpanded() {
        Optional<Ratio> given = from.optionalQuantity("strength_uncertainty", Measure.RATIO);
        return given.isPresent() || unsaid == Unsaid.EXACT
                ? given
                : Optional.of(Ratio.ofPercent(USUAL_STRENGTH_PERCENT));
    }

    private Optional<Double> kelvin(Fields section) {
        Optional<Double> given =
                section.optionalQuantity("temperature_uncertainty", Measure.TEMPERATURE_DIFFERENCE);
        return given.isPresent() || unsaid == Unsaid.EXACT ? given : Optional.of(USUAL_KELVIN);
    }

    private LiquidSource measured(Optional<Brine> brine, Fields sample) {
        DensityReading reading = reading(sample);
        Temperature at =
                sample.optionalQuantity(TEMPERATURE, Measure.TEMPERATURE)
                        .or(reading::statedAt)
                        .orElseGet(() -> sample.quantity(TEMPERATURE, Measure.TEMPERATURE));
        Optional<Double> kelvin = kelvin(sample);
        Optional<LiquidSource.Slope> slope = slope();
        return from.made(() -> new LiquidSource.Measured(brine, reading, at, kelvin, slope));
    }

    private Optional<LiquidSource.Slope> slope() {
        double slope = from.number(SLOPE, -1e9, 1e9, Double.NaN);
        double expanded =
                from.number("slope_uncertainty_kg_per_m3_per_celsius", 0, 1e9, USUAL_SLOPE);
        return Double.isNaN(slope)
                ? Optional.empty()
                : Optional.of(from.made(() -> new LiquidSource.Slope(slope, expanded)));
    }

    private DensityReading reading(Fields sample) {
        List<DensityReading> readings = new ArrayList<>();
        hydrometer(sample).ifPresent(readings::add);
        salometer(sample).ifPresent(readings::add);
        meter(sample).ifPresent(readings::add);
        weighed(sample).ifPresent(readings::add);
        if (readings.size() == 1) {
            return readings.getFirst();
        }
        throw sample.refused(
                (readings.isEmpty() ? "no reading is given; " : "more than one reading is given; ")
                        + "give one: a specific gravity, salometer degrees, a density, or a weight"
                        + " and its volume");
    }

    private Optional<DensityReading> hydrometer(Fields sample) {
        double gravity = sample.number(GRAVITY, -1e9, 1e9, Double.NaN);
        double expanded = sample.number("specific_gravity_uncertainty", 0, 1, USUAL_GRAVITY);
        if (Double.isNaN(gravity)) {
            return Optional.empty();
        }
        if (!sample.has(REFERENCE)) {
            throw sample.refused(
                    GRAVITY,
                    "a specific gravity needs its two temperatures; add reference as it stands on"
                            + " the hydrometer: 60/60F, 15/15C, 15/4C or 20/20C");
        }
        HydrometerReference reference = sample.named(REFERENCE, HydrometerReference::of);
        return Optional.of(
                sample.made(() -> new DensityReading.Hydrometer(gravity, reference, expanded)));
    }

    private Optional<DensityReading> salometer(Fields sample) {
        double degrees = sample.number(SALOMETER, -1e9, 1e9, Double.NaN);
        double expanded = sample.number("salometer_uncertainty_degrees", 0, 100, USUAL_DEGREES);
        return Double.isNaN(degrees)
                ? Optional.empty()
                : Optional.of(sample.made(() -> new DensityReading.Salometer(degrees, expanded)));
    }

    private Optional<DensityReading> meter(Fields sample) {
        Optional<Density> density = sample.optionalQuantity("density", Measure.DENSITY);
        Ratio expanded =
                sample.quantity(
                        "density_uncertainty",
                        Measure.RATIO,
                        Ratio.ofPercent(USUAL_DENSITY_PERCENT));
        return density.map(d ->
                sample.made(() ->
                        new DensityReading.DensityMeter(
                                d, expanded.value() * d.kilogramsPerCubicMetre())));
    }

    private Optional<DensityReading> weighed(Fields sample) {
        Optional<Mass> weight = sample.optionalQuantity("weight", Measure.MASS);
        Optional<Volume> volume = sample.optionalQuantity("volume", Measure.VOLUME);
        Ratio weightExpanded =
                sample.quantity(
                        "weight_uncertainty", Measure.RATIO, Ratio.ofPercent(USUAL_WEIGHT_PERCENT));
        Ratio volumeExpanded =
                sample.quantity(
                        "volume_uncertainty", Measure.RATIO, Ratio.ofPercent(USUAL_VOLUME_PERCENT));
        if (weight.isEmpty() && volume.isEmpty()) {
            return Optional.empty();
        }
        Mass known = weight.orElseGet(() -> sample.quantity("weight", Measure.MASS));
        Volume filled = volume.orElseGet(() -> sample.quantity("volume", Measure.VOLUME));
        return Optional.of(
                sample.made(() ->
                        new DensityReading.WeighedVolume(
                                known, filled, weightExpanded, volumeExpanded, air)));
    }
}
