package catchbay.quantity;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

import java.util.List;
import java.util.function.DoubleConsumer;
import java.util.stream.Stream;

/** Every quantity refuses what is no number of it, and says which number that was. */
final class RefusalsTest {

    private record Made(String name, boolean zero, boolean negative, DoubleConsumer by) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static Stream<Made> quantities() {
        return Stream.of(
                new Made("volume", true, false, Volume::new),
                new Made("volume of", true, false, v -> Volume.of(v, VolumeUnit.US_GALLON)),
                new Made("gallons", true, false, Volume::ofUsGallons),
                new Made("flow", true, false, FlowRate::new),
                new Made(
                        "flow a minute", true, false, v -> FlowRate.perMinute(v, VolumeUnit.LITRE)),
                new Made("density", false, false, Density::new),
                new Made("pounds a gallon", false, false, Density::ofPoundsPerUsGallon),
                new Made("distance", true, false, Distance::new),
                new Made("miles", true, false, Distance::ofMiles),
                new Made("speed", true, false, Speed::new),
                new Made("mph", true, false, Speed::ofMilesPerHour),
                new Made("km/h", true, false, Speed::ofKilometresPerHour),
                new Made("per lane", true, false, LiquidPerLane::new),
                new Made("per lane-mile", true, false, LiquidPerLane::ofUsGallonsPerLaneMile),
                new Made("per salt", true, false, LiquidPerSalt::new),
                new Made("per ton", true, false, LiquidPerSalt::ofUsGallonsPerTon),
                new Made("salt", true, false, SaltPerDistance::new),
                new Made("tons a mile", true, false, SaltPerDistance::ofTonsPerMile),
                new Made("pounds", true, false, v -> SaltPerDistance.ofPoundsPerLaneMile(v, 1)),
                new Made("lanes", false, false, v -> SaltPerDistance.ofPoundsPerLaneMile(1, v)),
                new Made(
                        "lanes of liquid",
                        false,
                        false,
                        v -> new LiquidPerLane(1).over(new Distance(1), v)),
                new Made("constant", false, false, PulseConstant::new),
                new Made("constant per", false, false, v -> PulseConstant.per(v, VolumeUnit.LITRE)),
                new Made("pulses", true, false, v -> new PulseConstant(1).volumeOf(v)),
                new Made("mass", true, true, Mass::new),
                new Made("mass of", true, true, v -> Mass.of(v, MassUnit.POUND)),
                new Made("pressure", true, true, Pressure::new),
                new Made("psi", true, true, Pressure::ofPsi),
                new Made("ratio", true, true, Ratio::new),
                new Made("per cent", true, true, Ratio::ofPercent));
    }

    @ParameterizedTest
    @MethodSource("quantities")
    void noQuantityTakesWhatIsNoNumberOfIt(Made made) {
        for (double value :
                List.of(Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY)) {
            assertRefused(made, value);
        }
        if (made.zero) {
            assertDoesNotThrow(() -> made.by.accept(0));
            assertDoesNotThrow(() -> made.by.accept(-0.0));
        } else {
            assertRefused(made, 0);
        }
        if (made.negative) {
            assertDoesNotThrow(() -> made.by.accept(-1));
        } else {
            assertRefused(made, -1);
        }
        assertDoesNotThrow(() -> made.by.accept(1));
    }

    private static void assertRefused(Made made, double value) {
        IllegalArgumentException refusal =
                assertThrows(
                        IllegalArgumentException.class, () -> made.by.accept(value), made.name);
        assertTrue(refusal.getMessage().contains(String.valueOf(value)), refusal.getMessage());
        assertTrue(refusal.getMessage().contains("must be"), refusal.getMessage());
    }

    @Test
    void anAmountTooLargeForItsUnitIsRefused() {
        assertThrows(
                IllegalArgumentException.class,
                () -> Volume.of(Double.MAX_VALUE, VolumeUnit.US_GALLON));
        assertThrows(
                IllegalArgumentException.class, () -> Mass.of(Double.MAX_VALUE, MassUnit.TONNE));
    }

    @Test
    void minusZeroIsZero() {
        assertEquals(Volume.ZERO, new Volume(-0.0));
        assertEquals(new Mass(0), new Mass(-0.0));
        assertEquals(Ratio.ZERO, new Ratio(-0.0));
    }

    @Test
    void noErrorAgainstNothing() {
        Volume one = Volume.ofUsGallons(1);
        assertThrows(IllegalArgumentException.class, () -> one.errorAgainst(Volume.ZERO));
        assertEquals(0.5, Volume.ofUsGallons(1.5).errorAgainst(one).value(), 1e-15);
        assertEquals(-1, Volume.ZERO.errorAgainst(one).value());
    }

    @Test
    void unknownUnitsAreListed() {
        String mass =
                assertThrows(IllegalArgumentException.class, () -> MassUnit.ofSymbol("stone"))
                        .getMessage();
        for (MassUnit unit : MassUnit.values()) {
            assertTrue(mass.contains(unit.symbol()), mass);
        }
        String volume =
                assertThrows(IllegalArgumentException.class, () -> VolumeUnit.ofSuffix("pint"))
                        .getMessage();
        for (VolumeUnit unit : VolumeUnit.values()) {
            assertTrue(volume.contains(unit.suffix()), volume);
        }
    }
}
