package catchbay.signal;

import catchbay.quantity.MassUnit;

import java.util.OptionalDouble;

/**
 * The weight frame of SMA SCP-0499, "Standard Scale Serial Communication Protocol, Levels #1 and
 * #2" (Scale Manufacturers Association, 1999, Mod 1 of 2005): 20 bytes, {@code LF status range
 * gross/net motion future weight(10) unit(3) CR}.
 *
 * <p>The frame carries no check sum: a byte changed on the wire into another that the format allows
 * in its place (one digit into another) cannot be told. Parity on the line finds most of these.
 */
public final class SmaScale {

    /** The length of a weight frame, bytes with both ends. */
    public static final int FRAME_BYTES = 20;

    private static final String NO_WEIGHT = "----------";
    private static final int WEIGHT_AT = 6;
    private static final int UNIT_AT = 16;
    private static final int END_AT = 19;

    private SmaScale() {}

    /** Ends whatever the scale is doing: Escape, of level 1, the one command without a frame. */
    public static byte[] abort() {
        return new byte[] {0x1B};
    }

    /**
     * Asks for the weight once: W, of level 1; or H, of level 2, for ten times finer steps than the
     * display has.
     */
    public static byte[] askWeight(boolean fine) {
        return command(fine ? 'H' : 'W');
    }

    /**
     * Asks for the weight again and again until the next command: R, or S for finer steps, both of
     * level 2.
     */
    public static byte[] repeatWeight(boolean fine) {
        return command(fine ? 'S' : 'R');
    }

    private static byte[] command(char letter) {
        return new byte[] {0x0A, (byte) letter, 0x0D};
    }

    /** Cuts a scale's bytes into frames for {@link #decode}. */
    public static ByteFramer framer() {
        return ByteFramer.lineFeedToReturn(FRAME_BYTES);
    }

    /** Reads one frame, line feed and carriage return included. */
    public static Decoded<ScaleFrame> decode(String frame) {
        if (frame.equals("\n?\r")) {
            return refused(
                    "the scale does not know the command, perhaps because it speaks level 1 only"
                            + " (it answered '?')");
        }
        if (frame.equals("\n!\r")) {
            return refused("the scale did not receive the command well (it answered '!')");
        }
        if (frame.length() != FRAME_BYTES
                || frame.charAt(0) != '\n'
                || frame.charAt(END_AT) != '\r') {
            return refused(
                    "a weight frame has 20 bytes from line feed to return, this one has "
                            + frame.length());
        }
        char range = frame.charAt(2);
        if (range < '1' || range > '9') {
            return refused("the range must be 1 to 9, was '" + range + "'");
        }
        char motion = frame.charAt(4);
        if (motion != 'M' && motion != ' ') {
            return refused("the motion byte must be M or blank, was '" + motion + "'");
        }
        char kind = frame.charAt(3);
        return switch (kind) {
            case 'G', 'g' -> byStatus(frame, false, motion == 'M');
            case 'N', 'n' -> byStatus(frame, true, motion == 'M');
            case 'T' -> refused("the frame carries a tare, not a load");
            default -> refused("the gross or net byte must be G, N, T, g or n, was '" + kind + "'");
        };
    }

    private static Decoded<ScaleFrame> byStatus(String frame, boolean net, boolean inMotion) {
        char status = frame.charAt(1);
        return switch (status) {
            case ' ', 'Z' -> weight(frame, net, inMotion);
            case 'O' -> noWeight("the scale is loaded over its capacity");
            case 'U' -> noWeight("the scale is loaded under its range");
            case 'E' -> dashed(frame, "the scale could not set its zero");
            case 'I' -> dashed(frame, "the scale could not set its zero when switched on");
            case 'T' -> dashed(frame, "the scale could not set its tare");
            default ->
                    refused("the status must be Z, O, U, E, I, T or blank, was '" + status + "'");
        };
    }

    private static Decoded<ScaleFrame> weight(String frame, boolean net, boolean inMotion) {
        String field = frame.substring(WEIGHT_AT, UNIT_AT);
        OptionalDouble amount = ShownNumber.of(field);
        if (amount.isEmpty()) {
            return refused("the weight '" + field + "' is not a right-justified number");
        }
        String unitField = frame.substring(UNIT_AT, END_AT);
        MassUnit unit = unit(unitField);
        if (unit == null) {
            return refused("the unit '" + unitField + "' is none of lb_, kg_, g__, t__, ton, oz_");
        }
        return new Decoded.Value<>(
                new ScaleFrame.Weight(amount.getAsDouble(), unit, net, inMotion));
    }

    private static Decoded<ScaleFrame> dashed(String frame, String reason) {
        if (!frame.startsWith(NO_WEIGHT, WEIGHT_AT)) {
            return refused("the status says that there is no weight, and yet there is one");
        }
        return noWeight(reason);
    }

    // The standard writes the pad as an underscore; indicators send that or a blank.
    private static MassUnit unit(String field) {
        return switch (field.replace(' ', '_')) {
            case "lb_" -> MassUnit.POUND;
            case "kg_" -> MassUnit.KILOGRAM;
            case "g__" -> MassUnit.GRAM;
            case "t__" -> MassUnit.TONNE;
            case "ton" -> MassUnit.SHORT_TON;
            case "oz_" -> MassUnit.OUNCE;
            default -> null;
        };
    }

    private static Decoded<ScaleFrame> noWeight(String reason) {
        return new Decoded.Value<>(new ScaleFrame.NoWeight(reason));
    }

    private static Decoded<ScaleFrame> refused(String reason) {
        return new Decoded.Refused<>(reason);
    }
}
