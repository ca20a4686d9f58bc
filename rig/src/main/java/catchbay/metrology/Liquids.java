package catchbay.metrology;

import catchbay.metrology.LiquidDensity.Answer;
import catchbay.metrology.LiquidDensity.Mark;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.metrology.LiquidDensity.Term;
import catchbay.quantity.Density;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The density of a liquid at the temperature at which it flows. Nothing is extrapolated: what lies
 * outside is refused with a sentence. Formulas, ranges and sources: {@code src/docs/method.md},
 * Liquids.
 */
public final class Liquids {

    /** How settings and commands call tap water. */
    public static final String WATER = "water";

    /** How settings and commands call a commercial blend. */
    public static final String BLEND = "blend";

    /** So far a blend may be from its measured temperature where its slope is not known, K. */
    static final double BLEND_KELVIN = 2;

    /**
     * More than the density of any brine here changes in -10 to 40 degrees, kg/m3 per degree
     * Celsius: the bound of a blend's slope that is not known.
     */
    static final double BLEND_SLOPE_HALF = 0.7;

    /**
     * The largest departure of the equation for water from IF97 and IAPWS-95 between 5 and 30
     * degrees, kg/m3: taken as its expanded uncertainty, k = 2.
     */
    static final double WATER_EXPANDED = 0.004;

    /**
     * How far the salts in clean tap water move its density at most, kg/m3: 500 mg/L of them, each
     * milligram in a litre 0.0008 kg/m3. Common practice, no source; one-sided in nature, counted
     * on both.
     */
    static final double TAP_WATER_HALF = 0.4;

    /** A liquid this near its freezing point is warned of, K. Common practice, no source. */
    private static final double NEAR_FREEZING_KELVIN = 3;

    /** A reading in water may fall so far short of it, as a mass fraction (0.15 kg/m3). */
    private static final double FRACTION_SLACK = 2e-4;

    private Liquids() {}

    /** What can be named as a liquid, as a sentence lists it. */
    public static String known() {
        return WATER + ", " + Brine.keys() + ", or " + BLEND + " for a measured commercial liquid";
    }

    /**
     * The density at a temperature.
     *
     * @param source from what it is learned
     * @param at how warm the liquid is where it flows
     * @param expandedKelvin expanded uncertainty (k = 2) of that temperature, above 0; empty when
     *     the density is asked for at exactly this temperature
     */
    public static Answer density(
            LiquidSource source, Temperature at, Optional<Double> expandedKelvin) {
        expandedKelvin.ifPresent(u -> {
            if (!Double.isFinite(u) || u <= 0) {
                throw new IllegalArgumentException(
                        "the uncertainty of the temperature must be finite and above 0"
                                + " C, was "
                                + u);
            }
        });
        double kelvin = expandedKelvin.orElse(0.0);
        return switch (source) {
            case LiquidSource.TapWater _ -> water(at, kelvin);
            case LiquidSource.Computed computed -> computed(computed, at, kelvin);
            case LiquidSource.Measured measured -> measured(measured, at, kelvin);
        };
    }

    /**
     * What will happen to a brine that gets as cold as this, as a sentence for the person at the
     * bay; empty when it stays liquid and clear.
     */
    public static Optional<String> coldWarning(
            Brine brine, MassFraction strength, Temperature coldest) {
        String what = Figures.strength(strength) + " " + brine.words();
        return switch (brine.solidPoint(strength)) {
            case SolidPoint.Ice(Temperature freezes) when coldest.compareTo(freezes) < 0 ->
                    Optional.of(
                            what
                                    + " freezes in the bay at "
                                    + coldest.words()
                                    + ": ice begins at about "
                                    + freezes.words()
                                    + "; keep it warmer or make it stronger");
            case SolidPoint.Ice(Temperature freezes)
                    when coldest.minus(freezes) < NEAR_FREEZING_KELVIN ->
                    Optional.of(
                            what
                                    + " is near freezing at "
                                    + coldest.words()
                                    + ": ice begins at about "
                                    + freezes.words());
            case SolidPoint.Ice _ -> Optional.empty();
            case SolidPoint.IceBetween between when coldest.compareTo(between.warmest()) < 0 ->
                    Optional.of(
                            what
                                    + " may freeze in the bay at "
                                    + coldest.words()
                                    + ": ice begins between "
                                    + between.coldest().words()
                                    + " and "
                                    + between.warmest().words());
            case SolidPoint.IceBetween _ -> Optional.empty();
            case SolidPoint.Crystals(Temperature clear) when coldest.compareTo(clear) < 0 ->
                    Optional.of(
                            what
                                    + " may drop salt crystals in the bay at "
                                    + coldest.words()
                                    + ": it is surely clear only from "
                                    + clear.words()
                                    + "; thin it or keep it warmer");
            case SolidPoint.Crystals(Temperature clear) ->
                    Optional.of(
                            what
                                    + " is stronger than the eutectic of "
                                    + Figures.strength(brine.eutecticStrength())
                                    + ": colder than "
                                    + clear.words()
                                    + " it may drop crystals that clog strainers");
        };
    }

