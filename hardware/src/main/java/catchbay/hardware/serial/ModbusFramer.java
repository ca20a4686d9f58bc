package catchbay.hardware.serial;

import catchbay.signal.Framer;

import com.digitalpetri.modbus.Crc16;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.function.Consumer;

/**
 * Cuts the answers to one Modbus RTU question out of a line's bytes. An answer is known by its
 * station, its function, its length and its check, and not by the pauses between answers, which a
 * computer does not see well enough. Where these do not fit, one byte is thrown away and the next
 * is tried. Not for several threads at once.
 *
 * <p>Source: Modbus over Serial Line V1.02 (2006), 2.5.1; from memory.
 */
final class ModbusFramer implements Framer {

    /** Station, function, error code or count, and two bytes of check. */
    private static final int SHORTEST_BYTES = 5;

    private static final int CHECK_BYTES = 2;

    /** Set in the function of an answer that refuses. */
    private static final int REFUSAL = 0x80;

    private final int station;
    private final int function;
    private final byte[] held;
    private int length;
    private long frames;
    private long bytesDiscarded;
    private long framesRefused;

    /**
     * @param station who answers, 1 to 247
     * @param function the function asked for
     * @param dataBytes how many bytes of registers were asked for
     */
    ModbusFramer(int station, int function, int dataBytes) {
        this.station = station;
        this.function = function;
        this.held = new byte[SHORTEST_BYTES + dataBytes];
    }

    /** The check of the first bytes, to be sent with its lower half first. */
    static int check(byte[] bytes, int count) {
        Crc16 check = new Crc16();
        check.update(ByteBuffer.wrap(bytes, 0, count));
        return check.getValue();
    }

    @Override
    public void take(byte[] bytes, int count, Consumer<String> into) {
        for (int i = 0; i < count; i++) {
            held[length++] = bytes[i];
            look(into);
        }
    }

    @Override
    public void lose() {
        if (length > 0) {
            framesRefused++;
            bytesDiscarded += length;
            length = 0;
        }
    }

    @Override
    public Counts counts() {
        return new Counts(frames, bytesDiscarded, framesRefused);
    }

    /** Throws away from the front until what is left is an answer, or may become one. */
    private void look(Consumer<String> into) {
        while (length > 0) {
            int whole = wholeBytes();
            if (whole > length) {
                return;
            }
            if (whole > 0 && isChecked(whole)) {
                frames++;
                into.accept(new String(held, 0, whole - CHECK_BYTES, StandardCharsets.ISO_8859_1));
                drop(whole);
            } else {
                framesRefused += whole > 0 ? 1 : 0;
                bytesDiscarded++;
                drop(1);
            }
        }
    }

    /** How long the answer is that begins as these bytes do; 0 when none begins so. */
    private int wholeBytes() {
        if ((held[0] & 0xff) != station) {
            return 0;
        }
        if (length > 1 && (held[1] & 0xff) == (function | REFUSAL)) {
            return SHORTEST_BYTES;
        }
        int dataBytes = held.length - SHORTEST_BYTES;
        boolean fits =
                (length < 2 || held[1] == function)
                        && (length < 3 || (held[2] & 0xff) == dataBytes);
        return fits ? held.length : 0;
    }

    private boolean isChecked(int whole) {
        int check = held[whole - 2] & 0xff | (held[whole - 1] & 0xff) << 8;
        return check(held, whole - CHECK_BYTES) == check;
    }

    private void drop(int count) {
        byte[] rest = Arrays.copyOfRange(held, count, length);
        System.arraycopy(rest, 0, held, 0, rest.length);
        length = rest.length;
    }
}
