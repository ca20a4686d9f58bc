package catchbay.run;

import catchbay.metrology.Repeatability;
import catchbay.quantity.Ratio;

import java.util.Optional;

/**
 * How often a catch is repeated; fixed before the first one.
 *
 * @param plan how many catches, up to how many, and how well they are to agree
 * @param voidsMax how many void catches in a row end the series, 1 to {@link #VOIDS_MAX}
 * @param place which catch of which series this one is; empty where it stands alone
 */
public record Repeats(Repeatability.Plan plan, int voidsMax, Optional<Place> place) {

    /** As many void catches in a row as anybody could want. */
    public static final int VOIDS_MAX = 20;

    /**
     * Three catches, ten at most, whose scatter leaves their mean 0.25 %; two void ones in a row.
     * Common practice, no source.
     */
    public static final Repeats USUAL =
            new Repeats(new Repeatability.Plan(3, 10, Ratio.ofPercent(0.25)), 2, Optional.empty());

    /**
     * A catch's place in its series.
     *
     * @param series the series' name: that of its first run
     * @param number from 1; void catches are counted too
     */
    public record Place(String series, int number) {
        public Place {
            if (number < 1) {
                throw new IllegalArgumentException(
                        "the runs of a series are numbered from 1, not " + number);
            }
        }
    }

    public Repeats {
        if (voidsMax < 1 || voidsMax > VOIDS_MAX) {
            throw new IllegalArgumentException(
                    "void runs in a row that end a series must be from 1 to "
                            + VOIDS_MAX
                            + ", were "
                            + voidsMax);
        }
    }

    /** The same repeats, for the catch at this place. */
    Repeats at(Place here) {
        return new Repeats(plan, voidsMax, Optional.of(here));
    }
}
