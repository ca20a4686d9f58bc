package catchbay.metrology;

import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;

/**
 * Three amounts over one window and the three errors between them. {@code (1 + application) (1 +
 * meter) = 1 + control}.
 *
 * @param asked rate times distance, > 0
 * @param reported what the truck's controller says it delivered
 * @param measured what the bay measured, > 0
 */
public record Comparison(Volume asked, Estimate reported, Estimate measured) {

    public Comparison {
        if (asked.litres() == 0 || measured.volume().litres() == 0) {
            throw new IllegalArgumentException(
                    "a comparison needs asked and measured volumes above 0 L, were "
                            + asked.litres()
                            + " and "
                            + measured.volume().litres()
                            + " L");
        }
    }

    /** (reported - measured) / measured: wrong constant or meter. */
    public Ratio meterError() {
        return reported.volume().errorAgainst(measured.volume());
    }

    /** (reported - asked) / asked: the controller cannot hold its own target. */
    public Ratio controlError() {
        return reported.volume().errorAgainst(asked);
    }

    /** (measured - asked) / asked: what the road sees. */
    public Ratio applicationError() {
        return measured.volume().errorAgainst(asked);
    }

    /** Expanded uncertainty of the meter error, as a ratio. */
    public Ratio meterErrorExpanded() {
        double over = reported.volume().litres() / measured.volume().litres();
        double fromReported = reported.standardLitres() / measured.volume().litres();
        double fromMeasured = over * measured.relativeStandard();
        return new Ratio(
                Estimate.COVERAGE
                        * Math.sqrt(fromReported * fromReported + fromMeasured * fromMeasured));
    }
}
