package catchbay.metrology;

/**
 * One quantity that enters a measurement model, with what is known of it. Inputs are independent of
 * each other; what two results share is one input of both.
 *
 * @param name what it is, in words; not blank, and unique among the inputs of a model
 * @param value its best value, in a unit of its own; finite
 * @param standard its standard uncertainty (JCGM 100:2008, 2.3.1) in the unit of the value, above
 *     zero; zero for {@link Shape#EXACT} only
 * @param degreesOfFreedom how well the standard uncertainty itself is known (JCGM 100:2008, G.3 and
 *     G.4.2): at least 1, or infinite
 * @param shape its distribution, for {@link MonteCarlo}
 * @param scope what repeats share it, for {@link Budget#ofMean}
 */
public record Input(
        String name,
        double value,
        double standard,
        double degreesOfFreedom,
        Shape shape,
        Scope scope) {

    /** Half-width of a rectangular distribution over its standard deviation: sqrt(3). */
    static final double ROOT_3 = Math.sqrt(3);

    /** Half-width of a triangular distribution over its standard deviation: sqrt(6). */
    static final double ROOT_6 = Math.sqrt(6);

    /** The distribution an input is drawn from; its centre is the value (JCGM 101:2008, 6.4). */
    public enum Shape {
        /** Normal, with the standard uncertainty as standard deviation. */
        NORMAL,
        /** Even over the value +- sqrt(3) standard uncertainties. */
        RECTANGULAR,
        /** Triangular over the value +- sqrt(6) standard uncertainties. */
        TRIANGULAR,
        /**
         * Student's t, stretched by the standard uncertainty: the mean of a few readings of unknown
         * scatter. Wider than its standard uncertainty says; of 2 degrees of freedom or fewer it
         * has no standard deviation at all, though it has intervals.
         */
        STUDENT,
        /** Taken to be known without error, by an open decision of whoever made the model. */
        EXACT
    }

    /** What repeats of a measurement have in common. */
    public enum Scope {
        /** Comes out anew in every run, so that averaging n runs divides it by sqrt(n). */
        RUN,
        /** The same in all runs of one day, and anew on the next. */
        DAY,
        /** The same in every run of this bay, such as its certificates; averaging leaves it. */
        BAY
    }

    public Input {
        if (name.isBlank()) {
            throw new IllegalArgumentException("an input needs a name, was '" + name + "'");
        }
        if (!Double.isFinite(value)) {
            throw refused(name, "value", "be finite", value, "correct it");
        }
        if (!(degreesOfFreedom >= 1)) {
            throw refused(
                    name,
                    "degrees of freedom",
                    "be at least 1 or infinite",
                    degreesOfFreedom,
                    "take more readings or state how well the uncertainty is known");
        }
        if (shape == Shape.EXACT) {
            if (standard != 0 || degreesOfFreedom != Double.POSITIVE_INFINITY) {
                throw refused(
                        name,
                        "standard uncertainty",
                        "be 0 with infinite degrees of freedom when it is taken as exact",
                        standard,
                        "give it a distribution");
            }
        } else if (!Double.isFinite(standard) || standard <= 0) {
            throw refused(
                    name,
                    "standard uncertainty",
                    "be finite and above 0",
                    standard,
                    "state it, or leave the term out by taking the input as exact");
        }
    }

    private static IllegalArgumentException refused(
            String name, String what, String rule, double value, String remedy) {
        return new IllegalArgumentException(
                what + " of '" + name + "' must " + rule + ", was " + value + "; " + remedy);
    }

    /** An input whose uncertainty is left out of the budget on purpose. */
    public static Input exact(String name, double value) {
        return new Input(name, value, 0, Double.POSITIVE_INFINITY, Shape.EXACT, Scope.BAY);
    }

    /** A normal input whose standard uncertainty is known well (infinite degrees of freedom). */
    public static Input normal(String name, double value, double standard, Scope scope) {
        return new Input(name, value, standard, Double.POSITIVE_INFINITY, Shape.NORMAL, scope);
    }

    /**
     * An input known only to lie evenly within its value +- {@code halfWidth}; its standard
     * uncertainty is that over sqrt(3) (JCGM 100:2008, 4.3.7).
     */
    public static Input rectangular(String name, double value, double halfWidth, Scope scope) {
        return new Input(
                name,
                value,
                halfWidth / ROOT_3,
                Double.POSITIVE_INFINITY,
                Shape.RECTANGULAR,
                scope);
    }
}
