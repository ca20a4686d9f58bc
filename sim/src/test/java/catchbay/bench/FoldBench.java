package catchbay.bench;

import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseRule;
import catchbay.signal.Tally;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.util.concurrent.TimeUnit;

/** How fast edges fold into a tally, from a batch in memory. */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(2)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class FoldBench {

    private static final int EDGES = 1024;

    private EdgeBatch batch;
    private PulseRule rule;

    /** An even train with a little jitter. */
    @Setup
    public void setUp() {
        long[] stamps = new long[EDGES];
        for (int i = 0; i < EDGES; i++) {
            stamps[i] = 2_000_000L * i + (i * 7919L) % 1000;
        }
        batch = EdgeBatch.of(1, stamps);
        rule =
                new PulseRule(
                        100_000,
                        PulseRule.LEAP_RATIO,
                        PulseRule.EVEN_RATIO_MAX,
                        10_000_000,
                        500_000);
    }

    /** Edges folded per second. */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public Tally fold() {
        return Tally.EMPTY.fold(batch, rule);
    }

    /** The peer: the same batch walked once, its spacings only added up. */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public long peerSum() {
        long sum = 0;
        for (int i = 1; i < EDGES; i++) {
            sum += batch.stampNanos(i) - batch.stampNanos(i - 1);
        }
        return sum;
    }
}
