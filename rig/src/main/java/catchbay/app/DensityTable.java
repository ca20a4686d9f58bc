package catchbay.app;

import catchbay.metrology.Brine;
import catchbay.metrology.HydrometerReference;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidSource;
import catchbay.metrology.Liquids;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;
import catchbay.record.DocumentException;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;

/**
 * Weight per gallon and specific gravity of a liquid over temperature and strength, to be printed
 * and hung up beside the mixing tank.
 *
 * @param liquid what it is, in words
 * @param strengths the columns; a single empty one for water
 */
record DensityTable(String liquid, List<Column> strengths) {

    /** Rows, degrees Fahrenheit, the customary unit at a mixing tank. */
    private static final int[] FAHRENHEIT = {14, 20, 30, 32, 40, 50, 60, 70, 80, 90, 100};

    /**
     * One column.
     *
     * @param strength empty for water
     * @param source the liquid
     */
    private record Column(Optional<MassFraction> strength, LiquidSource source) {
        Optional<LiquidDensity> at(Temperature temperature) {
            return switch (Liquids.density(source, temperature, Optional.empty())) {
                case LiquidDensity.Answer.Known(LiquidDensity density) -> Optional.of(density);
                case LiquidDensity.Answer.Refused _ -> Optional.empty();
            };
        }
    }

    static DensityTable of(String kind) {
        if (kind.equals(Liquids.WATER)) {
            return new DensityTable(
                    Liquids.WATER,
                    List.of(new Column(Optional.empty(), new LiquidSource.TapWater())));
        }
        Brine brine;
        try {
            brine = Brine.ofKey(kind);
        } catch (IllegalArgumentException unknown) {
            throw new DocumentException(
                    "option --liquid: '"
                            + kind
                            + "' has no table; give water or a brine, the known ones are "
                            + Liquids.known());
        }
        return new DensityTable(
                brine.words(),
                percents(brine).stream()
                        .map(MassFraction::ofPercent)
                        .map(w ->
                                new Column(
                                        Optional.of(w),
                                        new LiquidSource.Computed(brine, w, Optional.empty())))
                        .toList());
    }

    /** Strengths that are mixed or sold, and the eutectic. Common practice, no source. */
    private static List<Double> percents(Brine brine) {
        return switch (brine) {
            case NACL -> List.of(10.0, 15.0, 20.0, 22.0, 23.0, 23.3, 24.0, 26.0);
            case CACL2 -> List.of(10.0, 20.0, 25.0, 28.0, 29.8, 30.0, 32.0, 35.0);
            case MGCL2 -> List.of(10.0, 15.0, 20.0, 21.6, 25.0, 28.0, 30.0, 32.0);
            case POTASSIUM_ACETATE -> List.of(15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 49.0, 50.0);
        };
    }

    /** What a 60/60 F hydrometer shows when it floats in the liquid as warm as it is. */
    private static double gravity(LiquidDensity density) {
        return HydrometerReference.SIXTY_SIXTY_FAHRENHEIT.reading(
                density.density(), density.temperature());
    }

    void print(PrintStream out) {
        out.println(capital(liquid) + " by strength (mass of anhydrous salt in the whole) and");
        out.println("temperature. * less certain: outside of fitted temperatures or of checked");
        out.println("strengths. - not liquid and clear, or not known.");
        block(
                out,
                "Weight of a US gallon, lb, true mass",
                "%.3f",
                d -> d.density().poundsPerUsGallon());
        block(
                out,
                "Weight of a US gallon, lb, as a scale shows it in air",
                "%.3f",
                d -> DensityPage.poundsInAir(d.density()));
        block(
                out,
                "Specific gravity as a 60/60F hydrometer shows it there",
                "%.4f",
                DensityTable::gravity);
    }

    private void block(
            PrintStream out, String title, String form, Function<LiquidDensity, Double> figure) {
        out.println();
        out.println(title);
        StringBuilder head = new StringBuilder("    F      C");
        for (Column column : strengths) {
            head.append(
                    column.strength()
                            .map(w -> String.format(Locale.ROOT, "%6.1f %%", w.percent()))
                            .orElse("        "));
        }
        out.println(head.toString().stripTrailing());
        for (int fahrenheit : FAHRENHEIT) {
            Temperature at = Temperature.ofFahrenheit(fahrenheit);
            StringBuilder row =
                    new StringBuilder(
                            String.format(Locale.ROOT, "%5d %6.1f", fahrenheit, at.celsius()));
            for (Column column : strengths) {
                row.append(
                        column.at(at)
                                .map(d ->
                                        String.format(
                                                Locale.ROOT,
                                                "%7s%s",
                                                String.format(Locale.ROOT, form, figure.apply(d)),
                                                d.marks().isEmpty() ? " " : "*"))
                                .orElse("      - "));
            }
            out.println(row.toString().stripTrailing());
        }
    }

    ObjectNode json() {
        ObjectNode json = JsonNodeFactory.instance.objectNode().put("liquid", liquid);
        ArrayNode rows = json.putArray("rows");
        for (int fahrenheit : FAHRENHEIT) {
            for (Column column : strengths) {
                column.at(Temperature.ofFahrenheit(fahrenheit))
                        .ifPresent(density -> row(rows.addObject(), fahrenheit, density));
            }
        }
        return json;
    }

    private static void row(ObjectNode row, int fahrenheit, LiquidDensity density) {
        row.put("fahrenheit", fahrenheit);
        DensityPage.put(row, "celsius", density.temperature().celsius(), 2);
        DensityPage.put(row, "mass_fraction", density.strength().map(MassFraction::value), 6);
        DensityPage.put(row, "density_kg_per_m3", density.density().kilogramsPerCubicMetre(), 4);
        DensityPage.put(
                row, "expanded_uncertainty_kg_per_m3", density.expandedKilogramsPerCubicMetre(), 4);
        DensityPage.put(row, "weight_lb_per_us_gal", density.density().poundsPerUsGallon(), 5);
        DensityPage.put(
                row, "weight_in_air_lb_per_us_gal", DensityPage.poundsInAir(density.density()), 5);
        DensityPage.put(row, "hydrometer_60_60_f", gravity(density), 5);
        ArrayNode marks = row.putArray("marks");
        density.marks().forEach(mark -> marks.add(mark.words()));
    }

    private static String capital(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }
}
