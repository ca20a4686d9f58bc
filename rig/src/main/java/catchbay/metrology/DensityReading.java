package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What an instrument said of a sample of the liquid. Uncertainties are expanded, k = 2. */
public sealed interface DensityReading {

    /**
     * A hydrometer in specific gravity.
     *
     * @param specificGravity from 0.9 to 1.7
     * @param reference its two temperatures
     * @param expanded expanded uncertainty of the reading, in specific gravity; above 0
     */
    record Hydrometer(double specificGravity, HydrometerReference reference, double expanded)
            implements DensityReading {
        public Hydrometer {
            within("specific gravity", specificGravity, GRAVITY_MIN, GRAVITY_MAX, "1.178");
            positive("uncertainty of the specific gravity", expanded);
        }
    }

    /**
     * A density meter, at the sample's own temperature.
     *
     * @param density 900 to 1700 kg/m3
     * @param expandedKilogramsPerCubicMetre above 0
     */
    record DensityMeter(Density density, double expandedKilogramsPerCubicMetre)
            implements DensityReading {
        public DensityMeter {
            within(
                    "density in kg/m3",
                    density.kilogramsPerCubicMetre(),
                    GRAVITY_MIN * 1000,
                    GRAVITY_MAX * 1000,
                    "1178");
            positive("uncertainty of the density", expandedKilogramsPerCubicMetre);
        }
    }

    /**
     * A known volume on a scale.
     *
     * @param inAir net reading of the scale, above 0
     * @param volume at the sample's temperature, above 0
     * @param massExpanded relative, above 0
     * @param volumeExpanded relative, above 0
     * @param air density of the air
     */
    record WeighedVolume(
            Mass inAir, Volume volume, Ratio massExpanded, Ratio volumeExpanded, Density air)
            implements DensityReading {
        public WeighedVolume {
            positive("net weight of the known volume", inAir.kilograms());
            positive("known volume", volume.litres());
            positive("uncertainty of the weight", massExpanded.value());
            positive("uncertainty of the volume", volumeExpanded.value());
            within(
                    "weight over volume in kg/m3",
                    Buoyancy.density(inAir, volume, air).kilogramsPerCubicMetre(),
                    GRAVITY_MIN * 1000,
                    GRAVITY_MAX * 1000,
                    "1178");
        }
    }

    /**
     * A salometer: a hydrometer whose scale is the strength of sodium chloride brine at 60 F in per
     * cent of saturation, {@code S = 100 w / 0.26395}.
     *
     * @param degrees from 0 to 100
     * @param expanded expanded uncertainty of the reading, in degrees; above 0
     */
    record Salometer(double degrees, double expanded) implements DensityReading {

        /** Mass fraction of the brine at 100 degrees (spotidoc.com/doc/221243). */
        static final double SATURATED = 0.26395;

        public Salometer {
            if (!Double.isFinite(degrees) || degrees < 0 || degrees > 100) {
                throw new IllegalArgumentException(
                        "a salometer reads from 0 to 100 degrees, not " + degrees);
            }
            positive("uncertainty of the salometer reading", expanded);
        }

        /** The strength it reads. */
        public MassFraction strength() {
            return new MassFraction(degrees / 100 * SATURATED);
        }

        /** What a salometer reads in brine of a strength at 60 F. */
        public static double degreesOf(MassFraction strength) {
            return 100 * strength.value() / SATURATED;
        }
    }

    /**
     * Growth of a glass hydrometer's volume with temperature, per degree Celsius (soda-lime glass,
     * ISO 649, from memory).
     */
    double GLASS_PER_CELSIUS = 25e-6;

    /** Half the range in which {@link #GLASS_PER_CELSIUS} lies. Common practice, no source. */
    double GLASS_PER_CELSIUS_HALF = 5e-6;

    /** What the liquids of this trade lie between, water to the heaviest blend. */
    double GRAVITY_MIN = 0.9;

    /** See {@link #GRAVITY_MIN}. */
    double GRAVITY_MAX = 1.7;

    /** The temperature of the sample that the reading itself is stated for, where it is. */
    default Optional<Temperature> statedAt() {
        return switch (this) {
            case Hydrometer hydrometer -> Optional.of(hydrometer.reference.sample());
            case Salometer _ -> Optional.of(Temperature.SIXTY_FAHRENHEIT);
            case DensityMeter _, WeighedVolume _ -> Optional.empty();
        };
    }

