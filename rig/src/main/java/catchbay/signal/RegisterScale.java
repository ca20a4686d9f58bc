package catchbay.signal;

import catchbay.quantity.MassUnit;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Reads a scale's weight out of registers of 16 bits, as settings describe them: where the number
 * lies and how it is written, and what else says whether it may be used.
 *
 * <p>Registers carry no unit of their own: the unit is locked by the settings, and watched where
 * the scale has a register that names it.
 *
 * @param number how the weight is written
 * @param lowFirst whether the lower of two registers comes first
 * @param factor what one count is worth, in {@code unit}; finite, above 0
 * @param unit the unit that the scale is set to
 * @param weight the register of the weight, from 0; with two, the first of them
 * @param state the register of state bits, where there is one
 * @param unitName the register that names the unit, where there is one
 */
public record RegisterScale(
        Number number,
        boolean lowFirst,
        BigDecimal factor,
        MassUnit unit,
        int weight,
        Optional<State> state,
        Optional<UnitName> unitName) {

    /** The last register that can be addressed. */
    public static final int REGISTER_MAX = 65_535;

    /** How many registers one question can ask for (Modbus Application Protocol V1.1b3, 6.3). */
    private static final int SPAN_MAX = 125;

    /** How a number is written in registers. */
    public enum Number {
        /** One register, two's complement. */
        INT16(1),
        /** One register, no sign. */
        UINT16(1),
        /** Two registers, two's complement. */
        INT32(2),
        /** Two registers, no sign. */
        UINT32(2),
        /** Two registers, IEEE 754 single precision. */
        FLOAT32(2);

        private final int registers;

        Number(int registers) {
            this.registers = registers;
        }

        /** How many registers it takes. */
        public int registers() {
            return registers;
        }
    }

    /**
     * What bits of a register say; a bit is numbered from 0, the lowest.
     *
     * @param register its number, from 0
     * @param moving the bit that tells whether the load moves; none: it is never told
     * @param movingWhenSet whether a set bit says so, or a cleared one
     * @param net the bit that is set when a tare is subtracted; none: never
     * @param faults the bits of which any says that there is no weight, as a mask
     */
    public record State(
            int register, OptionalInt moving, boolean movingWhenSet, OptionalInt net, int faults) {}

    /**
     * The register that names the unit.
     *
     * @param register its number, from 0
     * @param value what it holds while the unit is the settings' own
     */
    public record UnitName(int register, int value) {}

    public RegisterScale {
        if (factor.signum() <= 0) {
            throw new IllegalArgumentException(
                    "the worth of one count must be above 0, was " + factor);
        }
    }

    /** The first register to be asked for. */
    public int first() {
        int first = weight;
        if (state.isPresent()) {
            first = Math.min(first, state.get().register);
        }
        if (unitName.isPresent()) {
            first = Math.min(first, unitName.get().register);
        }
        return first;
    }

    /**
     * How many registers are to be asked for, from the first on.
     *
     * @throws IllegalArgumentException with a sentence, when they are more than one answer can hold
     */
    public int count() {
        int last = weight + number.registers - 1;
        if (state.isPresent()) {
            last = Math.max(last, state.get().register);
        }
        if (unitName.isPresent()) {
            last = Math.max(last, unitName.get().register);
        }
        int count = last - first() + 1;
        if (last > REGISTER_MAX) {
            throw new IllegalArgumentException(
                    "a number of "
                            + number.registers
                            + " registers that begins at "
                            + weight
                            + " ends at "
                            + last
                            + ", and the last register there is is "
                            + REGISTER_MAX
                            + "; look the register up, counted from 0, or choose another number");
        }
        if (count > SPAN_MAX) {
            throw new IllegalArgumentException(
                    "the registers "
                            + first()
                            + " to "
                            + last
                            + " cannot be had by one question, which asks for at most "
                            + SPAN_MAX
                            + "; use registers that lie closer together");
        }
        return count;
    }

    /**
     * Reads what came.
     *
     * @param registers {@link #count()} registers from {@link #first()} on, each 0 to 65535
     */
    public Decoded<ScaleFrame> decode(int[] registers) {
        if (unitName.isPresent()) {
            int named = registers[unitName.get().register - first()];
            if (named != unitName.get().value) {
                return new Decoded.Refused<>(
                        "the register of the unit shows "
                                + named
                                + ", and "
                                + unitName.get().value
                                + " is set for "
                                + unit.symbol());
            }
        }
        int bits = state.map(s -> registers[s.register - first()]).orElse(0);
        int faults = bits & state.map(State::faults).orElse(0);
        if (faults != 0) {
            return new Decoded.Value<>(
                    new ScaleFrame.NoWeight(
                            "the scale's state register shows fault bits 0x"
                                    + Integer.toHexString(faults)));
        }
        boolean net = state.map(s -> isSet(bits, s.net)).orElse(false);
        return counts(registers)
                .map(counts ->
                        new ScaleFrame.Weight(
                                counts.multiply(factor).doubleValue(), unit, net, isMoving(bits)));
    }

    private boolean isMoving(int bits) {
        return state.filter(s -> s.moving.isPresent())
                .map(s -> isSet(bits, s.moving) == s.movingWhenSet)
                .orElse(false);
    }

    private static boolean isSet(int bits, OptionalInt bit) {
        return bit.isPresent() && (bits >> bit.getAsInt() & 1) == 1;
    }

    /** In decimals, so that 1234 counts of 0.01 are 12.34 to the last digit. */
    private Decoded<BigDecimal> counts(int[] registers) {
        int one = registers[weight - first()];
        return switch (number) {
            case INT16 -> whole((short) one);
            case UINT16 -> whole(one);
            case INT32 -> whole(two(registers));
            case UINT32 -> whole(Integer.toUnsignedLong(two(registers)));
            case FLOAT32 -> {
                float real = Float.intBitsToFloat(two(registers));
                yield Float.isFinite(real)
                        ? new Decoded.Value<>(new BigDecimal(Float.toString(real)))
                        : new Decoded.Refused<>("the registers of the weight hold no number");
            }
        };
    }

    private static Decoded<BigDecimal> whole(long counts) {
        return new Decoded.Value<>(BigDecimal.valueOf(counts));
    }

    private int two(int[] registers) {
        int one = registers[weight - first()];
        int other = registers[weight - first() + 1];
        return lowFirst ? other << 16 | one : one << 16 | other;
    }
}
