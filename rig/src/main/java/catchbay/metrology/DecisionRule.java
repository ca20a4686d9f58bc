package catchbay.metrology;

/**
 * How the uncertainty is taken into account when an error is held against its tolerance; chosen
 * before measuring (ILAC-G8:09/2019, 4.2).
 */
public sealed interface DecisionRule {

    /**
     * Pass anywhere within the tolerance (4.2.1). Right at a limit every other truck is passed that
     * should not be.
     */
    record SimpleAcceptance() implements DecisionRule {}

    /**
     * Pass only within the tolerance drawn in on each limited side by {@code w = multiple U}
     * (4.2.2).
     *
     * @param multiple of the expanded uncertainty: 1 for w = U; 0.83 is that of ISO 14253-1 (from
     *     memory). Above 0, at most 3
     */
    record GuardBand(double multiple) implements DecisionRule {
        public GuardBand {
            refuseMultiple(multiple);
        }
    }

    /**
     * Four answers (4.2.3): pass within the drawn-in tolerance, conditional pass within the
     * tolerance, conditional fail within it widened by as much, else fail.
     *
     * @param multiple of the expanded uncertainty, as for the guard band
     */
    record FourWay(double multiple) implements DecisionRule {
        public FourWay {
            refuseMultiple(multiple);
        }
    }

    /** Widths above this are slips of a percentage for a multiple. */
    double MULTIPLE_MAX = 3;

    /** w over the expanded uncertainty: 0 for simple acceptance. */
    default double guard() {
        return switch (this) {
            case SimpleAcceptance() -> 0;
            case GuardBand(double multiple) -> multiple;
            case FourWay(double multiple) -> multiple;
        };
    }

    private static void refuseMultiple(double multiple) {
        if (!(multiple > 0 && multiple <= MULTIPLE_MAX)) {
            throw new IllegalArgumentException(
                    "a guard band must be above 0 and at most "
                            + MULTIPLE_MAX
                            + " expanded uncertainties, was "
                            + multiple
                            + "; use simple acceptance for none");
        }
    }
}
