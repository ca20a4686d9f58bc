package catchbay.metrology;

import catchbay.quantity.Volume;

import java.util.ArrayList;
import java.util.List;

/**
 * A volume and what makes it uncertain.
 *
 * @param volume the best value
 * @param terms the independent contributions, in a fixed order
 */
public record Estimate(Volume volume, List<Term> terms) {

    /**
     * Coverage factor of the expanded uncertainty: about 95 % where no term of few degrees of
     * freedom dominates.
     */
    public static final double COVERAGE = 2;

    /**
     * Standard deviation of a quantity known only to lie evenly within +-1 (JCGM 100:2008, 4.3.7):
     * 1/sqrt(3).
     */
    static final double EVEN = 0.5773502691896258;

    /**
     * One contribution.
     *
     * @param name what it is, in words
     * @param standardLitres its standard uncertainty in the volume, L, >= 0
     */
    public record Term(String name, double standardLitres) {
        public Term {
            if (!Double.isFinite(standardLitres) || standardLitres < 0) {
                throw new IllegalArgumentException(
                        "uncertainty term '"
                                + name
                                + "' must be finite and >= 0 L, was "
                                + standardLitres);
            }
        }
    }

    public Estimate {
        terms = List.copyOf(terms);
    }

    /** This estimate with one more contribution. */
    public Estimate with(String name, double standardLitres) {
        List<Term> more = new ArrayList<>(terms);
        more.add(new Term(name, standardLitres));
        return new Estimate(volume, more);
    }

    /** Standard uncertainty, L: the root of the sum of squares. */
    public double standardLitres() {
        double sum = 0;
        for (Term term : terms) {
            sum += term.standardLitres * term.standardLitres;
        }
        return Math.sqrt(sum);
    }

    /** Expanded uncertainty with {@link #COVERAGE}. */
    public Volume expanded() {
        return new Volume(COVERAGE * standardLitres());
    }

    /** Relative standard uncertainty; the volume must be above zero. */
    double relativeStandard() {
        return standardLitres() / volume.litres();
    }
}
