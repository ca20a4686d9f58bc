package catchbay.app;

import catchbay.port.Source;
import catchbay.port.Timekeeper;
import catchbay.run.Outcome;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.store.TraceFile;

import org.HdrHistogram.Histogram;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.stream.Stream;

/**
 * How long the work of a turn takes on real time, from waking up to being ready to sleep, and how
 * late turns wake up: guarded standing catches of a minute with 2000 pulses a second and a scale
 * that sends ten weights a second, traced to the disk. Prints the table of {@code
 * src/docs/performance.md}; started by {@code src/performance}.
 */
public final class TurnTimes {

    private static final int RUNS = 5;
    private static final double PULSES_PER_SECOND = 2000;

    /** The first turns meet code that was never run: they are left out. */
    private static final int WARM_TURNS = 1000;

    private static final String SETTINGS =
            PlayedBay.SETTINGS.replace("seconds = 2", "seconds = 60")
                    + """
                    [reference]
                    serial = "METER-1"
                    date = 2026-01-05
                    expiry = 2027-01-05
                    points = [
                        { flow_us_gal_per_min = 5.0, pulses_per_us_gal = 4465.0 },
                        { flow_us_gal_per_min = 100.0, pulses_per_us_gal = 4465.0 },
                    ]
                    [guard]
                    """;

    private TurnTimes() {}

    /** Takes no arguments. */
    public static void main(String[] args) throws Exception {
        List<Histogram> works = new ArrayList<>();
        List<Histogram> lates = new ArrayList<>();
        for (int run = 0; run < RUNS; run++) {
            Clock clock = new Clock();
            measure(clock);
            works.add(clock.work);
            lates.add(clock.late);
        }
        print("a turn's work", works);
        print("woken up late by", lates);
    }

    private static void print(String what, List<Histogram> runs) {
        System.out.println(
                String.format(
                        Locale.ROOT,
                        "| %s | %d | %.0f | %.0f | %.0f | %.0f |",
                        what,
                        runs.getFirst().getTotalCount(),
                        median(runs, 50),
                        median(runs, 99),
                        median(runs, 99.9),
                        median(runs, 100)));
    }

    /** The median of the runs, in microseconds. */
    private static double median(List<Histogram> runs, double percentile) {
        double[] all =
                runs.stream().mapToDouble(h -> h.getValueAtPercentile(percentile) / 1e3).toArray();
        Arrays.sort(all);
        return all[all.length / 2];
    }

    private static void measure(Clock clock) throws Exception {
        RunSetup setup = PlayedBay.setup(SETTINGS);
        Path folder = Files.createTempDirectory("turn-times");
        TraceFile file = clock.bay.begun(folder, "turns", setup);
        RunLoop.Ports played = clock.bay.ports();
        List<RunLoop.NamedSource> sources = new ArrayList<>(played.sources());
        sources.add(new RunLoop.NamedSource("pulses", new Pulses(clock.bay)));
        RunLoop.Ports ports =
                new RunLoop.Ports(
                        clock, sources, played.outputs(), played.pulses(), played.operator());
        try (TraceLog log = new ThreadedTraceLog(file);
                Progress progress = new Progress(Screen.standardError(), false)) {
            Outcome outcome = new RunLoop(ports, log, progress::after).run(setup);
            if (!(outcome instanceof Outcome.Measured)) {
                throw new AssertionError("the catch was not measured: " + outcome);
            }
        }
        try (Stream<Path> traces = Files.list(folder)) {
            for (Path trace : traces.toList()) {
                Files.delete(trace);
            }
        }
        Files.delete(folder);
    }

    /** Real time; the played bay's clock follows it. */
    private static final class Clock implements Timekeeper {
        private final PlayedBay bay = new PlayedBay();
        private final Histogram work = new Histogram(60_000_000_000L, 3);
        private final Histogram late = new Histogram(60_000_000_000L, 3);
        private final long offset = PlayedBay.START_NANOS - System.nanoTime();
        private long wokenNanos = Long.MIN_VALUE;
        private int turns;

        @Override
        public long monotonicNanos() {
            return bay.nowNanos();
        }

        @Override
        public Instant wallTime() {
            return bay.time.wallTime();
        }

        @Override
        public String bootId() {
            return bay.time.bootId();
        }

        @Override
        public void sleepUntil(long deadlineNanos) {
            boolean counts = turns++ >= WARM_TURNS;
            long ready = System.nanoTime() + offset;
            if (counts) {
                work.recordValue(ready - wokenNanos);
            }
            for (long left = deadlineNanos - ready;
                    left > 0;
                    left = deadlineNanos - System.nanoTime() - offset) {
                LockSupport.parkNanos(left);
            }
            wokenNanos = System.nanoTime() + offset;
            if (counts) {
                late.recordValue(Math.max(0, wokenNanos - deadlineNanos));
            }
            bay.time.sleepUntil(wokenNanos);
        }
    }

    /** The reference meter's line: pulses as long as liquid flows. */
    private static final class Pulses implements Source {
        private final PlayedBay bay;
        private long next = Long.MIN_VALUE;
        private long sequence = 1;

        Pulses(PlayedBay bay) {
            this.bay = bay;
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            if (!bay.flows()) {
                next = Long.MIN_VALUE;
                return;
            }
            long spacing = (long) (1e9 / PULSES_PER_SECOND);
            next = next == Long.MIN_VALUE ? bay.nowNanos() : next;
            int count = (int) ((bay.nowNanos() - next) / spacing);
            if (count > 0) {
                long[] stamps = new long[count];
                for (int i = 0; i < count; i++) {
                    stamps[i] = next + i * spacing;
                }
                into.accept(
                        new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(sequence, stamps)));
                sequence += count;
                next += count * spacing;
            }
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }
}
