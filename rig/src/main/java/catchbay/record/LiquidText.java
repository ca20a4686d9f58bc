package catchbay.record;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.Input;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidDensity.Mark;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.metrology.LiquidDensity.Term;
import catchbay.quantity.Density;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.run.RunSetup;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The section {@code liquid} of a setup. Settings may say what flows and let the density be found;
 * what was found is written down with how, so that a trace never depends on the coefficients of the
 * program that reads it.
 */
final class LiquidText {

    private static final String KIND = "kind";
    private static final String BASIS = "basis";
    private static final String DENSITY = "density";
    private static final String DENSITY_UNCERTAINTY = "density_uncertainty";
    private static final String SLOPE = "slope_kg_per_m3_per_celsius";

    /**
     * The lowest and highest density taken for a liquid, kg/m3: a figure in another unit is caught
     * by it.
     */
    private static final Measure<Density> LIQUID_DENSITY =
            Measure.DENSITY.within(
                    "from 500 to 2500 kg/m3",
                    d -> d.kilogramsPerCubicMetre() >= 500 && d.kilogramsPerCubicMetre() <= 2500);

    /** Air from a high plateau to a frosty day at sea level. */
    private static final Measure<Density> AIR_DENSITY =
            Measure.DENSITY.within(
                    "from 0.5 to 1.6 kg/m3",
                    d -> d.kilogramsPerCubicMetre() >= 0.5 && d.kilogramsPerCubicMetre() <= 1.6);

    private LiquidText() {}

    /**
     * @param around the section {@code air}, where the air's density is to be found from its state
     */
    static RunSetup.Liquid read(Fields from, boolean weighed, Optional<Fields> around) {
        Optional<String> name = from.optionalText("name");
        Density air = air(from, around);
        if (from.has(KIND)) {
            return found(from, name, air);
        }
        // Where nothing is weighed no density enters the result, so any stands in its place.
        Density density =
                weighed
                        ? from.quantity(DENSITY, LIQUID_DENSITY)
                        : from.quantity(DENSITY, LIQUID_DENSITY, new Density(1000));
        double uncertainty =
                from.quantity(DENSITY_UNCERTAINTY, Measure.UNCERTAINTY, Ratio.ofPercent(0.5))
                        .value();
        Optional<LiquidDensity> basis =
                from.optionalSection(BASIS).map(section -> basis(section, density));
        return from.made(
                () -> new RunSetup.Liquid(name.orElse("liquid"), density, uncertainty, air, basis));
    }

    private static Density air(Fields from, Optional<Fields> around) {
        Optional<Density> typed = from.optionalQuantity("air_density", AIR_DENSITY);
        if (around.isEmpty()) {
            return typed.orElse(Buoyancy.AIR);
        }
        if (typed.isPresent()) {
            throw around.get()
                    .refused("the air's density is given in liquid.air_density too; keep one");
        }
        double pressure = around.get().number("pressure_hpa", 0, 10_000);
        double humidity = around.get().number("humidity_percent", 0, 1000, 50);
        Temperature warmth = around.get().quantity("temperature", Measure.TEMPERATURE);
        return around.get().made(() -> Buoyancy.air(pressure, humidity, warmth));
    }

    private static RunSetup.Liquid found(Fields from, Optional<String> name, Density air) {
        if (from.optionalQuantity(DENSITY, LIQUID_DENSITY).isPresent()
                || from.optionalQuantity(DENSITY_UNCERTAINTY, Measure.SHARE).isPresent()) {
            throw from.refused(
                    KIND,
                    "the density is given too; take it and its uncertainty out so that it is"
                            + " found from the kind, or put a measured one into [liquid.sample]");
        }
        LiquidReader.Wanted wanted = LiquidReader.read(from, air, LiquidReader.Unsaid.USUAL);
        return switch (from.made(wanted::answer)) {
            case LiquidDensity.Answer.Known(LiquidDensity density) -> {
                refuseUnknown(from, density);
                yield from.made(
                        () -> new RunSetup.Liquid(name.orElse(density.liquid()), density, air));
            }
            case LiquidDensity.Answer.Refused(String reason) -> throw from.refused(reason);
        };
    }

    /** What is found must be known as well as what is typed must be. */
    private static void refuseUnknown(Fields from, LiquidDensity density) {
        if (density.relativeExpanded() > 1) {
            throw from.refused(
                    "its density comes out known to no better than "
                            + Numeral.of(new BigDecimal(density.relativeExpanded() * 100), 3)
                            + " %; correct the uncertainties of temperature, strength and sample");
        }
    }

    static void write(ObjectNode to, RunSetup.Liquid liquid) {
        to.put("name", liquid.name())
                .put("density_kg_per_m3", liquid.density().kilogramsPerCubicMetre())
                .put("density_uncertainty_ratio", liquid.densityRelativeUncertainty())
                .put("air_density_kg_per_m3", liquid.air().kilogramsPerCubicMetre());
        liquid.basis().ifPresent(basis -> write(to.putObject(BASIS), basis));
    }

    private static void write(ObjectNode to, LiquidDensity basis) {
        to.put("words", basis.basis()).put("liquid", basis.liquid());
        basis.strength().ifPresent(strength -> to.put("strength_ratio", strength.value()));
        to.put("temperature_celsius", basis.temperature().celsius());
        basis.slopePerCelsius().ifPresent(slope -> to.put(SLOPE, slope));
        ArrayNode terms = to.putArray("terms");
        for (Term term : basis.terms()) {
            terms.addObject()
                    .put("part", Fields.spelt(term.part()))
                    .put("name", term.name())
                    .put("standard_kg_per_m3", term.standardKilogramsPerCubicMetre())
                    .put("shape", Fields.spelt(term.shape()));
        }
        ArrayNode marks = to.putArray("marks");
        basis.marks().forEach(mark -> marks.add(Fields.spelt(mark)));
        ArrayNode warnings = to.putArray("warnings");
        basis.warnings().forEach(warnings::add);
    }

    private static LiquidDensity basis(Fields from, Density density) {
        List<Term> terms = new ArrayList<>();
        for (Fields term : from.sections("terms")) {
            terms.add(
                    new Term(
                            term.choice("part", Part.class),
                            term.text("name"),
                            term.number("standard_kg_per_m3", Double.MIN_VALUE, 1000),
                            term.choice("shape", Input.Shape.class)));
        }
        List<Mark> marks = new ArrayList<>();
        for (String mark : from.texts("marks")) {
            marks.add(
                    from.made(() -> Mark.valueOf(mark.toUpperCase(Locale.ROOT).replace('-', '_'))));
        }
        String words = from.words("words");
        String liquid = from.text("liquid");
        Temperature temperature = from.quantity("temperature", Measure.TEMPERATURE);
        double slope = from.number(SLOPE, -2, 1, Double.NaN);
        Optional<MassFraction> strength = from.optionalQuantity("strength", Measure.STRENGTH);
        List<String> warnings = from.texts("warnings");
        return from.made(() ->
                new LiquidDensity(
                        liquid,
                        strength,
                        density,
                        temperature,
                        Double.isNaN(slope) ? Optional.empty() : Optional.of(slope),
                        terms,
                        marks,
                        warnings,
                        words));
    }
}
