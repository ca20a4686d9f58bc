package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.LiquidDensity.Answer;
import catchbay.metrology.LiquidDensity.Mark;
import catchbay.metrology.LiquidDensity.Part;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Optional;

/** What a density is made of, what it is worth, and when it is refused. */
final class LiquidsTest {

    private static final HydrometerReference SIXTY = HydrometerReference.SIXTY_SIXTY_FAHRENHEIT;

    static LiquidSource measured(Brine brine, DensityReading reading, double sampleCelsius) {
        return new LiquidSource.Measured(
                Optional.ofNullable(brine),
                reading,
                new Temperature(sampleCelsius),
                Optional.empty(),
                Optional.empty());
    }

    private static LiquidSource computed(Brine brine, double w) {
        return new LiquidSource.Computed(brine, new MassFraction(w), Optional.empty());
    }

    private static LiquidDensity known(LiquidSource source, double celsius) {
        return assertInstanceOf(
                        Answer.Known.class,
                        Liquids.density(source, new Temperature(celsius), Optional.empty()))
                .density();
    }

    private static String refused(LiquidSource source, double celsius) {
        return assertInstanceOf(
                        Answer.Refused.class,
                        Liquids.density(source, new Temperature(celsius), Optional.empty()))
                .reason();
    }

    private static double kilograms(LiquidDensity density) {
        return density.density().kilogramsPerCubicMetre();
    }

    @Test
    void computedBrineCarriesItsThreeTerms() {
        LiquidDensity density =
                assertInstanceOf(
                                Answer.Known.class,
                                Liquids.density(
                                        new LiquidSource.Computed(
                                                Brine.NACL,
                                                new MassFraction(0.233),
                                                Optional.of(new Ratio(0.01))),
                                        new Temperature(10),
                                        Optional.of(10.0)))
                        .density();
        assertEquals(1179.95, kilograms(density), 0.0051);
        // By hand: 1 % of strength is 0.70 %, 10 degrees about 0.45 % (0.43 % at the cold end).
        assertEquals(
                0.0070 / 2 * 1180,
                density.standardKilogramsPerCubicMetre(Part.STRENGTH),
                0.03 * 4.13);
        assertEquals(
                0.0045 / 2 * 1180,
                density.standardKilogramsPerCubicMetre(Part.TEMPERATURE),
                0.06 * 2.65);
        assertEquals(
                0.0006 / 2 * kilograms(density),
                density.standardKilogramsPerCubicMetre(Part.MODEL),
                1e-9);
        assertEquals(0, density.standardKilogramsPerCubicMetre(Part.READING));
        double sum = 0;
        for (Part part : Part.values()) {
            sum += Math.pow(density.standardKilogramsPerCubicMetre(part), 2);
        }
        assertEquals(Math.sqrt(sum), density.standardKilogramsPerCubicMetre(), 1e-12);
        assertEquals(2 * Math.sqrt(sum), density.expandedKilogramsPerCubicMetre(), 1e-12);
        assertEquals(List.of(), density.marks());
        assertEquals(List.of(), density.warnings());
    }

    @Test
    void exactlyAskedForOnlyTheModelCounts() {
        LiquidDensity density = known(computed(Brine.NACL, 0.233), 10);
        assertEquals(0.0006 * kilograms(density), density.expandedKilogramsPerCubicMetre(), 1e-9);
        assertEquals(0.0006, density.relativeExpanded(), 1e-12);
    }

    @Test
    void belowTheFittedTemperatureIsMarkedAndWorthLess() {
        LiquidDensity density = known(computed(Brine.CACL2, 0.28), 5);
        assertEquals(List.of(Mark.BELOW_FITTED_TEMPERATURE), density.marks());
        assertEquals("below fitted temperature", density.marks().getFirst().words());
        assertEquals(0.0045, density.relativeExpanded(), 1e-12);
        assertEquals(List.of(), known(computed(Brine.CACL2, 0.28), 15).marks());
        assertEquals(
                List.of(Mark.BELOW_FITTED_TEMPERATURE, Mark.OUTSIDE_CHECKED_STRENGTHS),
                known(computed(Brine.CACL2, 0.18), 0).marks());
        known(computed(Brine.NACL, 0.233), -10);
        known(computed(Brine.MGCL2, 0.30), -10);
        known(computed(Brine.CACL2, 0.32), -10);
    }

