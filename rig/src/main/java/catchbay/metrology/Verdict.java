package catchbay.metrology;

import catchbay.quantity.Ratio;

import java.util.Locale;

/** What an error with its uncertainty is worth against a tolerance, by a rule chosen before. */
public sealed interface Verdict {

    /** The possible answers; the two in the middle only with {@link DecisionRule.FourWay}. */
    enum Grade {
        PASS("pass"),
        CONDITIONAL_PASS("conditional pass"),
        CONDITIONAL_FAIL("conditional fail"),
        FAIL("fail");

        private final String words;

        Grade(String words) {
            this.words = words;
        }

        /** How it is printed. */
        public String words() {
            return words;
        }
    }

    /**
     * An answer.
     *
     * @param grade by the rule
     * @param conformity probability that the true error lies within the tolerance, 0 to 1 (JCGM
     *     106:2012, 7.2), all that is known being this measurement
     * @param guardBand w, by which the tolerance was drawn in
     * @param falseAcceptMost probability, 0 to 1, that a true error right at a limit is passed
     *     (conditionally or not); no truck outside the tolerance has a higher one
     */
    record Decided(Grade grade, double conformity, Ratio guardBand, double falseAcceptMost)
            implements Verdict {}

    /** The guard bands meet: whatever the error, it could not pass. As a sentence. */
    record NoRoom(String reason) implements Verdict {}

    /** Whether it is a pass without condition. */
    static boolean passes(Verdict verdict) {
        return verdict instanceof Decided decided && decided.grade() == Grade.PASS;
    }

    /**
     * The verdict on a relative error.
     *
     * @param error the error as a ratio with its uncertainty, not exact
     * @param tolerance what it may be
     * @param rule how the uncertainty counts
     */
    static Verdict of(Budget.Output error, Tolerance tolerance, DecisionRule rule) {
        if (error.standard() == 0) {
            throw new IllegalArgumentException(
                    "no verdict on '"
                            + error.name()
                            + "' without an uncertainty; state the terms it has");
        }
        double guard = rule.guard() * error.expanded();
        if (rule instanceof DecisionRule.GuardBand && 2 * guard >= tolerance.width()) {
            return new NoRoom(
                    String.format(
                            Locale.ROOT,
                            "The guard band of %.3f %% at each limit leaves no room in a tolerance"
                                    + " of %.3f %% from end to end, so that nothing could pass."
                                    + " Measure better (longer catch, more runs), or agree on a"
                                    + " wider tolerance or another rule.",
                            guard * 100,
                            tolerance.width() * 100));
        }
        return new Decided(
                grade(tolerance.beyond(error.value()), guard, rule),
                conformity(error, tolerance),
                new Ratio(guard),
                falseAcceptMost(error, tolerance, rule, guard));
    }

    private static Grade grade(double beyond, double guard, DecisionRule rule) {
        if (beyond <= -guard) {
            return Grade.PASS;
        }
        return switch (rule) {
            case DecisionRule.SimpleAcceptance() -> Grade.FAIL;
            case DecisionRule.GuardBand(double _) -> Grade.FAIL;
            case DecisionRule.FourWay(double _) -> {
                if (beyond <= 0) {
                    yield Grade.CONDITIONAL_PASS;
                }
                yield beyond <= guard ? Grade.CONDITIONAL_FAIL : Grade.FAIL;
            }
        };
    }

    /** F((T_U - y)/u) - F((T_L - y)/u), F the error's own distribution about zero. */
    private static double conformity(Budget.Output error, Tolerance tolerance) {
        double below =
                tolerance
                        .upper()
                        .map(limit -> probability(error, limit.value() - error.value()))
                        .orElse(1.0);
        double under =
                tolerance
                        .lower()
                        .map(limit -> probability(error, limit.value() - error.value()))
                        .orElse(0.0);
        return Math.max(0, below - under);
    }

    /**
     * A truth at a limit is passed when the measurement falls inside the acceptance limits: F(-w/u)
     * less what falls beyond the far one. Where a conditional pass is a pass, w counts as none.
     */
    private static double falseAcceptMost(
            Budget.Output error, Tolerance tolerance, DecisionRule rule, double guard) {
        double drawnIn = rule instanceof DecisionRule.FourWay ? 0 : guard;
        double near = probability(error, -drawnIn);
        double far = tolerance.width() - drawnIn;
        return Double.isInfinite(far) ? near : Math.max(0, near - probability(error, -far));
    }

    /** Probability that the error's distribution about zero is at most that. */
    private static double probability(Budget.Output error, double apart) {
        return error.distribution().probabilityUpTo(apart / error.standard());
    }
}
