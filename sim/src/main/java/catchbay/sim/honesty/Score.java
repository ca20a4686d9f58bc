package catchbay.sim.honesty;

import catchbay.metrology.Budget;
import catchbay.metrology.Coverage;
import catchbay.metrology.Input;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** How often the interval of one result in one stratum held the truth. */
final class Score {

    /** Two-sided 99 % of the normal distribution. */
    static final double NINETY_NINE = 2.5758293035489;

    private record Term(String name, String shape) {}

    private final Map<Term, Double> shares = new HashMap<>();
    private long tried;
    private long held;
    private double squares;

    /** One more result with the truth it was to hold. */
    void take(Budget.Output output, List<Input> inputs, double truth) {
        double off = output.value() - truth;
        tried++;
        held += Math.abs(off) <= output.expanded() ? 1 : 0;
        squares += off * off / (output.standard() * output.standard());
        for (int i = 0; i < inputs.size(); i++) {
            Input input = inputs.get(i);
            Term term = new Term(input.name(), input.shape().name().toLowerCase(Locale.ROOT));
            shares.merge(term, output.rows().get(i).share(), Double::sum);
        }
    }

    /** One more interval of any kind. */
    void take(boolean holds) {
        tried++;
        held += holds ? 1 : 0;
    }

    long tried() {
        return tried;
    }

    double coverage() {
        return (double) held / tried;
    }

    /** Root mean square of what a result was off, in its standard uncertainties. */
    double spread() {
        return Math.sqrt(squares / tried);
    }

    /** The lower end of the 99 % interval of the coverage. */
    double low() {
        return wilson(-1);
    }

    /** The upper end. */
    double high() {
        return wilson(1);
    }

    /**
     * The score interval of a binomial share: Wilson, J. Am. Stat. Assoc. 22 (1927) 209, from
     * memory.
     */
    private double wilson(int sign) {
        double share = coverage();
        double z2 = NINETY_NINE * NINETY_NINE / tried;
        double half = NINETY_NINE * Math.sqrt(share * (1 - share) / tried + z2 / (4 * tried));
        return (share + z2 / 2 + sign * half) / (1 + z2);
    }

    /** By how many of its deviations the number of intervals that held falls short of 95 %. */
    double deviationsShort() {
        double promised = Coverage.PROBABILITY;
        return (promised - coverage()) / Math.sqrt(promised * (1 - promised) / tried);
    }

    /** The term that is no bell and has the largest part in the variance, in words. */
    String leading() {
        return shares.entrySet().stream()
                .filter(entry -> !entry.getKey().shape.equals("normal"))
                .max(Map.Entry.comparingByValue())
                .map(entry ->
                        String.format(
                                Locale.ROOT,
                                "%s (%s, %.0f %% of the variance)",
                                entry.getKey().name,
                                entry.getKey().shape,
                                100 * entry.getValue() / tried))
                .orElse("none");
    }

    /** A row of a table, the stratum first. */
    String row(String stratum) {
        String said =
                low() > Coverage.PROBABILITY
                        ? "higher: " + leading()
                        : high() >= Coverage.PROBABILITY ? "holds 95 %" : "**lower**";
        return String.format(
                Locale.ROOT,
                "| %s | %d | %.2f | %.2f to %.2f | %.2f | %s |",
                stratum,
                tried,
                100 * coverage(),
                100 * low(),
                100 * high(),
                spread(),
                said);
    }
}
