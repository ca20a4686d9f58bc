package catchbay.metrology;

import catchbay.quantity.Volume;

import java.util.List;

/**
 * A volume and what makes it uncertain.
 *
 * @param volume the best value
 * @param terms the independent contributions, in a fixed order
 * @param standardLitres combined standard uncertainty, L, >= 0
 * @param coverageFactor makes of it an interval that holds the volume with 95 % probability
 */
public record Estimate(
        Volume volume, List<Term> terms, double standardLitres, double coverageFactor) {

    /**
     * One contribution.
     *
     * @param name what it is, in words
     * @param standardLitres its standard uncertainty in the volume, L, >= 0
     */
    public record Term(String name, double standardLitres) {}

    public Estimate {
        terms = List.copyOf(terms);
    }

    /** A result of a model in litres, with those of its inputs that play a part in it. */
    public static Estimate of(Budget.Output output) {
        return new Estimate(
                new Volume(output.value()),
                output.rows().stream()
                        .filter(row -> row.contribution() > 0)
                        .map(row -> new Term(row.name(), row.contribution()))
                        .toList(),
                output.standard(),
                output.coverageFactor());
    }

    /** Expanded uncertainty, 95 %. */
    public Volume expanded() {
        return new Volume(coverageFactor * standardLitres);
    }
}
