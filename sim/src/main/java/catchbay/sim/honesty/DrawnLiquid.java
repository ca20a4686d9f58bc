package catchbay.sim.honesty;

import catchbay.metrology.Brine;
import catchbay.metrology.DensityReading;
import catchbay.metrology.HydrometerReference;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.LiquidSource;
import catchbay.metrology.Liquids;
import catchbay.metrology.Water;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;

import java.util.Optional;

/**
 * A liquid as the bay states it, and the truth about it: strength, temperature, salts, coefficients
 * and hydrometer each off by a draw of its own, through the liquid's own curve and not through its
 * slope. What is a table's or an instrument's stays so for the bay; strength and temperature are
 * found anew each day.
 *
 * @param stated what the bay states
 * @param draw the true density on another day, kg/m3
 */
record DrawnLiquid(LiquidDensity stated, Draw draw) {

    /** Draws a true density, kg/m3. */
    @FunctionalInterface
    interface Draw {
        double on(Dice day);
    }

    /** Expanded uncertainties, k = 2; common practice, no source. */
    private static final double STRENGTH_EXPANDED = 0.005;

    private static final double KELVIN_EXPANDED = 0.5;
    private static final double GRAVITY_EXPANDED = 0.002;
    private static final double SLOPE = -0.45;
    private static final double SLOPE_EXPANDED = 0.2;

    /**
     * Draws a liquid for a bay.
     *
     * @param dice from where what is stated comes
     * @param truth from where what is wrong for good comes: table, instrument, slope
     */
    static DrawnLiquid of(Kind.Fluid fluid, Dice dice, Dice truth) {
        return switch (fluid) {
            case WATER -> water(dice.between(6, 28), truth);
            case NACL -> brine(Brine.NACL, dice.between(0.20, 0.24), dice.between(-4, 28), truth);
            case CACL2 -> brine(Brine.CACL2, dice.between(0.22, 0.31), dice.between(0, 28), truth);
            case MGCL2 -> brine(Brine.MGCL2, dice.between(0.20, 0.28), dice.between(-4, 28), truth);
            case POTASSIUM_ACETATE ->
                    brine(
                            Brine.POTASSIUM_ACETATE,
                            dice.between(0.28, 0.45),
                            dice.between(0, 28),
                            truth);
            case BLEND ->
                    blend(
                            dice.between(1.15, 1.32),
                            dice.between(8, 24),
                            dice.between(2, 28),
                            truth);
        };
    }

    private static DrawnLiquid water(double celsius, Dice truth) {
        double salts = truth.even(0.4) + truth.normal(0.002);
        LiquidDensity stated =
                known(new LiquidSource.TapWater(), celsius, Optional.of(KELVIN_EXPANDED));
        return new DrawnLiquid(
                stated,
                day -> {
                    double truly = celsius + day.normal(KELVIN_EXPANDED / 2);
                    double clean = Water.density(new Temperature(truly)).kilogramsPerCubicMetre();
                    return clean + salts;
                });
    }

    private static DrawnLiquid brine(Brine brine, double strength, double celsius, Dice truth) {
        LiquidDensity stated =
                known(
                        new LiquidSource.Computed(
                                brine,
                                new MassFraction(strength),
                                Optional.of(new Ratio(STRENGTH_EXPANDED))),
                        celsius,
                        Optional.of(KELVIN_EXPANDED));
        double coefficients =
                truth.normal(
                        stated.standardKilogramsPerCubicMetre(LiquidDensity.Part.MODEL)
                                / stated.density().kilogramsPerCubicMetre());
        return new DrawnLiquid(
                stated,
                day -> {
                    double truly = strength + day.normal(STRENGTH_EXPANDED / 2);
                    double warm = celsius + day.normal(KELVIN_EXPANDED / 2);
                    LiquidSource exact =
                            new LiquidSource.Computed(
                                    brine, new MassFraction(truly), Optional.empty());
                    return known(exact, warm, Optional.empty()).density().kilogramsPerCubicMetre()
                            * (1 + coefficients);
                });
    }

    private static DrawnLiquid blend(double gravity, double sample, double celsius, Dice truth) {
        HydrometerReference scale = HydrometerReference.SIXTY_SIXTY_FAHRENHEIT;
        LiquidDensity stated =
                known(
                        new LiquidSource.Measured(
                                Optional.empty(),
                                new DensityReading.Hydrometer(gravity, scale, GRAVITY_EXPANDED),
                                new Temperature(sample),
                                Optional.of(KELVIN_EXPANDED),
                                Optional.of(new LiquidSource.Slope(SLOPE, SLOPE_EXPANDED))),
                        celsius,
                        Optional.of(KELVIN_EXPANDED));
        double water = Water.density(scale.water()).kilogramsPerCubicMetre();
        double glass =
                DensityReading.GLASS_PER_CELSIUS
                        + truth.even(DensityReading.GLASS_PER_CELSIUS_HALF);
        double truly = gravity + truth.normal(GRAVITY_EXPANDED / 2);
        double slope = SLOPE + truth.normal(SLOPE_EXPANDED / 2);
        return new DrawnLiquid(
                stated,
                day -> {
                    double sampled = sample + day.normal(KELVIN_EXPANDED / 2);
                    double dense =
                            truly * water * (1 - glass * (sampled - scale.sample().celsius()));
                    double warm = celsius + day.normal(KELVIN_EXPANDED / 2);
                    return dense + slope * (warm - sampled);
                });
    }

    private static LiquidDensity known(
            LiquidSource source, double celsius, Optional<Double> expandedKelvin) {
        return switch (Liquids.density(source, new Temperature(celsius), expandedKelvin)) {
            case LiquidDensity.Answer.Known(LiquidDensity density) -> density;
            case LiquidDensity.Answer.Refused(String reason) -> throw new AssertionError(reason);
        };
    }
}
