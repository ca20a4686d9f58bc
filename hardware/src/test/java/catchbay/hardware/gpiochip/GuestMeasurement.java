package catchbay.hardware.gpiochip;

import catchbay.port.Source;
import catchbay.signal.PulseLine;

import java.io.BufferedReader;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadInfo;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;

/**
 * Measures the shipped reader beside a minimal one in C and gpiomon, one after the other on the
 * same line of the simulated chip, and prints tables for docs/performance.md. Run in the kernel
 * guest only, on one processor, by src/kernel-guest/measure.
 */
final class GuestMeasurement {

    private static final int LINE = GuestDoor.LINE;
    private static final int[] HERTZ = {500, 1000, 2000, 4000, 8000, 16_000, 0};
    private static final int SECONDS = 4;
    private static final int EDGES_MAX = 8000;
    private static final int FLAT_OUT_EDGES = 50_000;
    private static final int WARM_UP_EDGES = 50_000;
    private static final int STALLED_HERTZ = 2000;
    private static final int[] STALL_MILLIS = {
        5, 10, 20, 50, 100, 200, 400, 500, 600, 800, 1000, 1500, 2000, 3000
    };

    private final SimulatedChip simulated;

    private GuestMeasurement(SimulatedChip simulated) {
        this.simulated = simulated;
    }

    /**
     * @param arguments how many edges the soak takes
     */
    public static void main(String[] arguments) throws Exception {
        int soak = Integer.parseInt(arguments[0]);
        try (SimulatedChip simulated = new SimulatedChip("bay", GuestDoor.CHIP, 8)) {
            GuestMeasurement measurement = new GuestMeasurement(simulated);
            measurement.ours(WARM_UP_EDGES, 0, 0);
            measurement.rates();
            measurement.stalls();
            measurement.soak(soak);
        }
        System.out.println("guest: measured");
    }

    /** Who reads. */
    private enum Reader {
        OURS("ours"),
        C("C"),
        GPIOMON("gpiomon");

        private final String name;

        Reader(String name) {
            this.name = name;
        }
    }

    /**
     * What a reader made of edges.
     *
     * @param millis how long the edges took
     * @param missing by number; -1 where the reader knows no numbers
     * @param reading CPU time of the thread that reads
     * @param cpu CPU time of its whole process
     */
    private record Reading(
            int made, long millis, long received, long missing, Duration reading, Duration cpu) {

        long lost() {
            return made - received;
        }

        long hertz() {
            return millis == 0 ? 0 : Math.round(made * 1000.0 / millis);
        }

        double micros(Duration time) {
            return time.toNanos() / 1000.0 / made;
        }
    }

    private void rates() throws Exception {
        System.out.println(
                "table: | edges/s asked | reader | edges/s made | edges made | lost | of them"
                        + " missing by number | CPU an edge, µs: reading thread | whole process |");
        System.out.println("table: | --- | --- | --- | --- | --- | --- | --- | --- |");
        for (int hertz : HERTZ) {
            int edges = hertz == 0 ? FLAT_OUT_EDGES : Math.min(EDGES_MAX, SECONDS * hertz);
            for (Reader reader : Reader.values()) {
                Reading reading = read(reader, edges, hertz == 0 ? 0 : 1_000_000 / hertz, 0);
                System.out.printf(
                        Locale.ROOT,
                        "table: | %s | %s | %d | %d | %d | %s | %.0f | %.0f |%n",
                        hertz == 0 ? "flat out" : hertz,
                        reader.name,
                        reading.hertz(),
                        edges,
                        reading.lost(),
                        reading.missing() < 0 ? "not told" : reading.missing(),
                        reading.micros(reading.reading()),
                        reading.micros(reading.cpu()));
            }
        }
    }

    private void stalls() throws Exception {
        System.out.println(
                "table: | reader | longest stall without a loss, ms | at edges/s |"
                        + " the next longer one, ms | at edges/s | edges lost in it |");
        System.out.println("table: | --- | --- | --- | --- | --- | --- |");
        for (Reader reader : Reader.values()) {
            String survived = "none | -";
            String lost = "none tried | - | -";
            for (int stall : STALL_MILLIS) {
                int edges = STALLED_HERTZ * (stall + 800) / 1000;
                Reading reading = read(reader, edges, 1_000_000 / STALLED_HERTZ, stall);
                if (reading.lost() > 0) {
                    lost = stall + " | " + reading.hertz() + " | " + reading.lost();
                    break;
                }
                survived = stall + " | " + reading.hertz();
            }
            System.out.println("table: | " + reader.name + " | " + survived + " | " + lost + " |");
        }
    }

    private void soak(int edges) throws Exception {
        Reading reading = ours(edges, 0, 0);
        System.out.printf(
                "soak: %d made in %d s, %d received, %d missing%n",
                edges, reading.millis() / 1000, reading.received(), reading.missing());
        if (reading.received() + reading.missing() != edges) {
            throw new AssertionError("edges were lost without a number");
        }
    }

