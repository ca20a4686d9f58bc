package catchbay.plan;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.run.CatchResult;
import catchbay.run.FlowRise;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What a truck gave where a flow was asked of it, as the mean of the catches that count. Its meter
 * may be right at a flow that was never asked for: a point that it did not follow says nothing of
 * the flow that the point is called by.
 *
 * @param asked the flow asked for
 * @param measured the flow that came
 * @param application (measured - asked) / asked, of the volumes
 * @param judged by which error it followed or not, as sentences call it
 * @param off that error
 * @param followed whether the truck followed what was asked
 */
public record Given(
        FlowRate asked,
        FlowRate measured,
        Ratio application,
        String judged,
        Ratio off,
        boolean followed) {

    /**
     * What a leg's catches gave. A controller that holds its own figure follows where that figure
     * is as asked, whatever its meter is worth; where nothing holds the flow the measured one
     * counts.
     *
     * @param mean of the series
     * @param limit control error up to which a controller follows
     */
    static Given of(Leg leg, Series series, MeanOfCatches mean, RunSetup setup, Ratio limit) {
        List<Series.Run> counted = series.counted();
        double litresPerSecond = 0;
        for (Series.Run run : counted) {
            CatchResult result = run.result().orElseThrow();
            litresPerSecond += result.flow().litresPerSecond() / counted.size();
        }
        Ratio application = new Ratio(mean.budget().output(Comparison.APPLICATION_ERROR).value());
        Budget.Output control = mean.budget().output(Comparison.CONTROL_ERROR);
        boolean holds = holds(setup);
        boolean followed =
                holds
                        ? Math.abs(control.value()) <= Math.max(limit.value(), control.expanded())
                        : FlowRise.follows(new Ratio(1 + application.value()));
        return new Given(
                leg.point().flow(),
                new FlowRate(litresPerSecond),
                application,
                holds ? Comparison.CONTROL_ERROR : Comparison.APPLICATION_ERROR,
                holds ? new Ratio(control.value()) : application,
                followed);
    }

    /**
     * The same where a controller that holds its own figure followed by the constant that it had
     * before, and its meter's pulses are all that is read: by the new one it then falls short by
     * just what that changes. Empty where it did not follow by that one either.
     *
     * @param setup as the truck came in
     * @param entered the constant by which its pulses were divided
     * @param limit as above
     */
    Optional<Given> byOldConstant(
            RunSetup setup, TruckConstant entered, MeanOfCatches mean, Ratio limit) {
        if (!(setup.reported() instanceof RunSetup.Reported.MeterPulses) || !holds(setup)) {
            return Optional.empty();
        }
        TruckConstant old = setup.truck().constant();
        double change = old.errorWith(entered.value(), old.value()).value();
        double control = (1 + off.value()) / (1 + change) - 1;
        double expanded = mean.budget().output(Comparison.CONTROL_ERROR).expanded();
        return Math.abs(control) <= Math.max(limit.value(), expanded)
                ? Optional.of(new Given(asked, measured, application, judged, off, true))
                : Optional.empty();
    }

    private static boolean holds(RunSetup setup) {
        return setup.truck().control() == ConstantAdvice.Control.CLOSED_ON_METER
                && setup.plan().flowBy() != RunSetup.FlowBy.SUPPLY;
    }

    /** Whether two flows that were asked for came to two: at least half as far apart as asked. */
    boolean apartFrom(Given other) {
        double wanted = asked.litresPerSecond() - other.asked.litresPerSecond();
        double came = measured.litresPerSecond() - other.measured.litresPerSecond();
        return Math.abs(came) >= Math.abs(wanted) / 2;
    }

    /** That it did not follow, as a sentence. */
    String missed() {
        return String.format(
                Locale.ROOT,
                "Asked for %s the truck gave %s (%s %s %%): it did not follow.",
                Figures.flow(asked),
                Figures.flow(measured),
                judged,
                Numeral.signed(off.percent(), 1));
    }
}
