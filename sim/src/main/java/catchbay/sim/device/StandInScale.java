package catchbay.sim.device;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Supplier;

/** A scale that is not there: speaks over a pseudo-terminal, in one of several ways. */
public final class StandInScale implements AutoCloseable {

    /** How a scale speaks. */
    public enum Speech {
        /** SMA SCP-0499, when asked: see {@link SmaVoice}. */
        SMA_POLLED,
        /** The same, sending all the time. */
        SMA_STREAMING,
        /** Modbus registers, when asked: see {@link ModbusVoice}. */
        MODBUS
    }

    /**
     * How the scale is set.
     *
     * @param speech how it speaks
     * @param periodNanos the period in which it sends what is not asked for anew, ns, > 0
     * @param unit the unit it shows
     * @param decimals digits behind the point, 0 to 4
     * @param capacity the most it can be loaded with; above, it says so
     * @param link where a symbolic link to its line stands while it is plugged in
     * @param seed what its faults draw from
     */
    public record Setting(
            Speech speech,
            long periodNanos,
            MassUnit unit,
            int decimals,
            Mass capacity,
            Optional<Path> link,
            long seed) {

        /** Ten a second: common practice, no source. */
        private static final long PERIOD_NANOS = 100_000_000;

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
                    Speech.SMA_POLLED,
                    PERIOD_NANOS,
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
                    Speech.SMA_STREAMING,
                    (long) (1e9 / framesPerSecond),
                    unit,
                    decimals,
                    capacity,
                    link,
                    seed);
        }

        /** The same in another period. */
        public Setting every(long nanos) {
            return new Setting(speech, nanos, unit, decimals, capacity, link, seed);
        }

        /** The same, as Modbus registers. */
        public Setting ofRegisters() {
            return new Setting(Speech.MODBUS, periodNanos, unit, decimals, capacity, link, seed);
        }

        /** The same in another unit. */
        public Setting in(MassUnit other) {
            return new Setting(speech, periodNanos, other, decimals, capacity, link, seed);
        }

        /** The same with a link. */
        public Setting linkedAt(Path place) {
            return new Setting(
                    speech, periodNanos, unit, decimals, capacity, Optional.of(place), seed);
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
        this.line = new StandInLine(voice(), setting.periodNanos, setting.link, setting.seed);
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

    private StandInLine.Voice voice() {
        Display display = new Display();
        return switch (setting.speech) {
            case SMA_POLLED -> new SmaVoice(display, false);
            case SMA_STREAMING -> new SmaVoice(display, true);
            case MODBUS -> new ModbusVoice(display);
        };
    }

    /** What the scale shows at this moment; asked for on the line's thread. */
    final class Display {

        double kilograms() {
            return load.get().kilograms();
        }

        MassUnit unit() {
            return unit;
        }

        int decimals() {
            return setting.decimals;
        }

        boolean inMotion() {
            return inMotion;
        }

        boolean isOver(double kilograms) {
            return kilograms > setting.capacity.kilograms();
        }
    }
}
