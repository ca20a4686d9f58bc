package catchbay.bench;

import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceText;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.signal.PulseRule;
import catchbay.signal.Tally;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * How fast edges pass through the trace: from drained stamps over the fold into lines, and from
 * lines back into batches.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(2)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class TraceBench {

    private static final int EDGES = 65_536;

    private static final String HEADER =
            """
            {"catchbay_trace":1,"turns":"implied","setup":{"bay":{"day":"2026-01-15"},\
            "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[\
            {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},\
            {"flow_us_gal_per_min":30,"pulses_per_us_gal":1000}]},\
            "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},\
            "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},\
            "catch":{"seconds":90}}}
            """;

    /** Edges of one drain: 5 is 500 pulses/s at a turn of 10 ms, 1 the worst case. */
    @Param({"1", "5", "64"})
    private int edgesPerDrain;

    private final PulseRule rule = PulseRule.plain();
    private final TraceText text = new TraceText();
    private long[][] drains;
    private byte[] trace;

    /** An even train with a little jitter, an hour into the boot. */
    @Setup
    public void setUp() {
        drains = new long[EDGES / edgesPerDrain][edgesPerDrain];
        long stamp = 3_600_000_000_000L;
        for (long[] drain : drains) {
            for (int i = 0; i < edgesPerDrain; i++) {
                drain[i] = stamp;
                stamp += 2_000_000 + stamp * 7919 % 1000;
            }
        }
        ByteArrayOutputStream lines = new ByteArrayOutputStream();
        lines.writeBytes(HEADER.getBytes(StandardCharsets.UTF_8));
        long sequence = 1;
        for (long[] drain : drains) {
            text.clear();
            text.input(new RunInput.Turn(drain[0]));
            text.input(new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(sequence, drain)));
            lines.write(text.bytes(), 0, text.length());
            sequence += edgesPerDrain;
        }
        trace = lines.toByteArray();
    }

    /** Edges copied from a drain's buffer, folded and encoded, per second. */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public Tally drainFoldEncode() {
        Tally tally = Tally.EMPTY;
        long sequence = 1;
        for (long[] drain : drains) {
            EdgeBatch batch = EdgeBatch.of(sequence, drain);
            tally = tally.fold(batch, rule);
            text.clear();
            text.input(new RunInput.Edges(PulseLine.REFERENCE, batch));
            sequence += edgesPerDrain;
        }
        return tally;
    }

    /** Edges read from a trace in memory, each drain with its turn, per second. */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public long read() throws IOException {
        long edges = 0;
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "trace")) {
            Optional<TraceLine> line = reader.next();
            while (line.isPresent()) {
                if (line.get() instanceof TraceLine.Input(RunInput.Edges input)) {
                    edges += input.batch().size();
                }
                line = reader.next();
            }
        }
        return edges;
    }
}
