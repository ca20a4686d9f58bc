package catchbay.bench;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceText;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunState;
import catchbay.sim.CatchRun;
import catchbay.sim.Scenario;
import catchbay.sim.Setups;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * How long it takes to evaluate a recorded trace again; its events are printed at set-up, for the
 * rate.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(2)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class ReplayBench {

    private final JsonFactory json = new JsonFactory();
    private byte[] trace;

    /** The trace of a 90 s catch at 500 pulses/s of the reference meter. */
    @Setup
    public void setUp() throws IOException {
        RunSetup setup = Setups.plain(5, Control.CLOSED_ON_METER, FlowBy.GROUND_SPEED);
        Scenario scenario = new Scenario("bench", setup, Setups.plainOptions(setup, 1, 0.05, 0));
        TraceText header = new TraceText();
        header.header(
                TraceLine.Header.recorded(
                        RunMachine.METHOD_VERSION,
                        "bench",
                        TraceLine.Origin.SIMULATED,
                        "bench",
                        Instant.parse("2026-01-05T08:00:00Z"),
                        "bench",
                        setup));
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        bytes.write(header.bytes(), 0, header.length());
        bytes.write(CatchRun.of(scenario).trace());
        trace = bytes.toByteArray();
        System.out.println("# events in the trace: " + events());
    }

    /** Edges, and every other input. */
    private long events() throws IOException {
        long events = 0;
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "bench")) {
            for (Optional<TraceLine> line = reader.next(); line.isPresent(); line = reader.next()) {
                if (line.get() instanceof TraceLine.Input(RunInput input)) {
                    events += input instanceof RunInput.Edges edges ? edges.batch().size() : 1;
                }
            }
        }
        return events;
    }

    /** The whole trace read and stepped through. */
    @Benchmark
    public RunState replay() throws IOException {
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "bench")) {
            RunState state = RunMachine.begin(reader.header().setup());
            for (Optional<TraceLine> line = reader.next(); line.isPresent(); line = reader.next()) {
                if (line.get() instanceof TraceLine.Input(RunInput input)) {
                    state = RunMachine.step(state, input).state();
                }
            }
            return state;
        }
    }

    /** The peer: the same bytes cut into tokens by a general JSON library, nothing made of them. */
    @Benchmark
    public long peerJsonLibrary() throws IOException {
        long sum = 0;
        try (JsonParser parser = json.createParser(trace)) {
            for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
                sum += token == JsonToken.VALUE_NUMBER_INT ? parser.getLongValue() : 1;
            }
        }
        return sum;
    }
}
