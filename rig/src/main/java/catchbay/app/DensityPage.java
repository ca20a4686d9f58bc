package catchbay.app;

import catchbay.metrology.Brine;
import catchbay.metrology.Buoyancy;
import catchbay.metrology.Certificate;
import catchbay.metrology.HydrometerReference;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.metrology.LiquidDensity.Term;
import catchbay.metrology.LiquidSource;
import catchbay.metrology.Liquids;
import catchbay.metrology.SolidPoint;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Temperature;
import catchbay.record.LiquidReader;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.io.PrintStream;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What is said of one liquid at one temperature.
 *
 * @param density what is known
 * @param brine which salt; empty for water and blends
 * @param specificGravity at 60/60 F; empty where the liquid cannot be taken there
 * @param solid where it begins to turn solid; empty where that is not known
 * @param warnings for the person at the bay
 */
record DensityPage(
        LiquidDensity density,
        Optional<Brine> brine,
        Optional<Double> specificGravity,
        Optional<SolidPoint> solid,
        List<String> warnings) {

    private static final int DENSITY_DECIMALS = 4;
    private static final int WEIGHT_DECIMALS = 5;
    private static final int GRAVITY_DECIMALS = 5;
    private static final int DEGREE_DECIMALS = 2;

    static DensityPage of(
            LiquidReader.Wanted wanted, LiquidDensity density, Optional<Temperature> coldest) {
        Optional<Brine> brine =
                switch (wanted.source()) {
                    case LiquidSource.TapWater _ -> Optional.empty();
                    case LiquidSource.Computed computed -> Optional.of(computed.brine());
                    case LiquidSource.Measured measured -> measured.brine();
                };
        Temperature sixty = Temperature.SIXTY_FAHRENHEIT;
        Optional<Double> gravity =
                switch (wanted.answerAt(sixty)) {
                    case LiquidDensity.Answer.Known(LiquidDensity there) ->
                            Optional.of(
                                    HydrometerReference.SIXTY_SIXTY_FAHRENHEIT.reading(
                                            there.density(), sixty));
                    case LiquidDensity.Answer.Refused _ -> Optional.empty();
                };
        Optional<SolidPoint> solid =
                wanted.source() instanceof LiquidSource.TapWater
                        ? Optional.of(new SolidPoint.Ice(new Temperature(0)))
                        : brine.map(b -> b.solidPoint(density.strength().orElseThrow()));
        List<String> warnings = new ArrayList<>(density.warnings());
        coldest.flatMap(t ->
                        brine.flatMap(
                                b -> Liquids.coldWarning(b, density.strength().orElseThrow(), t)))
                .filter(warning -> !warnings.contains(warning))
                .ifPresent(warnings::add);
        return new DensityPage(density, brine, gravity, solid, warnings);
    }

    /** What a scale shows of one US gallon, in pounds. */
    static double poundsInAir(Density density) {
        Mass gallon = Mass.of(density.poundsPerUsGallon(), MassUnit.POUND);
        return Buoyancy.reading(gallon, density, Buoyancy.AIR).in(MassUnit.POUND);
    }

    ObjectNode json() {
        ObjectNode json = JsonNodeFactory.instance.objectNode();
        json.put("liquid", density.liquid());
        put(json, "mass_fraction", density.strength().map(MassFraction::value), 6);
        put(json, "celsius", density.temperature().celsius(), DEGREE_DECIMALS);
        put(json, "fahrenheit", density.temperature().fahrenheit(), DEGREE_DECIMALS);
        put(
                json,
                "density_kg_per_m3",
                density.density().kilogramsPerCubicMetre(),
                DENSITY_DECIMALS);
        put(
                json,
                "expanded_uncertainty_kg_per_m3",
                density.expandedKilogramsPerCubicMetre(),
                DENSITY_DECIMALS);
        put(json, "coverage_factor", Certificate.COVERAGE, 0);
        put(json, "weight_lb_per_us_gal", density.density().poundsPerUsGallon(), WEIGHT_DECIMALS);
        put(json, "weight_in_air_lb_per_us_gal", poundsInAir(density.density()), WEIGHT_DECIMALS);
        put(json, "specific_gravity_60_60_f", specificGravity, GRAVITY_DECIMALS);
        cold(json);
        put(json, "change_kg_per_m3_per_celsius", density.slopePerCelsius(), DENSITY_DECIMALS);
        ArrayNode terms = json.putArray("uncertainty_terms");
        for (Term term : density.terms()) {
            ObjectNode each = terms.addObject().put("name", term.name());
            put(
                    each,
                    "standard_kg_per_m3",
                    term.standardKilogramsPerCubicMetre(),
                    DENSITY_DECIMALS);
        }
        ArrayNode marks = json.putArray("marks");
        density.marks().forEach(mark -> marks.add(mark.words()));
        json.put("basis", density.basis());
        ArrayNode said = json.putArray("warnings");
        warnings.forEach(said::add);
        return json;
    }

    private void cold(ObjectNode json) {
        Optional<Temperature> ice =
                solid.filter(SolidPoint.Ice.class::isInstance).map(SolidPoint::clearFrom);
        put(json, "freezing_point_celsius", ice.map(Temperature::celsius), DEGREE_DECIMALS);
        put(json, "freezing_point_fahrenheit", ice.map(Temperature::fahrenheit), DEGREE_DECIMALS);
        put(
                json,
                "liquid_and_clear_from_celsius",
                solid.map(point -> point.clearFrom().celsius()),
                DEGREE_DECIMALS);
        put(json, "eutectic_mass_fraction", brine.map(b -> b.eutecticStrength().value()), 3);
        put(
                json,
                "eutectic_celsius",
                brine.map(b -> b.eutecticTemperature().celsius()),
                DEGREE_DECIMALS);
    }

    void print(PrintStream out) {
        out.println(
                String.format(
                        Locale.ROOT,
                        "%s%s at %s",
                        density.strength()
                                .map(w -> String.format(Locale.ROOT, "%.2f %% ", w.percent()))
                                .orElse(""),
                        density.liquid(),
                        density.temperature().words()));
        amounts(out);
        specificGravity.ifPresent(gravity ->
                Words.line(
                        out,
                        "specific gravity",
                        String.format(Locale.ROOT, "%.4f at 60/60F", gravity)));
        solid.ifPresent(point -> Words.line(out, "turns solid", words(point)));
        brine.ifPresent(b ->
                Words.line(
                        out,
                        "eutectic",
                        String.format(
                                Locale.ROOT,
                                "%.1f %%, %s",
                                b.eutecticStrength().percent(),
                                b.eutecticTemperature().words())));
        density.slopePerCelsius()
                .ifPresent(slope ->
                        Words.line(
                                out,
                                "changes by",
                                String.format(
                                        Locale.ROOT,
                                        "%+.3f kg/m3 per degree C, %+.3f per degree F",
                                        slope,
                                        slope / 1.8)));
        Words.line(out, "found", density.basis());
        terms(out);
        if (density.standardKilogramsPerCubicMetre(Part.TEMPERATURE) == 0) {
            Words.paragraph(
                    out,
                    "The temperature, and a strength where no uncertainty of it was given, are"
                            + " taken as exact.");
        }
        for (String warning : warnings) {
            Words.paragraph(out, "Warning: " + warning + ".");
        }
    }

    private void amounts(PrintStream out) {
        Density rho = density.density();
        Words.line(
                out,
                "density",
                String.format(
                        Locale.ROOT,
                        "%.2f +- %.2f kg/m3 (k=2)%s",
                        rho.kilogramsPerCubicMetre(),
                        density.expandedKilogramsPerCubicMetre(),
                        density.marks().isEmpty()
                                ? ""
                                : ", "
                                        + String.join(
                                                ", ",
                                                density.marks().stream()
                                                        .map(LiquidDensity.Mark::words)
                                                        .toList())));
        Words.line(
                out,
                "weight",
                String.format(
                        Locale.ROOT,
                        "%.4f lb/US gal true mass, %.4f as a scale shows it in air",
                        rho.poundsPerUsGallon(),
                        poundsInAir(rho)));
    }

    private void terms(PrintStream out) {
        out.println();
        out.println(
                String.format(
                        Locale.ROOT, "  %-50s %8s %7s", "standard uncertainty", "kg/m3", "share"));
        double whole = Math.pow(density.standardKilogramsPerCubicMetre(), 2);
        for (Term term : density.terms()) {
            double standard = term.standardKilogramsPerCubicMetre();
            out.println(
                    String.format(
                            Locale.ROOT,
                            "    %-48s %8.4f %5.1f %%",
                            term.name(),
                            standard,
                            100 * standard * standard / whole));
        }
    }

    private static String words(SolidPoint point) {
        return switch (point) {
            case SolidPoint.Ice(Temperature at) -> "ice from about " + at.words() + " down";
            case SolidPoint.IceBetween(Temperature warmest, Temperature coldest) ->
                    "ice, beginning between " + coldest.words() + " and " + warmest.words();
            case SolidPoint.Crystals(Temperature clear) ->
                    "salt crystals, not ice; surely clear from " + clear.words() + " up";
        };
    }

    static void put(ObjectNode json, String key, Optional<Double> number, int decimals) {
        if (number.isPresent()) {
            put(json, key, number.get(), decimals);
        } else {
            json.putNull(key);
        }
    }

    static void put(ObjectNode json, String key, double number, int decimals) {
        json.put(key, BigDecimal.valueOf(number).setScale(decimals, RoundingMode.HALF_EVEN));
    }
}