    @Test
    void frozenCrystallisedOrOutsideIsRefused() {
        assertTrue(refused(computed(Brine.NACL, 0.10), -8).contains("ice begins at about -6.5"));
        assertTrue(refused(computed(Brine.NACL, 0.25), -9).contains("may drop salt crystals"));
        assertTrue(refused(computed(Brine.MGCL2, 0.31), -6).contains("may drop salt crystals"));
        assertTrue(refused(computed(Brine.NACL, 0.27), 20).contains("known up to 26 %"));
        assertTrue(refused(computed(Brine.NACL, 0.233), -10.1).contains("-10 to 40 C"));
        assertTrue(refused(new LiquidSource.TapWater(), -0.1).contains("0 to 40 C"));
    }

    /** 50 F typed where Celsius is meant: 50 C is no temperature of a bay, 10 C is. */
    @Test
    void fahrenheitForCelsiusIsNamed() {
        for (LiquidSource source :
                List.of(
                        computed(Brine.NACL, 0.233),
                        new LiquidSource.TapWater(),
                        measured(
                                null, new DensityReading.DensityMeter(new Density(1200), 1), 10))) {
            String refusal = refused(source, 50);
            assertTrue(refusal.contains("if 50.0 F is meant, which is 10.0 C (50.0 F)"), refusal);
        }
    }

    @Test
    void tapWaterAllowsForItsSalts() {
        LiquidDensity water = known(new LiquidSource.TapWater(), 20);
        assertEquals(998.2067, kilograms(water), 0.5e-4);
        assertEquals(
                Math.hypot(0.002, 0.4 / Math.sqrt(3)),
                water.standardKilogramsPerCubicMetre(),
                1e-12);
        assertEquals(-0.2, water.slopePerCelsius().orElseThrow(), 0.01);
    }

    @Test
    void aMeasuredDensityAtItsOwnTemperatureStaysAsItWasRead() {
        LiquidDensity density =
                known(
                        measured(
                                Brine.NACL,
                                new DensityReading.DensityMeter(new Density(1179), 1.0),
                                12),
                        12);
        assertEquals(1179, kilograms(density), 1e-9);
        assertEquals(1.0, density.expandedKilogramsPerCubicMetre(), 1e-12);
        assertEquals(0.2331, density.strength().orElseThrow().value(), 0.0002);
        assertEquals(
                "measured: density meter 1179.00 kg/m3, sample at 12.0 C (53.6 F) ="
                        + " 1179.00 kg/m3",
                density.basis());
    }

    /**
     * By hand from the check table: NaCl 23.3 % has 1177.02 kg/m3 at 60 F and 1184.96 at 0 degrees;
     * specific gravity 1.1782 (60/60) is 1177.04 at 60 F.
     */
    @Test
    void aHydrometerReadingMovesByTheSaltsSlope() {
        DensityReading reading = new DensityReading.Hydrometer(1.1782, SIXTY, 0.001);
        Temperature sixty = Temperature.SIXTY_FAHRENHEIT;
        LiquidDensity there = known(measured(Brine.NACL, reading, sixty.celsius()), 15.5556);
        assertEquals(1177.04, kilograms(there), 0.006);
        LiquidDensity cold = known(measured(Brine.NACL, reading, sixty.celsius()), 0);
        assertEquals(1184.98, kilograms(cold), 0.02);
        assertEquals(0.233, cold.strength().orElseThrow().value(), 0.0001);
        // The reading's 0.001 and the slope's 0.004 % per degree over 15.6 degrees.
        double slope = 0.00004 * 15.5556 * 1185 / 2;
        assertEquals(
                Math.hypot(0.001 * 999.017 / 2, slope),
                cold.standardKilogramsPerCubicMetre(),
                1e-3);
        assertTrue(cold.basis().contains("hydrometer 1.1782 at 60/60F"), cold.basis());
        assertTrue(cold.basis().contains("of sodium chloride brine"), cold.basis());
    }