    private static Answer water(Temperature at, double expandedKelvin) {
        if (at.compareTo(Water.COLDEST) < 0 || at.compareTo(Water.WARMEST) > 0) {
            return refused(
                    "the density of water is known from 0 to 40 C (32 to 104 F), not at "
                            + at.words()
                            + asFahrenheit(at));
        }
        double slope =
                (Water.kilogramsPerCubicMetre(at.celsius() + 0.05)
                                - Water.kilogramsPerCubicMetre(at.celsius() - 0.05))
                        / 0.1;
        List<Term> terms = new ArrayList<>();
        terms.add(Term.normal(Part.MODEL, "equation for water", WATER_EXPANDED));
        terms.add(Term.even(Part.MODEL, "salts in tap water", TAP_WATER_HALF));
        addTemperature(terms, "temperature of the liquid", slope * expandedKelvin);
        return new Answer.Known(
                new LiquidDensity(
                        WATER,
                        Optional.empty(),
                        Water.density(at),
                        at,
                        Optional.of(slope),
                        terms,
                        List.of(),
                        at.celsius() < NEAR_FREEZING_KELVIN
                                ? List.of(
                                        "water is near freezing at "
                                                + at.words()
                                                + ": ice begins at 0 C")
                                : List.of(),
                        "computed for clean water at "
                                + at.words()
                                + " by the CIPM equation (Tanaka 2001)"));
    }

    private static Answer computed(
            LiquidSource.Computed source, Temperature at, double expandedKelvin) {
        Brine brine = source.brine();
        MassFraction strength = source.strength();
        Optional<String> refusal = refusal(brine, strength, at);
        if (refusal.isPresent()) {
            return refused(refusal.get());
        }
        Density density = brine.density(strength, at);
        double kilograms = density.kilogramsPerCubicMetre();
        double slope = brine.perCelsius(strength, at);
        List<Term> terms = new ArrayList<>();
        source.strengthExpanded()
                .ifPresent(u ->
                        terms.add(
                                Term.normal(
                                        Part.STRENGTH,
                                        "strength of the brine",
                                        Math.abs(brine.perFraction(strength, at)) * u.value())));
        addTemperature(terms, "temperature of the liquid", slope * expandedKelvin);
        terms.add(
                Term.normal(
                        Part.MODEL,
                        "published coefficients",
                        kilograms * brine.modelExpanded(strength, at).value()));
        List<Mark> marks = new ArrayList<>();
        if (!brine.fitted(at)) {
            marks.add(Mark.BELOW_FITTED_TEMPERATURE);
        }
        if (!brine.checked(strength)) {
            marks.add(Mark.OUTSIDE_CHECKED_STRENGTHS);
        }
        return new Answer.Known(
                new LiquidDensity(
                        brine.words(),
                        Optional.of(strength),
                        density,
                        at,
                        Optional.of(slope),
                        terms,
                        marks,
                        coldWarning(brine, strength, at).stream().toList(),
                        "computed for "
                                + Figures.strength(strength)
                                + " "
                                + brine.words()
                                + " at "
                                + at.words()
                                + " from published coefficients (Laliberte 2009)"));
    }

