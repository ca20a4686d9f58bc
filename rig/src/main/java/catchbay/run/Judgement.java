package catchbay.run;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.DecisionRule;
import catchbay.metrology.Tolerance;
import catchbay.metrology.Verdict;

import java.util.Optional;

/**
 * By what a truck passes or fails; chosen before it is measured.
 *
 * @param on which error is judged
 * @param tolerance what it may be
 * @param rule how its uncertainty counts
 */
public record Judgement(On on, Tolerance tolerance, DecisionRule rule) {

    /** The error that is judged. */
    public enum On {
        /** The truck's meter and its constant. */
        METER(Comparison.METER_ERROR),
        /** Whether the controller holds its target. */
        CONTROL(Comparison.CONTROL_ERROR),
        /** What the road sees. */
        APPLICATION(Comparison.APPLICATION_ERROR);

        private final String error;

        On(String error) {
            this.error = error;
        }

        /** Its name in a budget, and for a person. */
        public String error() {
            return error;
        }
    }

    /** The meter error, within what is common practice, drawn in by the whole uncertainty. */
    public static final Judgement USUAL =
            new Judgement(On.METER, Tolerance.COMMON_PRACTICE, new DecisionRule.GuardBand(1));

    /**
     * The verdict on the errors of a catch or a mean; empty where not one term of uncertainty is
     * stated, since then nothing can be said of risk.
     *
     * @param budget of the errors that {@link Comparison} names
     */
    public Optional<Verdict> verdict(Budget budget) {
        Budget.Output error = budget.output(on.error());
        return error.standard() == 0
                ? Optional.empty()
                : Optional.of(Verdict.of(error, tolerance, rule));
    }
}
