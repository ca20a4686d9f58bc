package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseRule;

/** What came through a door, counted as a run counts a standing catch. */
final class Received {

    private final boolean stampsRise;
    private PulseGate gate = PulseGate.idle(PulseRule.plain()).open(0, true);
    private long edges;
    private long missing;
    private long lastNumber;
    private long lastNanos;
    private double hertzAroundGap;

    Received() {
        this(true);
    }

    /**
     * @param stampsRise whether one that does not rise is a failure
     */
    Received(boolean stampsRise) {
        this.stampsRise = stampsRise;
    }

    private void take(RunInput input) {
        EdgeBatch batch = ((RunInput.Edges) input).batch();
        gate = gate.take(batch);
        edges += batch.size();
        missing += batch.firstSequence() - lastNumber - 1;
        if (batch.firstSequence() > lastNumber + 1 && lastNanos > 0) {
            int end = Math.min(batch.size(), Uapi.EVENT_BUFFER_MAX) - 1;
            long edgesPast = batch.firstSequence() + end - lastNumber;
            hertzAroundGap = edgesPast * 1e9 / (batch.stampNanos(end) - lastNanos);
        }
        lastNumber = batch.lastSequence();
        for (int i = 0; i < batch.size(); i++) {
            assertTrue(!stampsRise || batch.stampNanos(i) > lastNanos, "stamps rise");
            lastNanos = batch.stampNanos(i);
        }
    }

    /** Drains until nothing has come for 300 ms. */
    void drain(Source source) throws PortException, InterruptedException {
        for (int quiet = 0; quiet < 30; quiet++) {
            long before = edges;
            source.drain(this::take);
            quiet = edges > before ? 0 : quiet;
            Thread.sleep(10);
        }
    }

    /** Drains while a process lives, and the rest. */
    void drain(Source source, Process process) throws PortException, InterruptedException {
        while (process.isAlive()) {
            source.drain(this::take);
            Thread.sleep(10);
        }
        drain(source);
    }

    long edges() {
        return edges;
    }

    /** How many numbers were missing between edges, and before the first. */
    long missing() {
        return missing;
    }

    /**
     * The rate of edges from the last before a gap to the end of the buffer after it; 0 = no gap.
     */
    double hertzAroundGap() {
        return hertzAroundGap;
    }

    /** The verdict of a run on a window around all of it. */
    PulseCount count() {
        return gate.close(lastNanos + 1_000_000).standingCount(1);
    }
}