    private static Answer measured(
            LiquidSource.Measured source, Temperature at, double expandedKelvin) {
        Optional<String> refusal =
                outsideTemperatures(source.sample(), "the sample")
                        .or(() -> outsideTemperatures(at, "the liquid"));
        if (refusal.isPresent()) {
            return refused(refusal.get());
        }
        DensityReading.Sampled sampled = source.reading().sampled(source.sample());
        return source.brine().isPresent()
                ? measuredBrine(source, source.brine().get(), sampled, at, expandedKelvin)
                : measuredBlend(source, sampled, at, expandedKelvin);
    }

    private static Answer measuredBrine(
            LiquidSource.Measured source,
            Brine brine,
            DensityReading.Sampled sampled,
            Temperature at,
            double expandedKelvin) {
        Temperature sample = source.sample();
        double fraction = brine.fractionOf(sampled.density(), sample);
        if (fraction < -FRACTION_SLACK || fraction > brine.strongest().value()) {
            return refused(
                    sampled.words()
                            + " at "
                            + sample.words()
                            + " is no density of "
                            + brine.words()
                            + " that holds its salt (it has "
                            + Figures.density(
                                    brine.density(new MassFraction(0), sample)
                                            .kilogramsPerCubicMetre())
                            + " to "
                            + Figures.density(
                                    brine.density(brine.strongest(), sample)
                                            .kilogramsPerCubicMetre())
                            + "); read it again, or enter the liquid as a blend");
        }
        MassFraction strength = new MassFraction(Math.max(0, fraction));
        Optional<String> refusal =
                refusal(brine, strength, sample).or(() -> refusal(brine, strength, at));
        if (refusal.isPresent()) {
            return refused(refusal.get());
        }
        double kelvin = at.minus(sample);
        double change =
                brine.density(strength, at).kilogramsPerCubicMetre()
                        - brine.density(strength, sample).kilogramsPerCubicMetre();
        double slope = kelvin == 0 ? brine.perCelsius(strength, at) : change / kelvin;
        double moved = sampled.density().kilogramsPerCubicMetre() + change;
        List<Term> terms = new ArrayList<>(sampled.terms());
        addTemperatures(terms, source, slope, brine.perCelsius(strength, at), expandedKelvin);
        if (kelvin != 0) {
            terms.add(
                    Term.normal(
                            Part.MODEL,
                            "change of density with temperature",
                            moved * brine.slopeExpandedPerCelsius(sample, at) * Math.abs(kelvin)));
        }
        return new Answer.Known(
                new LiquidDensity(
                        brine.words(),
                        Optional.of(strength),
                        new Density(moved),
                        at,
                        Optional.of(brine.perCelsius(strength, at)),
                        terms,
                        brine.fitted(at) && brine.fitted(sample) || kelvin == 0
                                ? List.of()
                                : List.of(Mark.BELOW_FITTED_TEMPERATURE),
                        coldWarning(brine, strength, at).stream().toList(),
                        basis(source, sampled, at, slope, "of " + brine.words())));
    }

    private static Answer measuredBlend(
            LiquidSource.Measured source,
            DensityReading.Sampled sampled,
            Temperature at,
            double expandedKelvin) {
        double kelvin = at.minus(source.sample());
        if (source.slope().isEmpty() && Math.abs(kelvin) > BLEND_KELVIN) {
            return refused(
                    String.format(
                            Locale.ROOT,
                            "the sample was read at %s and the liquid flows at %s: a blend's"
                                + " density holds for %.0f C around only; read it at the flowing"
                                + " temperature, or enter the slope from its maker's sheet",
                            source.sample().words(),
                            at.words(),
                            BLEND_KELVIN));
        }
        List<Term> terms = new ArrayList<>(sampled.terms());
        double moved = sampled.density().kilogramsPerCubicMetre();
        String how = "";
        if (source.slope().isPresent()) {
            LiquidSource.Slope slope = source.slope().get();
            double perCelsius = slope.kilogramsPerCubicMetrePerCelsius();
            moved += perCelsius * kelvin;
            addTemperatures(terms, source, perCelsius, perCelsius, expandedKelvin);
            if (kelvin != 0) {
                terms.add(
                        Term.normal(
                                Part.MODEL,
                                "change of density with temperature",
                                slope.expanded() * Math.abs(kelvin)));
            }
            how = basis(source, sampled, at, perCelsius, "as entered");
        } else {
            double half = BLEND_SLOPE_HALF;
            // Of a slope only the bound is known, and with it of what each temperature makes of it.
            addTemperatures(terms, source, half, half, expandedKelvin);
            if (kelvin != 0) {
                terms.add(
                        Term.even(
                                Part.MODEL,
                                "change of density with temperature, not known",
                                half * Math.abs(kelvin)));
            }
            how = basis(source, sampled, at, 0, "");
        }
        return new Answer.Known(
                new LiquidDensity(
                        BLEND,
                        Optional.empty(),
                        new Density(moved),
                        at,
                        source.slope().map(LiquidSource.Slope::kilogramsPerCubicMetrePerCelsius),
                        terms,
                        List.of(),
                        List.of(
                                "where a blend freezes or drops crystals is not known here; see its"
                                        + " maker's sheet"),
                        how));
    }

