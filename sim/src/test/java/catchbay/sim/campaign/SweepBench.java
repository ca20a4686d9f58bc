package catchbay.sim.campaign;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.util.Locale;
import java.util.concurrent.TimeUnit;

/**
 * How long a sweep of ten points takes in virtual time, each at least three times, its verification
 * after them, world and trace text included.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 3)
@Measurement(iterations = 5, time = 3)
public class SweepBench {

    private static final long SEED = 2;

    private final DrawnSweep drawn = DrawnSweep.of(SEED, DrawnSweep.Size.WHOLE);

    /** The sweep. */
    @Benchmark
    public Object sweep() {
        return PlayedSweep.of(drawn, false);
    }

    /** Prints how many catches that are, and how much bay time. */
    public static void main(String[] args) {
        PlayedSweep sweep = PlayedSweep.of(DrawnSweep.of(SEED, DrawnSweep.Size.WHOLE), false);
        System.out.println(
                String.format(
                        Locale.ROOT,
                        "The sweep has %d catches in %.0f min of bay time.",
                        sweep.catches().size(),
                        sweep.catches().getLast().endedNanos() / 60e9));
    }
}
