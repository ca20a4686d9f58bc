package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.Mass;

/**
 * What the hose carries of the tank: the same load is read with the hose off, on and off again, so
 * that an even drift cancels.
 *
 * @param difference in kg: with the hose less without
 * @param limit what hose and its uncertainty may come to
 */
public record ShuntTest(Budget.Output difference, Mass limit) {

    /**
     * What the three readings give.
     *
     * @param off the load with the hose off, first
     * @param on with the hose on
     * @param offAgain with the hose off once more
     */
    public static ShuntTest of(
            Mass off, Mass on, Mass offAgain, WeightCheck.Reading reading, Mass limit) {
        ModelSketch sketch = new ModelSketch();
        double half = reading.resolution().kilograms() / 2;
        double scatter = reading.repeatability().kilograms();
        Quantity first = sketch.even("resolution, hose off", off.kilograms(), half, Scope.RUN);
        Quantity second = sketch.even("resolution, hose on", on.kilograms(), half, Scope.RUN);
        Quantity third =
                sketch.even("resolution, hose off again", offAgain.kilograms(), half, Scope.RUN);
        Quantity repeats =
                sketch.normal(
                        "repeatability of three readings", 0, scatter * Math.sqrt(1.5), Scope.RUN);
        Quantity drift =
                sketch.even(
                        "drift between the readings",
                        0,
                        Math.abs(offAgain.kilograms() - off.kilograms()) / 2,
                        Scope.RUN);
        sketch.output(
                "difference",
                x -> second.at(x) - (first.at(x) + third.at(x)) / 2 + repeats.at(x) + drift.at(x));
        return new ShuntTest(sketch.sketched().budget().output("difference"), limit);
    }

    /** What a catch has to allow for, to either side: the difference and its uncertainty. */
    public Mass halfWidth() {
        return new Mass(Math.abs(difference.value()) + difference.expanded());
    }

    /** Whether that is within the limit; a test too coarse to show it fails, too. */
    public WeightCheck.Answer answer() {
        return halfWidth().kilograms() <= limit.kilograms()
                ? WeightCheck.Answer.PASSES
                : WeightCheck.Answer.FAILS;
    }
}
