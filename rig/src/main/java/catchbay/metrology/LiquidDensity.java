package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Temperature;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The density of a liquid at one temperature, and how it was arrived at.
 *
 * @param liquid what it is, in words
 * @param strength of the salt; for a measured brine the one that its density speaks of; empty for
 *     water and blends
 * @param density best value at {@code temperature}
 * @param temperature how warm the liquid is
 * @param slopePerCelsius change of density there, kg/m3 per degree Celsius; empty where it is not
 *     known
 * @param terms the independent contributions to its uncertainty, at least one
 * @param marks what sets it apart from an ordinary density
 * @param warnings sentences for the person at the bay
 * @param basis how it was arrived at, in words
 */
public record LiquidDensity(
        String liquid,
        Optional<MassFraction> strength,
        Density density,
        Temperature temperature,
        Optional<Double> slopePerCelsius,
        List<Term> terms,
        List<Mark> marks,
        List<String> warnings,
        String basis) {

    /** What a contribution comes from. */
    public enum Part {
        /** The strength that was stated. */
        STRENGTH,
        /** The temperatures of liquid and sample. */
        TEMPERATURE,
        /** The published coefficients. */
        MODEL,
        /** The instrument that measured it. */
        READING
    }

    /** What sets a density apart. */
    public enum Mark {
        /** The coefficients were fitted to warmer liquid; the larger uncertainty counts. */
        BELOW_FITTED_TEMPERATURE,
        /** No independent table was found at this strength; the larger uncertainty counts. */
        OUTSIDE_CHECKED_STRENGTHS;

        /** How a person reads it. */
        public String words() {
            return name().toLowerCase(Locale.ROOT).replace('_', ' ');
        }
    }

    /**
     * One contribution.
     *
     * @param part what it comes from
     * @param name what it is, in words
     * @param standardKilogramsPerCubicMetre its standard uncertainty in the density, above 0
     * @param shape its distribution: normal, or rectangular where only bounds are known (tap
     *     water's salts, the hydrometer's glass, a blend's slope that is not known)
     */
    public record Term(
            Part part, String name, double standardKilogramsPerCubicMetre, Input.Shape shape) {
        public Term {
            if (!Double.isFinite(standardKilogramsPerCubicMetre)
                    || standardKilogramsPerCubicMetre <= 0) {
                throw new IllegalArgumentException(
                        "uncertainty term '"
                                + name
                                + "' must be finite and above 0 kg/m3, was "
                                + standardKilogramsPerCubicMetre);
            }
        }

        /** A normal one, from its expanded uncertainty (k = 2) in the density, kg/m3. */
        static Term normal(Part part, String name, double expanded) {
            return new Term(part, name, expanded / Certificate.COVERAGE, Input.Shape.NORMAL);
        }

        /** A rectangular one, from half its width in the density, kg/m3. */
        static Term even(Part part, String name, double half) {
            return new Term(part, name, half / Input.ROOT_3, Input.Shape.RECTANGULAR);
        }
    }

    /** What is known of a density asked for. */
    public sealed interface Answer {
        /** It is known. */
        record Known(LiquidDensity density) implements Answer {}

        /** It must not be given, for the reason and with the advice in the sentence. */
        record Refused(String reason) implements Answer {}
    }

    public LiquidDensity {
        terms = List.copyOf(terms);
        marks = List.copyOf(marks);
        warnings = List.copyOf(warnings);
        if (terms.isEmpty()) {
            throw new IllegalArgumentException("a density needs its uncertainty, has no term");
        }
    }

    /** Standard uncertainty, kg/m3: the root of the sum of squares. */
    public double standardKilogramsPerCubicMetre() {
        return root(terms);
    }

    /** Expanded uncertainty, k = {@link Estimate#COVERAGE}, kg/m3. */
    public double expandedKilogramsPerCubicMetre() {
        return Certificate.COVERAGE * standardKilogramsPerCubicMetre();
    }

    /** Expanded uncertainty, k = {@link Estimate#COVERAGE}, in the density itself. */
    public double relativeExpanded() {
        return expandedKilogramsPerCubicMetre() / density.kilogramsPerCubicMetre();
    }

    /** Standard uncertainty from one part, kg/m3; 0 where nothing of it counts. */
    public double standardKilogramsPerCubicMetre(Part part) {
        return root(terms.stream().filter(term -> term.part == part).toList());
    }

    private static double root(List<Term> terms) {
        double sum = 0;
        for (Term term : terms) {
            sum += term.standardKilogramsPerCubicMetre * term.standardKilogramsPerCubicMetre;
        }
        return Math.sqrt(sum);
    }
}