    /**
     * The density of the sample at its own temperature.
     *
     * @param density best value
     * @param terms what of the reading makes it uncertain
     * @param words how the instrument is called and what it read
     */
    record Sampled(Density density, List<LiquidDensity.Term> terms, String words) {}

    /** The density of a sample that was read at this temperature. */
    default Sampled sampled(Temperature at) {
        return switch (this) {
            case Hydrometer hydrometer -> hydrometer(hydrometer, at);
            case DensityMeter meter ->
                    new Sampled(
                            meter.density,
                            List.of(term("density meter", meter.expandedKilogramsPerCubicMetre)),
                            "density meter "
                                    + Figures.density(meter.density.kilogramsPerCubicMetre()));
            case WeighedVolume weighed -> weighed(weighed);
            case Salometer salometer -> salometer(salometer, at);
        };
    }

    private static Sampled hydrometer(Hydrometer read, Temperature at) {
        double water = read.reference.waterDensity().kilogramsPerCubicMetre();
        return inGlass(
                read.specificGravity * water,
                at.minus(read.reference.sample()),
                term("hydrometer reading", read.expanded * water),
                String.format(
                        Locale.ROOT,
                        "hydrometer %.4f at %s",
                        read.specificGravity,
                        read.reference.words()));
    }

    private static Sampled salometer(Salometer read, Temperature at) {
        MassFraction strength = read.strength();
        Temperature scale = Temperature.SIXTY_FAHRENHEIT;
        double density = Brine.NACL.density(strength, scale).kilogramsPerCubicMetre();
        double perDegree = Brine.NACL.perFraction(strength, scale) * Salometer.SATURATED / 100;
        Sampled glass =
                inGlass(
                        density,
                        at.minus(scale),
                        term("salometer reading", read.expanded * perDegree),
                        String.format(Locale.ROOT, "salometer %.1f degrees", read.degrees));
        List<LiquidDensity.Term> terms = new ArrayList<>(glass.terms);
        terms.add(
                LiquidDensity.Term.normal(
                        LiquidDensity.Part.MODEL,
                        "density of the salometer's scale",
                        density * Brine.NACL.modelExpanded(strength, scale).value()));
        return new Sampled(glass.density, List.copyOf(terms), glass.words);
    }

    /** A warm hydrometer is larger than its scale was made for, so the liquid is lighter. */
    private static Sampled inGlass(
            double scaleDensity, double kelvinAbove, LiquidDensity.Term reading, String words) {
        double half = scaleDensity * GLASS_PER_CELSIUS_HALF * Math.abs(kelvinAbove);
        List<LiquidDensity.Term> terms =
                half == 0
                        ? List.of(reading)
                        : List.of(
                                reading,
                                LiquidDensity.Term.even(
                                        LiquidDensity.Part.READING,
                                        "growth of the hydrometer's glass",
                                        half));
        return new Sampled(
                new Density(scaleDensity * (1 - GLASS_PER_CELSIUS * kelvinAbove)), terms, words);
    }

    private static Sampled weighed(WeighedVolume read) {
        Density density = Buoyancy.density(read.inAir, read.volume, read.air);
        double kilograms = density.kilogramsPerCubicMetre();
        return new Sampled(
                density,
                List.of(
                        term("weight of the known volume", kilograms * read.massExpanded.value()),
                        term("size of the known volume", kilograms * read.volumeExpanded.value())),
                String.format(
                        Locale.ROOT,
                        "%.4f L weighed as %.4f kg in air",
                        read.volume.litres(),
                        read.inAir.kilograms()));
    }

    private static LiquidDensity.Term term(String name, double expanded) {
        return LiquidDensity.Term.normal(LiquidDensity.Part.READING, name, expanded);
    }

    private static void positive(String what, double number) {
        if (!Double.isFinite(number) || number <= 0) {
            throw new IllegalArgumentException(
                    "the " + what + " must be finite and above 0, was " + number);
        }
    }

    private static void within(String what, double number, double least, double most, String such) {
        if (!Double.isFinite(number) || number < least || number > most) {
            throw new IllegalArgumentException(
                    String.format(
                            Locale.ROOT,
                            "the %s of a road liquid is from %s to %s, as in %s, not %s; check"
                                    + " the number and its unit",
                            what,
                            least,
                            most,
                            such,
                            number));
        }
    }
}