    /** A warm glass float is larger: 10 degrees above its reference it reads 0.025 % too high. */
    @Test
    void aWarmHydrometerIsLarger() {
        DensityReading.Hydrometer reading =
                new DensityReading.Hydrometer(1.2, HydrometerReference.of("20/20C"), 0.001);
        double right = reading.sampled(new Temperature(20)).density().kilogramsPerCubicMetre();
        double warm = reading.sampled(new Temperature(30)).density().kilogramsPerCubicMetre();
        assertEquals(1.2 * 998.2067, right, 1e-4);
        assertEquals(-0.00025, warm / right - 1, 1e-9);
    }

    @Test
    void aHydrometerShowsWhatItIsReadAs() {
        Seeds.forSeeds(
                300,
                random -> {
                    HydrometerReference reference =
                            HydrometerReference.of(
                                    List.of("60/60F", "15/15C", "15/4C", "20/20C", "20/4C")
                                            .get(random.nextInt(5)));
                    Density density = new Density(1000 + 350 * random.nextDouble());
                    Temperature at = new Temperature(-5 + 40 * random.nextDouble());
                    double shown = reference.reading(density, at);
                    double back =
                            new DensityReading.Hydrometer(shown, reference, 0.001)
                                    .sampled(at)
                                    .density()
                                    .kilogramsPerCubicMetre();
                    assertEquals(density.kilogramsPerCubicMetre(), back, 1e-3);
                });
    }

    /** Worked row of the buoyancy table: 500 lb of 1179.9525 kg/m3 are 50.820022 US gal. */
    @Test
    void aWeighedVolumeIsTakenOutOfTheAir() {
        DensityReading reading =
                new DensityReading.WeighedVolume(
                        Mass.of(500, MassUnit.POUND),
                        Volume.ofUsGallons(50.820022),
                        Ratio.ofPercent(0.1),
                        Ratio.ofPercent(0.2),
                        Buoyancy.AIR);
        LiquidDensity density = known(measured(Brine.NACL, reading, 10), 10);
        assertEquals(1179.9525, kilograms(density), 1e-4);
        assertEquals(Math.hypot(0.001, 0.002), density.relativeExpanded(), 1e-12);
    }

    @Test
    void aMeasuredBrineThatIsNoneIsRefused() {
        String heavy =
                refused(
                        measured(
                                Brine.NACL,
                                new DensityReading.DensityMeter(new Density(1250), 1),
                                20),
                        20);
        assertTrue(heavy.contains("no density of sodium chloride brine"), heavy);
        assertTrue(heavy.contains("998.20 kg/m3 to 1196.67 kg/m3"), heavy);
        refused(measured(Brine.NACL, new DensityReading.DensityMeter(new Density(990), 1), 20), 20);
        String frozen =
                refused(
                        measured(
                                Brine.NACL,
                                new DensityReading.DensityMeter(new Density(1070.75), 1),
                                20),
                        -8);
        assertTrue(frozen.contains("freezes in the bay"), frozen);
    }

    @Test
    void aBlendHoldsForTwoDegreesOnly() {
        DensityReading reading = new DensityReading.DensityMeter(new Density(1300), 1);
        LiquidDensity near = known(measured(null, reading, 15), 17);
        assertEquals(1300, kilograms(near));
        assertEquals(
                Math.hypot(0.5, 0.7 * 2 / Math.sqrt(3)),
                near.standardKilogramsPerCubicMetre(),
                1e-12);
        assertTrue(near.basis().contains("taken unchanged"), near.basis());
        assertTrue(near.warnings().getFirst().contains("maker's sheet"));
        String far = refused(measured(null, reading, 15), 17.1);
        assertTrue(far.contains("enter the slope"), far);
    }

    @Test
    void aBlendMovesByAnEnteredSlope() {
        LiquidSource source =
                new LiquidSource.Measured(
                        Optional.empty(),
                        new DensityReading.DensityMeter(new Density(1300), 1),
                        new Temperature(20),
                        Optional.of(1.0),
                        Optional.of(new LiquidSource.Slope(-0.5, 0.2)));
        LiquidDensity density = known(source, 0);
        assertEquals(1310, kilograms(density), 1e-9);
        assertEquals(
                Math.sqrt(0.5 * 0.5 + 0.25 * 0.25 + 2.0 * 2.0),
                density.standardKilogramsPerCubicMetre(),
                1e-12);
        assertEquals(-0.5, density.slopePerCelsius().orElseThrow());
        assertTrue(density.basis().contains("by -0.500 kg/m3 per C as entered"), density.basis());
    }

