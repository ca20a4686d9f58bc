package catchbay.hardware.rounds;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.Source;
import catchbay.run.RunInput;

import java.util.List;
import java.util.concurrent.atomic.AtomicReferenceArray;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * Slow sensors as a source of inputs. Reading the file of one may take most of a second: a thread
 * of its own goes round them, and the loop finds of each what was read last. What they tell is a
 * state and no event, so a reading that the loop has not fetched is replaced by the next, and
 * nothing can overflow.
 */
public final class RoundReader implements Source {

    /** A round is begun so often, where reading leaves time for it. Common practice, no source. */
    public static final long ROUND_NANOS = 1_000_000_000L;

    private static final long CLOSE_MILLIS_MAX = 2000;

    private final String name;
    private final List<Supplier<RunInput>> sensors;
    private final MonotonicClock clock;
    private final AtomicReferenceArray<RunInput> latest;
    private final Thread reader;
    private volatile boolean closing;
    private volatile Throwable bug;

    private RoundReader(String name, List<Supplier<RunInput>> sensors, MonotonicClock clock) {
        this.name = name;
        this.sensors = List.copyOf(sensors);
        this.clock = clock;
        this.latest = new AtomicReferenceArray<>(sensors.size());
        this.reader = new Thread(this::read, name);
        reader.setDaemon(true);
        reader.setUncaughtExceptionHandler((thread, thrown) -> bug = thrown);
    }

    /**
     * Starts going round.
     *
     * @param name what the sensors are called together
     * @param sensors each reads one of them, stamped when its reading was there; a sensor that
     *     cannot be read is a reading too
     */
    public static RoundReader open(
            String name, List<Supplier<RunInput>> sensors, MonotonicClock clock) {
        RoundReader source = new RoundReader(name, sensors, clock);
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
            throw new IllegalStateException("the reader of the " + name + " has failed", found);
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
            for (int i = 0; i < sensors.size() && !closing; i++) {
                latest.set(i, sensors.get(i).get());
            }
            for (long left = next - clock.nanos();
                    left > 0 && !closing;
                    left = next - clock.nanos()) {
                LockSupport.parkNanos(left);
            }
        }
    }
}