    private static String basis(
            LiquidSource.Measured source,
            DensityReading.Sampled sampled,
            Temperature at,
            double slope,
            String whose) {
        String read =
                "measured: "
                        + sampled.words()
                        + ", sample at "
                        + source.sample().words()
                        + " = "
                        + Figures.density(sampled.density().kilogramsPerCubicMetre());
        if (at.equals(source.sample())) {
            return read;
        }
        if (whose.isEmpty()) {
            return read + ", taken unchanged for " + at.words();
        }
        return read
                + String.format(
                        Locale.ROOT,
                        "; moved to %s by %+.3f kg/m3 per C %s",
                        at.words(),
                        slope,
                        whose);
    }

    private static void addTemperatures(
            List<Term> terms,
            LiquidSource.Measured source,
            double slopeOfSample,
            double slopeOfLiquid,
            double expandedKelvin) {
        addTemperature(
                terms,
                "temperature of the sample",
                slopeOfSample * source.sampleExpandedKelvin().orElse(0.0));
        addTemperature(terms, "temperature of the liquid", slopeOfLiquid * expandedKelvin);
    }

    private static void addTemperature(List<Term> terms, String name, double expanded) {
        if (expanded != 0) {
            terms.add(Term.normal(Part.TEMPERATURE, name, Math.abs(expanded)));
        }
    }

    /** Why a brine's coefficients must not be used there. */
    private static Optional<String> refusal(Brine brine, MassFraction strength, Temperature at) {
        if (strength.compareTo(brine.strongest()) > 0) {
            return Optional.of(
                    "the density of "
                            + brine.words()
                            + " is known up to "
                            + Figures.strength(brine.strongest())
                            + ", not at "
                            + Figures.strength(strength)
                            + "; check the strength, or measure the density and enter the liquid"
                            + " as a blend");
        }
        Optional<String> outside = outsideTemperatures(at, "the liquid");
        if (outside.isPresent()) {
            return outside;
        }
        return at.compareTo(brine.solidPoint(strength).clearFrom()) < 0
                ? coldWarning(brine, strength, at)
                : Optional.empty();
    }

    private static Optional<String> outsideTemperatures(Temperature at, String what) {
        if (at.compareTo(Brine.COLDEST) >= 0 && at.compareTo(Brine.WARMEST) <= 0) {
            return Optional.empty();
        }
        return Optional.of(
                what
                        + " is at "
                        + at.words()
                        + ", and densities are known from -10 to 40 C (14 to 104 F)"
                        + asFahrenheit(at));
    }

    /** Fahrenheit typed for Celsius is the likely slip, and it gives a plausible temperature. */
    private static String asFahrenheit(Temperature at) {
        return at.compareTo(Brine.WARMEST) > 0 && at.celsius() <= 120
                ? String.format(
                        Locale.ROOT,
                        "; if %.1f F is meant, which is %s, give it in Fahrenheit",
                        at.celsius(),
                        Temperature.ofFahrenheit(at.celsius()).words())
                : "; check the temperature and its unit";
    }

    private static Answer refused(String reason) {
        return new Answer.Refused(reason);
    }
}
