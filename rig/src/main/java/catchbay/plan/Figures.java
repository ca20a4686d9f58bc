package catchbay.plan;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;

/** Figures within sentences, with four digits that matter. */
final class Figures {

    private Figures() {}

    static String number(double value) {
        return Numeral.of(new BigDecimal(value), 4);
    }

    static String gallons(Volume volume) {
        return number(volume.usGallons()) + " US gal";
    }

    static String flow(FlowRate flow) {
        return number(flow.perMinute(VolumeUnit.US_GALLON)) + " US gal/min";
    }

    /** Each once, as in {@code 2.5, 5 and 10 US gal/min}. */
    static String flows(List<FlowRate> flows) {
        List<String> figures =
                flows.stream()
                        .map(flow -> number(flow.perMinute(VolumeUnit.US_GALLON)))
                        .distinct()
                        .toList();
        int last = figures.size() - 1;
        return (last == 0 ? "" : String.join(", ", figures.subList(0, last)) + " and ")
                + figures.get(last)
                + " US gal/min";
    }

    static String percent(Ratio ratio) {
        return Numeral.of(new BigDecimal(ratio.percent(), new MathContext(2))) + " %";
    }

    static String seconds(long nanos) {
        return number(nanos / 1e9) + " s";
    }
}
