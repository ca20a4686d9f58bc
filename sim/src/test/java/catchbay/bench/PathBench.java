package catchbay.bench;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.record.TraceText;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup.FlowBy;
import catchbay.run.RunState;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.sim.Setups;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.concurrent.TimeUnit;

/**
 * The path of an edge on the loop's thread: out of the door's buffer, through a step, into the
 * trace's text.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(2)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class PathBench {

    /** What a turn of 10 ms finds at 2 kHz. */
    private static final int EDGES = 20;

    private static final long SPACING_NANOS = 500_000;

    private final long[] buffer = new long[1024];
    private final TraceText text = new TraceText();
    private final JsonFactory json = new JsonFactory();
    private RunState state =
            RunMachine.begin(Setups.plain(5, Control.CLOSED_ON_METER, FlowBy.GROUND_SPEED));
    private long sequence = 1;
    private long nanos = 1_000_000_000L;

    private EdgeBatch drain() {
        for (int i = 0; i < EDGES; i++) {
            nanos += SPACING_NANOS + (i * 7919L) % 1000;
            buffer[i] = nanos;
        }
        EdgeBatch batch = EdgeBatch.of(sequence, buffer, EDGES);
        sequence += EDGES;
        return batch;
    }

    /** Edges drained, folded by a step and encoded, per second. */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public int drainFoldEncode() {
        RunInput.Edges input = new RunInput.Edges(PulseLine.REFERENCE, drain());
        state = RunMachine.step(state, input).state();
        text.clear();
        text.input(input);
        return text.length();
    }

    /**
     * The peer: the same edges drained and written as the same line by a general JSON library, not
     * folded.
     */
    @Benchmark
    @OperationsPerInvocation(EDGES)
    public int peerJsonLibrary() throws IOException {
        EdgeBatch batch = drain();
        ByteArrayOutputStream out = new ByteArrayOutputStream(512);
        try (JsonGenerator line = json.createGenerator(out)) {
            line.writeStartObject();
            line.writeNumberField("at", batch.firstNanos());
            line.writeStringField("edges", "reference");
            line.writeNumberField("first_seq", batch.firstSequence());
            line.writeArrayFieldStart("gaps_ns");
            for (int i = 1; i < EDGES; i++) {
                line.writeNumber(batch.stampNanos(i) - batch.stampNanos(i - 1));
            }
            line.writeEndArray();
            line.writeEndObject();
        }
        return out.size();
    }
}