    /** Moving there and back gives the reading again, and the strength is the same all the way. */
    @Test
    void movingIsReversible() {
        Seeds.forSeeds(
                300,
                random -> {
                    Brine brine = Brine.values()[random.nextInt(Brine.values().length)];
                    double w = 0.2 + 0.02 * random.nextDouble();
                    double from = -5 + 40 * random.nextDouble();
                    double to = -5 + 40 * random.nextDouble();
                    double start =
                            brine.density(new MassFraction(w), new Temperature(from))
                                    .kilogramsPerCubicMetre();
                    LiquidDensity there =
                            known(
                                    measured(
                                            brine,
                                            new DensityReading.DensityMeter(new Density(start), 1),
                                            from),
                                    to);
                    LiquidDensity back =
                            known(
                                    measured(
                                            brine,
                                            new DensityReading.DensityMeter(there.density(), 1),
                                            to),
                                    from);
                    assertEquals(start, kilograms(back), 1e-6);
                    assertEquals(w, there.strength().orElseThrow().value(), 1e-9);
                });
    }

    @Test
    void noUncertaintyIsNoneAtAll() {
        for (double none : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            refuses(() -> new DensityReading.Hydrometer(1.178, SIXTY, none));
            refuses(() -> new DensityReading.DensityMeter(new Density(1178), none));
            refuses(() -> new DensityReading.Salometer(88, none));
            refuses(() -> new LiquidSource.Slope(-0.5, none));
            refuses(() ->
                    Liquids.density(
                            new LiquidSource.TapWater(), new Temperature(10), Optional.of(none)));
            refuses(() ->
                    new LiquidSource.Measured(
                            Optional.empty(),
                            new DensityReading.Salometer(88, 1),
                            new Temperature(10),
                            Optional.of(none),
                            Optional.empty()));
        }
        for (double none : new double[] {0, -1}) {
            refuses(() ->
                    new LiquidSource.Computed(
                            Brine.NACL, new MassFraction(0.2), Optional.of(new Ratio(none))));
            refuses(() ->
                    new DensityReading.WeighedVolume(
                            new Mass(1.18),
                            new Volume(1),
                            new Ratio(none),
                            new Ratio(0.1),
                            Buoyancy.AIR));
        }
    }

    @Test
    void readingsInAnotherUnitAreRefused() {
        refuses(() -> new DensityReading.Hydrometer(1178, SIXTY, 0.001));
        refuses(() -> new DensityReading.DensityMeter(new Density(9.83), 1));
        refuses(() ->
                new DensityReading.WeighedVolume(
                        new Mass(9.83),
                        new Volume(1),
                        new Ratio(0.1),
                        new Ratio(0.1),
                        Buoyancy.AIR));
        refuses(() -> new LiquidSource.Slope(50, 0.1));
        refuses(() -> HydrometerReference.of("60F"));
        refuses(() -> HydrometerReference.of("60/60C"));
        refuses(() -> HydrometerReference.of("15/60"));
        refuses(() ->
                new LiquidSource.Measured(
                        Optional.of(Brine.NACL),
                        new DensityReading.DensityMeter(new Density(1178), 1),
                        new Temperature(10),
                        Optional.empty(),
                        Optional.of(new LiquidSource.Slope(-0.5, 0.1))));
    }

    @Test
    void anUnknownBrineListsTheKnownOnes() {
        String refusal = refuses(() -> Brine.ofKey("salt"));
        for (Brine brine : Brine.values()) {
            assertTrue(refusal.contains(brine.key()), refusal);
            assertEquals(brine, Brine.ofKey(brine.key()));
            assertTrue(Liquids.known().contains(brine.key()));
        }
    }

    private static String refuses(Runnable made) {
        return assertThrows(IllegalArgumentException.class, made::run).getMessage();
    }
}
