package catchbay.quantity;

import java.math.BigDecimal;

/**
 * The strength of a brine: mass of anhydrous salt in the mass of the whole liquid, as a ratio.
 *
 * @param value from 0 up to, but not reaching, 1; 0.233 is 23.3 per cent
 */
public record MassFraction(double value) implements Comparable<MassFraction> {

    /**
     * Below this a strength in per cent is taken for a ratio under the wrong name. Common practice,
     * no source: no road liquid holds less than one per cent of salt.
     */
    private static final double PERCENT_MIN = 1;

    public MassFraction {
        if (Double.isFinite(value) && value >= 1 && value < 100) {
            throw new IllegalArgumentException(
                    "a mass fraction must be from 0 to below 1, was "
                            + plain(value)
                            + "; "
                            + plain(value)
                            + " per cent is understood, which is a mass fraction of "
                            + plain(value / 100)
                            + ": give it so");
        }
        if (!Double.isFinite(value) || value < 0 || value >= 1) {
            throw new IllegalArgumentException(
                    "a mass fraction must be from 0 to below 1 (0.233 for 23.3 per cent), was "
                            + value);
        }
        value += 0.0; // -0.0 becomes 0.0, so that equal strengths are equal records
    }

    /**
     * A strength in per cent by mass: 0, or from 1 to below 100. What lies between 0 and 1 is
     * refused, since a mass fraction is meant.
     */
    public static MassFraction ofPercent(double percent) {
        if (percent > 0 && percent < PERCENT_MIN) {
            throw new IllegalArgumentException(
                    "a strength in per cent must be 0 or from 1 to below 100, was "
                            + plain(percent)
                            + "; a mass fraction of "
                            + plain(percent)
                            + " is understood, which is "
                            + plain(percent * 100)
                            + " per cent: give it so");
        }
        if (!Double.isFinite(percent) || percent < 0 || percent >= 100) {
            throw new IllegalArgumentException(
                    "a strength in per cent must be 0 or from 1 to below 100, was " + percent);
        }
        return new MassFraction(percent / 100);
    }

    /** This strength in per cent by mass. */
    public double percent() {
        return value * 100;
    }

    @Override
    public int compareTo(MassFraction other) {
        return Double.compare(value, other.value);
    }

    /** To nine digits: 0.233 and not what dividing by a hundred leaves of it. */
    private static String plain(double number) {
        return Numeral.of(new BigDecimal(number), 9);
    }
}