    private Reading read(Reader reader, int edges, int periodMicros, int stallMillis)
            throws Exception {
        return switch (reader) {
            case OURS -> ours(edges, periodMicros, stallMillis);
            case C -> minimal(edges, periodMicros, stallMillis);
            case GPIOMON -> gpiomon(edges, periodMicros, stallMillis);
        };
    }

    /** The shipped tap and its thread, drained by a loop as a run does; folded as a run does. */
    private Reading ours(int edges, int periodMicros, int stallMillis) throws Exception {
        LineRequest request =
                Chip.find(GuestDoor.CHIP).edges("ours", LINE, GuestDoor.COMPANION, Bias.AS_IS);
        Received received = new Received();
        ProcessHandle self = ProcessHandle.current();
        try (PulseTap tap = new PulseTap(PulseLine.TRUCK, request, 100_000)) {
            tap.start();
            Source source = new PulseTaps(List.of(tap));
            Process toggling = simulated.pulses(LINE, edges, periodMicros);
            Duration before = cpu(self);
            Process pausing = pause(self, stallMillis);
            received.drain(source, toggling);
            Duration used = cpu(self).minus(before);
            Duration reading = ofThread("truck pulses");
            pausing.waitFor();
            return new Reading(
                    edges, millis(toggling), received.edges(), received.missing(), reading, used);
        }
    }

    private Reading minimal(int edges, int periodMicros, int stallMillis) throws Exception {
        Process reader =
                new ProcessBuilder(
                                "/bin/reader",
                                simulated.device().toString(),
                                Integer.toString(LINE),
                                Integer.toString(GuestDoor.COMPANION))
                        .start();
        BufferedReader says = reader.inputReader(StandardCharsets.US_ASCII);
        if (!"ready".equals(says.readLine())) {
            throw new IOException("the reader in C does not hold the line");
        }
        Process toggling = simulated.pulses(LINE, edges, periodMicros);
        Duration used = drive(reader, toggling, stallMillis);
        reader.toHandle().destroy();
        String[] said = says.readLine().split(" ");
        return new Reading(
                edges,
                millis(toggling),
                Long.parseLong(said[0]),
                Long.parseLong(said[1]),
                used,
                used);
    }

    private Reading gpiomon(int edges, int periodMicros, int stallMillis) throws Exception {
        Path seen = Path.of("/tmp/gpiomon");
        Process reader =
                new ProcessBuilder(
                                "/bin/gpiomon",
                                "--rising-edge",
                                "--format=%s.%n",
                                simulated.device().getFileName().toString(),
                                Integer.toString(LINE))
                        .redirectOutput(seen.toFile())
                        .redirectError(ProcessBuilder.Redirect.INHERIT)
                        .start();
        Thread.sleep(500);
        Process toggling = simulated.pulses(LINE, edges, periodMicros);
        Duration used = drive(reader, toggling, stallMillis);
        reader.toHandle().destroy();
        reader.waitFor();
        try (var lines = Files.lines(seen)) {
            return new Reading(edges, millis(toggling), lines.count(), -1, used, used);
        }
    }

    /** Waits until all edges are made and read; the CPU time that the reader took for them. */
    private static Duration drive(Process reader, Process toggling, int stallMillis)
            throws Exception {
        Duration before = cpu(reader.toHandle());
        pause(reader.toHandle(), stallMillis).waitFor();
        toggling.waitFor();
        Thread.sleep(500);
        return cpu(reader.toHandle()).minus(before);
    }

    /** Stops a process for a while, once edges have come for some time. */
    private static Process pause(ProcessHandle process, int millis) throws Exception {
        if (millis == 0) {
            return new ProcessBuilder("/bin/true").start();
        }
        Thread.sleep(300);
        return new ProcessBuilder(
                        "/bin/pause", Long.toString(process.pid()), Integer.toString(millis))
                .start();
    }

    private static Duration cpu(ProcessHandle process) {
        return process.info().totalCpuDuration().orElseThrow();
    }

    private static Duration ofThread(String name) {
        ThreadMXBean threads = ManagementFactory.getThreadMXBean();
        for (long id : threads.getAllThreadIds()) {
            ThreadInfo thread = threads.getThreadInfo(id);
            if (thread != null && thread.getThreadName().equals(name)) {
                return Duration.ofNanos(threads.getThreadCpuTime(id));
            }
        }
        throw new IllegalStateException("there is no thread '" + name + "'");
    }

    private static long millis(Process toggling) throws IOException {
        String said =
                new String(toggling.getInputStream().readAllBytes(), StandardCharsets.US_ASCII);
        return Long.parseLong(said.strip().split(" ")[1]);
    }
}
