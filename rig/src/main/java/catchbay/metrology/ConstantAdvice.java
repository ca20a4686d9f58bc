package catchbay.metrology;

import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;

import java.math.BigDecimal;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.DoubleStream;

/** What to do with a truck's constant after a catch. */
public sealed interface ConstantAdvice {

    /** How the truck's controller sets its flow; decides what the next catch will show. */
    enum Control {
        /**
         * It regulates on its own flow meter (automatic): it holds its own figure, so the real flow
         * will change.
         */
        CLOSED_ON_METER("closed"),
        /** Manual or open loop: the real flow stays, so its figure will change. */
        OPEN_LOOP("open");

        private final String key;

        Control(String key) {
            this.key = key;
        }

        /** How settings and traces call this control. */
        public String key() {
            return key;
        }

        /** The control called so; fails with a sentence that lists the known ones. */
        public static Control ofKey(String key) {
            for (Control control : values()) {
                if (control.key.equals(key)) {
                    return control;
                }
            }
            throw new IllegalArgumentException("unknown control '" + key + "'; use closed or open");
        }
    }

    /**
     * A new number to enter.
     *
     * @param constant the truck's constant with the new number, rounded so that it can be entered
     * @param unrounded the number before rounding
     * @param nextMeasured what the next equal catch should measure
     * @param nextReported what the controller should then report
     * @param nextWithin how far from {@link #nextMeterError} that catch's meter error may come out,
     *     to either side, as a ratio, 95 %: what comes out anew in each run and on each day, here
     *     and there; what the bay has in common with itself cancels
     * @param note what to keep in mind, as a sentence
     */
    record Enter(
            TruckConstant constant,
            double unrounded,
            Volume nextMeasured,
            Volume nextReported,
            Ratio nextWithin,
            String note)
            implements ConstantAdvice {

        /** The meter error that the next catch should show: what rounding the number leaves. */
        public Ratio nextMeterError() {
            return nextReported.errorAgainst(nextMeasured);
        }
    }

    /**
     * The constant stays as it is.
     *
     * @param reason why, as a sentence
     * @param unfit why the catch could not have carried another one, whatever it measured, as a
     *     sentence's part; empty where it could
     */
    record Keep(String reason, Optional<String> unfit) implements ConstantAdvice {
        private Keep(String reason) {
            this(reason, Optional.empty());
        }
    }

    /**
     * The advice for one catch.
     *
     * @param comparison the three amounts
     * @param constant the constant in the controller now
     * @param control how the controller sets its flow
     * @param unfit why this catch cannot carry a new constant (unsteady or aerated flow), as a
     *     sentence; null if it can
     */
    static ConstantAdvice after(
            Comparison comparison, TruckConstant constant, Control control, String unfit) {
        return after(comparison.budget(), 1, constant, control, unfit);
    }

    /**
     * The advice for one catch or the mean of several; as {@link #after(Comparison, TruckConstant,
     * Control, String)}.
     *
     * @param budget of the amounts and errors that {@link Comparison} names
     * @param catches of how many it is the mean
     */
    static ConstantAdvice after(
            Budget budget, int catches, TruckConstant constant, Control control, String unfit) {
        double error = budget.output(Comparison.METER_ERROR).value();
        double expanded = budget.output(Comparison.METER_ERROR).expanded();
        if (unfit != null) {
            return new Keep("No new constant: " + unfit + ".", Optional.of(unfit));
        }
        Volume reported = volume(budget, Comparison.REPORTED);
        if (reported.litres() == 0) {
            return new Keep(
                    "No new constant: the controller reported nothing; check its meter and"
                            + " wiring.");
        }
        if (Math.abs(error) <= expanded) {
            return new Keep(
                    String.format(
                            Locale.ROOT,
                            "No new constant: the meter error of %.2f %% is within its uncertainty"
                                    + " of %.2f %%.",
                            error * 100,
                            expanded * 100));
        }
        Volume measured = volume(budget, Comparison.MEASURED);
        double curing = constant.curing(1 + error);
        double rounded = constant.rounded(curing);
        if (!constant.accepts(rounded)) {
            return new Keep(
                    String.format(
                            Locale.ROOT,
                            "No new constant: %s %s would be needed, outside what can be entered"
                                    + " (%s to %s); check the meter, its liquid and its unit.",
                            plain(rounded),
                            constant.symbol(),
                            plain(constant.least()),
                            plain(constant.most())));
        }
        if (rounded == constant.value()) {
            return new Keep(
                    "No new constant: the change is smaller than the controller's entry step of "
                            + plain(constant.step())
                            + " "
                            + constant.symbol()
                            + ".");
        }
        // How far the rounded number still is from the curing one, as the meter will show it.
        double left =
                constant.form() == TruckConstant.Form.PULSES_PER_VOLUME
                        ? curing / rounded
                        : rounded / curing;
        Ratio within = nextWithin(budget.output(Comparison.METER_ERROR), catches);
        String single =
                "From a single flow: prove it with a catch at another flow before relying on it.";
        return switch (control) {
            case CLOSED_ON_METER ->
                    new Enter(
                            constant.with(rounded),
                            curing,
                            new Volume(reported.litres() / left),
                            reported,
                            within,
                            single + offTarget(budget, new Volume(reported.litres() / left)));
            case OPEN_LOOP ->
                    new Enter(
                            constant.with(rounded),
                            curing,
                            measured,
                            new Volume(measured.litres() * left),
                            within,
                            single);
        };
    }

    /** Of a single catch to come, on another day, against what this one says or this mean. */
    private static Ratio nextWithin(Budget.Output error, int catches) {
        double[] variances = new double[error.rows().size()];
        double[] degreesOfFreedom = new double[variances.length];
        for (int i = 0; i < variances.length; i++) {
            Budget.Row row = error.rows().get(i);
            double part = row.contribution() * row.contribution();
            variances[i] =
                    switch (row.scope()) {
                        case RUN -> part * (1 + catches);
                        case DAY -> part * 2;
                        case BAY -> 0;
                    };
            degreesOfFreedom[i] = row.degreesOfFreedom();
        }
        // Not the factor of the error itself: what the bay has in common, which is known best, is
        // not among these terms.
        double factor =
                Coverage.factor(
                        Coverage.PROBABILITY,
                        Coverage.truncated(
                                Coverage.effectiveDegreesOfFreedom(variances, degreesOfFreedom)));
        return new Ratio(factor * Math.sqrt(DoubleStream.of(variances).sum()));
    }

    /**
     * A constant cures the meter only. Where the controller does not hold its own target, a right
     * meter lets it put down that wrong target, which may be further from what was asked than
     * today: then it is said.
     */
    private static String offTarget(Budget budget, Volume nextMeasured) {
        double next = nextMeasured.errorAgainst(volume(budget, Comparison.ASKED)).value();
        double today = budget.output(Comparison.APPLICATION_ERROR).value();
        if (Math.abs(next) <= Math.abs(today)) {
            return "";
        }
        return String.format(
                Locale.ROOT,
                " Mind the control error of %s %%: with this constant alone the truck will apply"
                    + " %.2f %% %s than asked, further off than today, until the controller or its"
                    + " setting is put right too.",
                Numeral.signed(budget.output(Comparison.CONTROL_ERROR).value() * 100, 2),
                Math.abs(next) * 100,
                next > 0 ? "more" : "less");
    }

    private static Volume volume(Budget budget, String amount) {
        return new Volume(budget.output(amount).value());
    }

    private static String plain(double number) {
        return Numeral.of(BigDecimal.valueOf(number).stripTrailingZeros());
    }
}
