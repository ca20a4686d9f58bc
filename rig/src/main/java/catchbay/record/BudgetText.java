package catchbay.record;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.MonteCarlo;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A catch's budget as a JSON object: each output with its unit, each term with its share of the
 * variance, and how the outputs are correlated.
 */
public final class BudgetText {

    private static final MathContext SIX_DIGITS = new MathContext(6);

    private BudgetText() {}

    /**
     * One line without its end.
     *
     * @param runs the names of the runs, one or those of a mean
     * @param notes what was decided about them, as sentences
     * @param constantUnit unit of the truck's constant, as in {@code pulses/US gal}
     * @param draws the same by drawing, where it was asked for
     */
    public static String of(
            List<String> runs,
            List<String> notes,
            String constantUnit,
            Budget budget,
            Optional<MonteCarlo> draws) {
        ObjectNode json = JsonNodeFactory.instance.objectNode();
        json.put("run", runs.getFirst());
        ArrayNode named = json.putArray("runs");
        runs.forEach(named::add);
        ArrayNode decided = json.putArray("notes");
        notes.forEach(decided::add);
        ArrayNode outputs = json.putArray("outputs");
        for (Budget.Output output : budget.outputs()) {
            ObjectNode written = outputs.addObject();
            written.put("name", output.name()).put("unit", unit(output.name(), constantUnit));
            number(written, "value", output.value());
            number(written, "standard_uncertainty", output.standard());
            number(written, "degrees_of_freedom", output.degreesOfFreedom());
            number(written, "coverage_factor", output.coverageFactor());
            written.put("interval", output.propagated() ? "propagated" : "student");
            number(written, "expanded_uncertainty", output.expanded());
            terms(written.putArray("terms"), output);
            draws.ifPresent(drawn -> drawn(written, drawn.result(output.name())));
        }
        ArrayNode correlations = json.putArray("correlations");
        for (int i = 0; i < budget.outputs().size(); i++) {
            for (int j = 0; j < i; j++) {
                String one = budget.outputs().get(j).name();
                String other = budget.outputs().get(i).name();
                ObjectNode pair = correlations.addObject().put("of", one).put("and", other);
                number(pair, "coefficient", budget.correlation(one, other));
            }
        }
        return new String(Json.write(json), StandardCharsets.UTF_8);
    }

    /** The unit of an output's numbers: litres, a ratio, or that of the constant. */
    public static String unit(String output, String constantUnit) {
        return switch (output) {
            case Comparison.METER_ERROR,
                    Comparison.CONTROL_ERROR,
                    Comparison.APPLICATION_ERROR,
                    Comparison.BETWEEN_INSTRUMENTS ->
                    "ratio";
            case Comparison.CONSTANT -> constantUnit;
            default -> "litres";
        };
    }

    private static void terms(ArrayNode to, Budget.Output output) {
        for (Budget.Row row : output.rows()) {
            if (row.contribution() > 0) {
                ObjectNode term = to.addObject();
                term.put("name", row.name())
                        .put("scope", row.scope().name().toLowerCase(Locale.ROOT));
                number(term, "standard_uncertainty_of_input", row.standard());
                number(term, "degrees_of_freedom", row.degreesOfFreedom());
                number(term, "sensitivity", row.sensitivity());
                number(term, "contribution", row.contribution());
                number(term, "share_of_variance", row.share());
            }
        }
    }

    private static void drawn(ObjectNode to, MonteCarlo.Result result) {
        ObjectNode written = to.putObject("monte_carlo");
        number(written, "mean", result.mean());
        number(written, "standard_uncertainty", result.standard());
        number(written, "low", result.symmetric().low());
        number(written, "high", result.symmetric().high());
    }

    /** Six digits; {@code null} for the infinite degrees of freedom of what is known well. */
    private static void number(ObjectNode to, String key, double value) {
        to.put(key, Double.isFinite(value) ? new BigDecimal(value).round(SIX_DIGITS) : null);
    }
}
