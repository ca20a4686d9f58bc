package catchbay.sim.device;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * A scale that is not there: speaks SMA SCP-0499 over a pseudo-terminal, either when asked or all
 * the time. It knows the commands W, P and H (weight), Z (zero), T, M and C (tare); to every other
 * it answers that it does not know it.
 */
public final class StandInScale implements AutoCloseable {

    /**
     * How the scale is set.
     *
     * @param streaming whether it sends its weight all the time instead of when asked
     * @param periodNanos the period of streaming, ns, > 0
     * @param unit the unit it shows
     * @param decimals digits behind the point, 0 to 4
     * @param capacity the most it can be loaded with; above, it says so
     * @param link where a symbolic link to its line stands while it is plugged in
     * @param seed what its faults draw from
     */
    public record Setting(
            boolean streaming,
            long periodNanos,
            MassUnit unit,
            int decimals,
            Mass capacity,
            Optional<Path> link,
            long seed) {

        public Setting {
            if (periodNanos <= 0) {
                throw new IllegalArgumentException(
                        "the scale's period must be > 0 ns, was " + periodNanos);
            }
            if (decimals < 0 || decimals > 4) {
                throw new IllegalArgumentException(
                        "the scale's decimals must be 0 to 4, were " + decimals);
            }
        }

        /**
         * A scale that answers when asked, in kilograms with two decimals, up to 5000 kg, without a
         * link.
         */
        public static Setting polled() {
            return new Setting(
                    false,
                    1,
                    MassUnit.KILOGRAM,
                    2,
                    Mass.of(5000, MassUnit.KILOGRAM),
                    Optional.empty(),
                    1);
        }

        /** A scale that sends all the time; the rest as {@link #polled()}. */
        public static Setting streaming(double framesPerSecond) {
            return polled().streamingAt(framesPerSecond);
        }

        /** The same, sending all the time. */
        public Setting streamingAt(double framesPerSecond) {
            return new Setting(
                    true, (long) (1e9 / framesPerSecond), unit, decimals, capacity, link, seed);
        }

        /** The same in another unit. */
        public Setting in(MassUnit other) {
            return new Setting(streaming, periodNanos, other, decimals, capacity, link, seed);
        }

        /** The same with a link. */
        public Setting linkedAt(Path place) {
            return new Setting(
                    streaming, periodNanos, unit, decimals, capacity, Optional.of(place), seed);
        }
    }

    private final Setting setting;
    private final Supplier<Mass> load;
    private final StandInLine line;
    private volatile MassUnit unit;
    private volatile boolean inMotion;

    /**
     * Switches the scale on.
     *
     * @param load what lies on it; asked for on the scale's own thread
     * @throws IOException when the pseudo-terminal or the link cannot be made
     */
    public StandInScale(Setting setting, Supplier<Mass> load) throws IOException {
        this.setting = setting;
        this.load = load;
        this.unit = setting.unit;
        long unaskedNanos = setting.streaming ? setting.periodNanos : Long.MAX_VALUE;
        this.line = new StandInLine(new Voice(), unaskedNanos, setting.link, setting.seed);
    }

    /** What a program opens to talk to it. */
    public Path path() {
        return line.path();
    }

    /** Shows another unit from now on. */
    public void show(MassUnit next) {
        unit = next;
    }

    /** Has this wrong with it from now on. */
    public void fault(LineFault fault) {
        inMotion = fault == LineFault.MOTION;
        line.fault(fault);
    }

    /** Pulls the plug; returns when the line is gone. */
    public void unplug() throws IOException {
        line.unplug();
    }

    /** Plugs it in again, as another pseudo-terminal under the same link. */
    public void replug() throws IOException {
        line.replug();
    }

    @Override
    public void close() {
        line.close();
    }

    /** What the scale says; lives on the line's thread. */
    private final class Voice implements StandInLine.Voice {

        private static final int COMMAND_MAX = 16;
        private static final byte ESCAPE = 0x1B;

        private final StringBuilder command = new StringBuilder();
        private double zeroKilograms;
        private double tareKilograms;

        @Override
        public byte[] unasked() {
            return weight(0);
        }

        @Override
        public byte[] heard(byte next) {
            if (next == '\n' || next == ESCAPE || command.length() == COMMAND_MAX) {
                command.setLength(0);
            }
            command.append((char) (next & 0xff));
            if (next != '\r' || command.charAt(0) != '\n') {
                return new byte[0];
            }
            String whole = command.substring(1, command.length() - 1);
            command.setLength(0);
            return answer(whole);
        }

        private byte[] answer(String whole) {
            return switch (whole) {
                case "W", "P" -> weight(0);
                case "H" -> weight(1);
                case "Z" -> {
                    zeroKilograms = inMotion ? zeroKilograms : load.get().kilograms();
                    yield inMotion ? noWeight('E') : weight(0);
                }
                case "T" -> {
                    tareKilograms = inMotion ? tareKilograms : gross();
                    yield inMotion ? noWeight('T') : weight(0);
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
            char status =
                    gross > setting.capacity.kilograms() ? 'O' : gross == 0 && !net ? 'Z' : ' ';
            return frame(status, kind, shown(gross - tareKilograms, moreDecimals));
        }

        private byte[] noWeight(char status) {
            return frame(status, 'G', "----------");
        }

        private double gross() {
            return load.get().kilograms() - zeroKilograms;
        }

        private String shown(double kilograms, int moreDecimals) {
            double amount = new Mass(kilograms).in(unit);
            String digits =
                    String.format(
                            Locale.ROOT, "%10." + (setting.decimals + moreDecimals) + "f", amount);
            return digits.substring(0, 10);
        }

        private byte[] frame(char status, char kind, String weight) {
            String padded = (unit.symbol() + "__").substring(0, 3);
            return bytes(
                    "\n"
                            + status
                            + '1'
                            + kind
                            + (inMotion ? 'M' : ' ')
                            + ' '
                            + weight
                            + padded
                            + '\r');
        }

        private static byte[] bytes(String text) {
            return text.getBytes(StandardCharsets.ISO_8859_1);
        }
    }
}
