package catchbay.sim.device;

import catchbay.quantity.Mass;

import java.nio.charset.StandardCharsets;
import java.util.Locale;

/**
 * Speaks SMA SCP-0499. It knows the commands W, P (weight), H, Q (ten times finer), R, S (the same
 * again and again, until the next command), Z (zero), T, M and C (tare) and Escape, which ends what
 * is under way; to every other it answers that it does not know it. Lives on the line's thread.
 */
final class SmaVoice implements StandInLine.Voice {

    private static final int COMMAND_MAX = 16;
    private static final byte ESCAPE = 0x1B;
    private static final byte[] NOTHING = new byte[0];

    private final StandInScale.Display display;
    private final boolean streaming;
    private final StringBuilder command = new StringBuilder();
    private String repeated = "";
    private double zeroKilograms;
    private double tareKilograms;

    /**
     * @param streaming whether it sends its weight all the time instead of when asked
     */
    SmaVoice(StandInScale.Display display, boolean streaming) {
        this.display = display;
        this.streaming = streaming;
    }

    @Override
    public byte[] unasked() {
        if (repeated.isEmpty()) {
            return streaming ? weight(0) : NOTHING;
        }
        return weight(repeated.equals("S") ? 1 : 0);
    }

    @Override
    public byte[] heard(byte next) {
        if (next == ESCAPE) {
            repeated = "";
            command.setLength(0);
            return NOTHING;
        }
        if (next == '\n' || command.length() == COMMAND_MAX) {
            command.setLength(0);
        }
        command.append((char) (next & 0xff));
        if (next != '\r' || command.charAt(0) != '\n') {
            return NOTHING;
        }
        String whole = command.substring(1, command.length() - 1);
        command.setLength(0);
        repeated = "";
        return answer(whole);
    }

    private byte[] answer(String whole) {
        return switch (whole) {
            case "W", "P" -> weight(0);
            case "H", "Q" -> weight(1);
            case "R", "S" -> {
                repeated = whole;
                yield NOTHING;
            }
            case "Z" -> {
                zeroKilograms = display.inMotion() ? zeroKilograms : display.kilograms();
                yield display.inMotion() ? noWeight('E') : weight(0);
            }
            case "T" -> {
                tareKilograms = display.inMotion() ? tareKilograms : gross();
                yield display.inMotion() ? noWeight('T') : weight(0);
            }
            case "C" -> {
                tareKilograms = 0;
                yield weight(0);
            }
            case "M" -> frame(' ', 'T', shown(tareKilograms, 0));
            default -> bytes("\n?\r");
        };
    }

    private byte[] weight(int moreDecimals) {
        double gross = gross();
        boolean net = tareKilograms != 0;
        char kind = moreDecimals > 0 ? (net ? 'n' : 'g') : (net ? 'N' : 'G');
        char status = display.isOver(gross) ? 'O' : gross == 0 && !net ? 'Z' : ' ';
        return frame(status, kind, shown(gross - tareKilograms, moreDecimals));
    }

    private byte[] noWeight(char status) {
        return frame(status, 'G', "----------");
    }

    private double gross() {
        return display.kilograms() - zeroKilograms;
    }

    private String shown(double kilograms, int moreDecimals) {
        double amount = new Mass(kilograms).in(display.unit());
        String form = "%10." + (display.decimals() + moreDecimals) + "f";
        return String.format(Locale.ROOT, form, amount).substring(0, 10);
    }

    private byte[] frame(char status, char kind, String weight) {
        String padded = (display.unit().symbol() + "__").substring(0, 3);
        char motion = display.inMotion() ? 'M' : ' ';
        return bytes("\n" + status + '1' + kind + motion + ' ' + weight + padded + '\r');
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.ISO_8859_1);
    }
}
