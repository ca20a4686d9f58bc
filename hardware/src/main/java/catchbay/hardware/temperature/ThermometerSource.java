package catchbay.hardware.temperature;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;
import catchbay.signal.ThermometerText;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.atomic.AtomicReferenceArray;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;

/**
 * The kernel's thermometers as a source of inputs. A sensor on 1-wire is asked by reading its file,
 * which takes three quarters of a second: a thread of its own goes round them, and the loop finds
 * of each what was read last. A temperature is a state and no event, so one that the loop has not
 * fetched is replaced by the next, and nothing can overflow.
 */
final class ThermometerSource implements Source {

    /** A round is begun so often, where reading leaves time for it. Common practice, no source. */
    static final long ROUND_NANOS = 1_000_000_000L;

    private static final long CLOSE_MILLIS_MAX = 2000;

    private final Map<TemperaturePlace, Path> files;
    private final MonotonicClock clock;
    private final AtomicReferenceArray<RunInput> latest =
            new AtomicReferenceArray<>(TemperaturePlace.values().length);
    private final Thread reader;
    private volatile boolean closing;
    private volatile Throwable bug;

    private ThermometerSource(Map<TemperaturePlace, Path> files, MonotonicClock clock) {
        this.files = new EnumMap<>(files);
        this.clock = clock;
        this.reader = new Thread(this::read, "thermometers");
        reader.setDaemon(true);
        reader.setUncaughtExceptionHandler((thread, thrown) -> bug = thrown);
    }

    /** Starts reading these files. */
    static ThermometerSource open(Map<TemperaturePlace, Path> files, MonotonicClock clock) {
        ThermometerSource source = new ThermometerSource(files, clock);
        source.reader.start();
        return source;
    }

    @Override
    public void drain(Consumer<RunInput> into) {
        for (int i = 0; i < latest.length(); i++) {
            RunInput next = latest.getAndSet(i, null);
            if (next != null) {
                into.accept(next);
            }
        }
        Throwable found = bug;
        if (found != null) {
            throw new IllegalStateException("the reader of the thermometers has failed", found);
        }
    }

    @Override
    public void close() {
        closing = true;
        LockSupport.unpark(reader);
        try {
            reader.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void read() {
        while (!closing) {
            long next = clock.nanos() + ROUND_NANOS;
            for (Map.Entry<TemperaturePlace, Path> sensor : files.entrySet()) {
                if (closing) {
                    return;
                }
                TemperatureReading reading = reading(sensor.getValue());
                latest.set(
                        sensor.getKey().ordinal(),
                        new RunInput.Thermometer(clock.nanos(), sensor.getKey(), reading));
            }
            for (long left = next - clock.nanos();
                    left > 0 && !closing;
                    left = next - clock.nanos()) {
                LockSupport.parkNanos(left);
            }
        }
    }

    /** A sensor that has come off is a reading that is missing: it may be plugged in again. */
    private static TemperatureReading reading(Path file) {
        try (InputStream text = Files.newInputStream(file)) {
            byte[] bytes = text.readNBytes(ThermometerText.CHARACTERS_MAX + 1);
            return ThermometerText.read(new String(bytes, StandardCharsets.ISO_8859_1));
        } catch (IOException gone) {
            return new TemperatureReading.Missing("its file " + file + " cannot be read");
        }
    }
}
