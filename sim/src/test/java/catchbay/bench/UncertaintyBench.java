package catchbay.bench;

import catchbay.metrology.Budget;
import catchbay.metrology.Input;
import catchbay.metrology.Input.Scope;
import catchbay.metrology.Input.Shape;
import catchbay.metrology.Model;
import catchbay.metrology.MonteCarlo;
import catchbay.seeded.Seeds;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.random.RandomGenerator;

/** How long a budget of 25 inputs and 4 outputs takes, and a Monte Carlo of the same model. */
@State(org.openjdk.jmh.annotations.Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class UncertaintyBench {

    private static final int INPUTS = 25;
    private static final int DRAWS = 100_000;
    private static final List<String> OUTPUTS =
            List.of("measured", "meter error", "control error", "application error");

    private final List<Input> inputs = inputs();
    private final double[] values = inputs.stream().mapToDouble(Input::value).toArray();

    /**
     * A weighed catch in the shape of one: a net weight corrected by six small terms, buoyancy,
     * density moved by temperature and strength, and fifteen more corrections near one.
     */
    private final Model model =
            x -> {
                double weight = x[0] - x[1] + x[2] + x[3];
                double air = x[4];
                double density = x[5] * (1 - x[6] * (x[7] - 20));
                double volume = weight * (1 - air / 8000) / (1 - air / density) / density * 1000;
                for (int i = 10; i < x.length; i++) {
                    volume *= x[i];
                }
                return new double[] {volume, x[8] / volume - 1, x[8] / x[9] - 1, volume / x[9] - 1};
            };

    private static List<Input> inputs() {
        List<Input> inputs = new ArrayList<>();
        inputs.add(Input.normal("full", 120, 0.02, Scope.RUN));
        inputs.add(Input.normal("empty", 20, 0.02, Scope.RUN));
        inputs.add(Input.rectangular("display step", 0, 0.01, Scope.RUN));
        inputs.add(new Input("drip", 0, 0.01, 9, Shape.STUDENT, Scope.RUN));
        inputs.add(Input.rectangular("air density", 1.2, 0.05, Scope.DAY));
        inputs.add(Input.normal("density", 1175, 0.5, Scope.DAY));
        inputs.add(Input.normal("expansion", 4.5e-4, 2e-5, Scope.BAY));
        inputs.add(Input.rectangular("temperature", 10, 0.5, Scope.DAY));
        inputs.add(Input.rectangular("reported", 86, 0.05, Scope.RUN));
        inputs.add(Input.normal("asked", 85, 0.1, Scope.RUN));
        for (int i = inputs.size(); i < INPUTS; i++) {
            Shape shape = i % 3 == 0 ? Shape.TRIANGULAR : Shape.NORMAL;
            inputs.add(new Input("correction " + i, 1, 3e-4, 50, shape, Scope.BAY));
        }
        return inputs;
    }

    /** The whole budget: 4 results, 25 rows each, coverage factors and covariances. */
    @Benchmark
    public Budget budget() {
        return Budget.of(inputs, OUTPUTS, model);
    }

    /** 100,000 draws of the model, sorted, with both intervals of each output. */
    @Benchmark
    public MonteCarlo monteCarlo() {
        return MonteCarlo.of(inputs, OUTPUTS, model, DRAWS, Seeds.generator(1));
    }

    /** The peer: the model asked 100,000 times, with 25 even numbers drawn and nothing kept. */
    @Benchmark
    public double peerModel() {
        RandomGenerator random = Seeds.generator(1);
        double[] point = new double[INPUTS];
        double sum = 0;
        for (int d = 0; d < DRAWS; d++) {
            for (int i = 0; i < INPUTS; i++) {
                point[i] = values[i] * (1 + 1e-6 * random.nextDouble());
            }
            sum += model.outputs(point)[0];
        }
        return sum;
    }
}
