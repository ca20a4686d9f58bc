package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import catchbay.metrology.Comparison;
import catchbay.metrology.ModelSketch;
import catchbay.quantity.FlowRate;
import catchbay.run.CatchResult;
import catchbay.run.Outcome;

import java.util.List;

/** A catch that went as foreseen, of a truck that errs. */
final class ErringCatch {

    private ErringCatch() {}

    /**
     * The same catch with other errors.
     *
     * @param meterPercent by which the truck reports more than it gave
     * @param controlPercent by which it reports more than it was asked for
     */
    static Outcome of(Outcome foreseen, double meterPercent, double controlPercent) {
        CatchResult even = assertInstanceOf(Outcome.Measured.class, foreseen).result();
        double reported = 1 + controlPercent / 100;
        double measured = reported / (1 + meterPercent / 100);
        return new Outcome.Measured(
                new CatchResult(
                        comparison(even.comparison().model(), reported, measured),
                        even.disagreement(),
                        even.count(),
                        even.emptyReading(),
                        even.netReading(),
                        new FlowRate(even.flow().litresPerSecond() * measured),
                        even.windowNanos(),
                        even.travel(),
                        even.askedBasis(),
                        even.reportedBasis(),
                        even.coupler(),
                        even.rise(),
                        even.disturbance(),
                        even.advice(),
                        even.verdict(),
                        even.notes()));
    }

    private static Comparison comparison(
            ModelSketch.Sketched even, double reported, double measured) {
        List<String> names = even.outputs();
        ModelSketch.Sketched erring =
                new ModelSketch.Sketched(
                        even.inputs(),
                        names,
                        inputs -> {
                            double[] all = even.model().outputs(inputs);
                            all[names.indexOf(Comparison.REPORTED)] *= reported;
                            all[names.indexOf(Comparison.MEASURED)] *= measured;
                            scale(all, names.indexOf(Comparison.METER_ERROR), reported / measured);
                            scale(all, names.indexOf(Comparison.CONTROL_ERROR), reported);
                            scale(all, names.indexOf(Comparison.APPLICATION_ERROR), measured);
                            return all;
                        });
        return new Comparison(erring, erring.budget());
    }

    /** An error, of amounts that are so many times as large against each other. */
    private static void scale(double[] all, int error, double times) {
        all[error] = (1 + all[error]) * times - 1;
    }
}
