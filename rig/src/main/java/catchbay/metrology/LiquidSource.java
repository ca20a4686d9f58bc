package catchbay.metrology;

import catchbay.quantity.MassFraction;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;

import java.util.Optional;

/** From what the density of a liquid is learned. Uncertainties are expanded, k = 2. */
public sealed interface LiquidSource {

    /** Clean tap water: computed, with an allowance for the salts that are dissolved in it. */
    record TapWater() implements LiquidSource {}

    /** Above this an uncertainty of a strength is a slip of a percentage for a fraction. */
    double STRENGTH_EXPANDED_MAX = 0.1;

    /**
     * A salt brine of a known strength: computed.
     *
     * @param brine which salt
     * @param strength how strong
     * @param strengthExpanded in mass fraction, above 0; empty when the density is asked for at
     *     exactly this strength
     */
    record Computed(Brine brine, MassFraction strength, Optional<Ratio> strengthExpanded)
            implements LiquidSource {
        public Computed {
            strengthExpanded.ifPresent(u -> {
                positive("uncertainty of the strength", u.value(), "");
                if (u.value() > STRENGTH_EXPANDED_MAX) {
                    throw new IllegalArgumentException(
                            "an uncertainty of the strength of "
                                    + u.percent()
                                    + " % is understood, and no brine is known so badly;"
                                    + " for 0.5 % give 0.005 as a fraction, or 0.5 in per"
                                    + " cent");
                }
            });
        }
    }

    /**
     * A sample of which the density was measured. It beats a computed density, and is the only way
     * for a commercial blend.
     *
     * @param brine which salt; empty for a blend
     * @param reading what was read
     * @param sample how warm the sample was
     * @param sampleExpandedKelvin above 0; empty when it is taken as exact
     * @param slope the blend's change of density with temperature, from its maker's sheet; a brine
     *     has its own
     */
    record Measured(
            Optional<Brine> brine,
            DensityReading reading,
            Temperature sample,
            Optional<Double> sampleExpandedKelvin,
            Optional<Slope> slope)
            implements LiquidSource {
        public Measured {
            sampleExpandedKelvin.ifPresent(
                    u -> positive("uncertainty of the sample's temperature", u, " C"));
            if (brine.isPresent() && slope.isPresent()) {
                throw new IllegalArgumentException(
                        "the change of density with temperature of "
                                + brine.get().words()
                                + " is known; leave the slope out, or enter the liquid as a"
                                + " blend");
            }
            if (reading instanceof DensityReading.Salometer
                    && brine.filter(b -> b == Brine.NACL).isEmpty()) {
                throw new IllegalArgumentException(
                        "a salometer's scale is for nacl only; read this liquid with a"
                                + " hydrometer in specific gravity");
            }
        }
    }

    /**
     * Change of a blend's density with temperature.
     *
     * @param kilogramsPerCubicMetrePerCelsius usually below 0; from -2 to 1
     * @param expanded its expanded uncertainty, in the same unit; above 0
     */
    record Slope(double kilogramsPerCubicMetrePerCelsius, double expanded) {
        public Slope {
            if (!(kilogramsPerCubicMetrePerCelsius >= -2
                    && kilogramsPerCubicMetrePerCelsius <= 1)) {
                throw new IllegalArgumentException(
                        "the change of a liquid's density with temperature is from -2 to 1 kg/m3"
                                + " per degree Celsius (brines: about -0.5), not "
                                + kilogramsPerCubicMetrePerCelsius);
            }
            positive("uncertainty of the slope", expanded, " kg/m3 per degree Celsius");
        }
    }

    private static void positive(String what, double number, String unit) {
        if (!Double.isFinite(number) || number <= 0) {
            throw new IllegalArgumentException(
                    "the " + what + " must be finite and above 0" + unit + ", was " + number);
        }
    }
}
