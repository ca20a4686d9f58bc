package catchbay.sim.device;

import catchbay.quantity.Mass;

import java.nio.ByteBuffer;
import java.util.Arrays;

/**
 * Answers Modbus RTU requests for registers, as station 1. Its registers, of both tables, counted
 * from 0: 0 and 1 the weight in steps of its last decimal, a signed number of 32 bits, the upper
 * half first; 2 its state, of which bit 0 says that the load moves, bit 1 that it is too heavy; 3
 * its unit, numbered in the order in which {@link catchbay.quantity.MassUnit} has them; 4 and 5 the
 * weight as a floating-point number of 32 bits, the lower half first. Lives on the line's thread.
 *
 * <p>Its own code on purpose, and not the library with which the program reads it. Source of
 * framing, functions, error codes and check: Modbus over Serial Line V1.02 (2006), 2.5.1 and 6.2.2,
 * and Modbus Application Protocol V1.1b3 (2012), 6.3, 6.4 and 7; from memory.
 */
final class ModbusVoice implements StandInLine.Voice {

    private static final int STATION = 1;
    private static final int REQUEST_BYTES = 8;
    private static final int REGISTERS = 6;
    private static final int HOLDING = 3;
    private static final int INPUT = 4;
    private static final int ILLEGAL_FUNCTION = 1;
    private static final int ILLEGAL_ADDRESS = 2;
    private static final byte[] NOTHING = new byte[0];

    private final StandInScale.Display display;
    private final byte[] last = new byte[REQUEST_BYTES];

    ModbusVoice(StandInScale.Display display) {
        this.display = display;
    }

    @Override
    public byte[] unasked() {
        return NOTHING;
    }

    /** A request is known by its check, wherever it begins. */
    @Override
    public byte[] heard(byte next) {
        System.arraycopy(last, 1, last, 0, REQUEST_BYTES - 1);
        last[REQUEST_BYTES - 1] = next;
        if (last[0] != STATION || !Arrays.equals(last, checked(last, REQUEST_BYTES - 2))) {
            return NOTHING;
        }
        byte[] answer = answer(ByteBuffer.wrap(last));
        Arrays.fill(last, (byte) 0);
        return checked(answer, answer.length);
    }

    private byte[] answer(ByteBuffer request) {
        byte function = request.get(1);
        int first = request.getShort(2) & 0xffff;
        int count = request.getShort(4) & 0xffff;
        if (function != HOLDING && function != INPUT) {
            return new byte[] {STATION, (byte) (function | 0x80), ILLEGAL_FUNCTION};
        }
        if (count == 0 || first + count > REGISTERS) {
            return new byte[] {STATION, (byte) (function | 0x80), ILLEGAL_ADDRESS};
        }
        ByteBuffer answer = ByteBuffer.allocate(3 + 2 * count);
        answer.put((byte) STATION).put(function).put((byte) (2 * count));
        answer.put(registers().array(), 2 * first, 2 * count);
        return answer.array();
    }

    private ByteBuffer registers() {
        double kilograms = display.kilograms();
        double amount = new Mass(kilograms).in(display.unit());
        int real = Float.floatToIntBits((float) amount);
        ByteBuffer all = ByteBuffer.allocate(2 * REGISTERS);
        all.putInt((int) Math.round(amount * Math.pow(10, display.decimals())));
        all.putShort((short) ((display.inMotion() ? 1 : 0) | (display.isOver(kilograms) ? 2 : 0)));
        all.putShort((short) display.unit().ordinal());
        return all.putShort((short) real).putShort((short) (real >>> 16));
    }

    /** The first bytes with their check behind them, its lower half first. */
    private static byte[] checked(byte[] bytes, int count) {
        int check = 0xffff;
        for (int i = 0; i < count; i++) {
            check ^= bytes[i] & 0xff;
            for (int bit = 0; bit < 8; bit++) {
                check = (check & 1) == 0 ? check >>> 1 : check >>> 1 ^ 0xa001;
            }
        }
        byte[] whole = Arrays.copyOf(bytes, count + 2);
        whole[count] = (byte) check;
        whole[count + 1] = (byte) (check >>> 8);
        return whole;
    }
}
