package catchbay.sim.device;

import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * A truck's controller that is not there: sends a text line with its running total over a
 * pseudo-terminal.
 */
public final class StandInController implements AutoCloseable {

    /** The mark in the text that the total takes the place of. */
    public static final String TOTAL = "{total}";

    /** The mark in the text that the unit's name takes the place of. */
    public static final String UNIT = "{unit}";

    /**
     * How the controller is set.
     *
     * @param text its line, without the line end, with {@link #TOTAL} and where wanted {@link
     *     #UNIT} in it
     * @param periodNanos the period of its lines, ns, > 0
     * @param unit the unit it counts in
     * @param decimals digits behind the point, 0 to 4: its display step
     * @param link where a symbolic link to its line stands while it is plugged in
     * @param seed what its faults draw from
     */
    public record Setting(
            String text,
            long periodNanos,
            VolumeUnit unit,
            int decimals,
            Optional<Path> link,
            long seed) {

        public Setting {
            if (!text.contains(TOTAL)) {
                throw new IllegalArgumentException(
                        "the controller's text must have " + TOTAL + " in it, was '" + text + "'");
            }
            if (periodNanos <= 0) {
                throw new IllegalArgumentException(
                        "the controller's period must be > 0 ns, was " + periodNanos);
            }
            if (decimals < 0 || decimals > 4) {
                throw new IllegalArgumentException(
                        "the controller's decimals must be 0 to 4, were " + decimals);
            }
        }

        /** A plain line in US gallons with two decimals, without a link. */
        public static Setting plain(double linesPerSecond) {
            return new Setting(
                    "TOTAL " + TOTAL + " " + UNIT,
                    (long) (1e9 / linesPerSecond),
                    VolumeUnit.US_GALLON,
                    2,
                    Optional.empty(),
                    1);
        }

        /** The same with a link. */
        public Setting linkedAt(Path place) {
            return new Setting(text, periodNanos, unit, decimals, Optional.of(place), seed);
        }
    }

    private final Setting setting;
    private final Supplier<Volume> total;
    private final StandInLine line;
    private volatile VolumeUnit unit;

    /**
     * Switches the controller on.
     *
     * @param total its running total; asked for on the controller's own thread
     * @throws IOException when the pseudo-terminal or the link cannot be made
     */
    public StandInController(Setting setting, Supplier<Volume> total) throws IOException {
        this.setting = setting;
        this.total = total;
        this.unit = setting.unit;
        this.line = new StandInLine(new Voice(), setting.periodNanos, setting.link, setting.seed);
    }

    /** What a program opens to listen to it. */
    public Path path() {
        return line.path();
    }

    /** Counts in another unit from now on. */
    public void show(VolumeUnit next) {
        unit = next;
    }

    /** Has this wrong with it from now on. */
    public void fault(LineFault fault) {
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

    /** What the controller says; it listens to nothing. */
    private final class Voice implements StandInLine.Voice {

        @Override
        public byte[] heard(byte next) {
            return new byte[0];
        }

        @Override
        public byte[] unasked() {
            // A controller's display cuts off; it never shows what has not yet passed.
            double step = StrictMath.pow(10, -setting.decimals);
            double shown = StrictMath.floor(total.get().in(unit) / step + 1e-9) * step;
            String digits = String.format(Locale.ROOT, "%." + setting.decimals + "f", shown);
            String text = setting.text.replace(TOTAL, digits).replace(UNIT, unit.symbol());
            return (text + "\r\n").getBytes(StandardCharsets.ISO_8859_1);
        }
    }
}
