package catchbay.plan;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.math.BigDecimal;
import java.math.MathContext;

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

    static String percent(Ratio ratio) {
        return Numeral.of(new BigDecimal(ratio.percent(), new MathContext(2))) + " %";
    }

    static String seconds(long nanos) {
        return number(nanos / 1e9) + " s";
    }
}
