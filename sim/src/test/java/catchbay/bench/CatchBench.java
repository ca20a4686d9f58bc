package catchbay.bench;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.run.BayCommand;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;
import catchbay.sim.CatchRun;
import catchbay.sim.Scenario;
import catchbay.sim.Setups;
import catchbay.sim.World;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.util.concurrent.TimeUnit;

/** How long a 90 s catch at 500 pulses/s of the reference meter takes in virtual time. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class CatchBench {

    private static final double LITRES_PER_SECOND = 5;
    private static final long WORLD_NANOS = 150_000_000_000L;

    private final RunSetup setup =
            Setups.plain(LITRES_PER_SECOND, Control.CLOSED_ON_METER, FlowBy.GROUND_SPEED);
    private final Scenario scenario =
            new Scenario("bench", setup, Setups.plainOptions(setup, 1, 0.05, 0));

    /** The whole catch by the program's loop: world, ports, steps and trace text. */
    @Benchmark
    public Outcome.Measured wholeCatch() {
        return (Outcome.Measured) CatchRun.of(scenario).outcome();
    }

    /** The world alone, for the 150 s that such a catch takes with purge, settling and rest. */
    @Benchmark
    public World world() {
        World world = new World(setup, scenario.options(), 0);
        world.perform(new BayCommand.GroundSpeed(20));
        world.advance(WORLD_NANOS);
        return world;
    }
}
