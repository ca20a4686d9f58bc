package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.MassUnit;
import catchbay.signal.RegisterScale.Number;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.OptionalInt;

class RegisterScaleTest {

    /**
     * Two's complement by its definition; singles from IEEE 754: 0x3F800000 is 1, 0xC2ED4000 is
     * -118.625 (the worked example of many textbooks), 0x414570A4 is nearest to 12.34.
     */
    @ParameterizedTest
    @CsvSource({
        "INT16, 04D2, 0000, false, 12.34",
        "INT16, FFFF, 0000, false, -0.01",
        "UINT16, FFFF, 0000, false, 655.35",
        "INT32, 0001, 0000, false, 655.36",
        "INT32, 0000, 0001, true, 655.36",
        "INT32, FFFF, FFFE, false, -0.02",
        "UINT32, FFFF, FFFE, false, 42949672.94",
        "FLOAT32, 3F80, 0000, false, 0.01",
        "FLOAT32, 4000, C2ED, true, -1.18625",
        "FLOAT32, 4145, 70A4, false, 0.1234"
    })
    void numbersAsTheyAreWritten(
            Number number, String first, String second, boolean lowFirst, double amount) {
        int[] registers = {Integer.parseInt(first, 16), Integer.parseInt(second, 16)};
        RegisterScale scale = scale(number, lowFirst, 0, Optional.empty(), Optional.empty());
        assertEquals(
                new Decoded.Value<>(new ScaleFrame.Weight(amount, MassUnit.KILOGRAM, false, false)),
                scale.decode(registers));
    }

    /** IEEE 754: 0x7FC00000 is not a number, 0x7F800000 is infinite. */
    @ParameterizedTest
    @CsvSource({"7FC0", "7F80", "FF80"})
    void whatIsNoNumberIsRefused(String high) {
        RegisterScale scale = scale(Number.FLOAT32, false, 0, Optional.empty(), Optional.empty());
        assertInstanceOf(
                Decoded.Refused.class, scale.decode(new int[] {Integer.parseInt(high, 16), 0}));
    }

    @Test
    void stateBitsSayWhetherItMovesIsNetOrHasNoWeight() {
        Optional<RegisterScale.State> state =
                Optional.of(
                        new RegisterScale.State(
                                3, OptionalInt.of(15), false, OptionalInt.of(0), 0b0110));
        RegisterScale scale = scale(Number.INT16, false, 5, state, Optional.empty());
        assertEquals(3, scale.first());
        assertEquals(3, scale.count());
        assertEquals(weight(false, false), scale.decode(new int[] {0x8000, 7, 1234}));
        assertEquals(weight(false, true), scale.decode(new int[] {0x0000, 7, 1234}));
        assertEquals(weight(true, false), scale.decode(new int[] {0x8001, 7, 1234}));
        assertEquals(
                new Decoded.Value<>(
                        new ScaleFrame.NoWeight("the scale's state register shows fault bits 0x4")),
                scale.decode(new int[] {0x8004, 7, 1234}));
    }

    /** A weight in another unit than the set one must never be taken. */
    @Test
    void anotherUnitThanTheSetOneIsRefused() {
        RegisterScale scale =
                scale(
                        Number.INT16,
                        false,
                        0,
                        Optional.empty(),
                        Optional.of(new RegisterScale.UnitName(1, 2)));
        assertEquals(weight(false, false), scale.decode(new int[] {1234, 2}));
        assertEquals(
                new Decoded.Refused<>("the register of the unit shows 3, and 2 is set for kg"),
                scale.decode(new int[] {1234, 3}));
    }

    /** 125 registers: Modbus Application Protocol V1.1b3, 6.3. */
    @Test
    void registersTooFarApartForOneQuestionAreRefused() {
        Optional<RegisterScale.UnitName> far = Optional.of(new RegisterScale.UnitName(126, 0));
        assertEquals(125, scale(Number.INT16, false, 2, Optional.empty(), far).count());
        RegisterScale scale = scale(Number.INT16, false, 1, Optional.empty(), far);
        String message = assertThrows(IllegalArgumentException.class, scale::count).getMessage();
        assertTrue(message.contains("1 to 126 cannot be had by one question"), message);
        RegisterScale beyond =
                scale(Number.INT32, false, 65_535, Optional.empty(), Optional.empty());
        String end = assertThrows(IllegalArgumentException.class, beyond::count).getMessage();
        assertTrue(end.contains("begins at 65535 ends at 65536"), end);
        assertTrue(end.endsWith("counted from 0, or choose another number"), end);
    }

    private static Decoded<ScaleFrame> weight(boolean net, boolean moving) {
        return new Decoded.Value<>(new ScaleFrame.Weight(12.34, MassUnit.KILOGRAM, net, moving));
    }

    private static RegisterScale scale(
            Number number,
            boolean lowFirst,
            int register,
            Optional<RegisterScale.State> state,
            Optional<RegisterScale.UnitName> unitName) {
        return new RegisterScale(
                number,
                lowFirst,
                new BigDecimal("0.01"),
                MassUnit.KILOGRAM,
                register,
                state,
                unitName);
    }
}
