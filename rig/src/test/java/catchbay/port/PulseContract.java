package catchbay.port;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;

/** What every source of pulses owes a run, whatever is behind it: a stand-in or a kernel's line. */
public abstract class PulseContract {

    /** What Linux keeps for one request at most, and the stand-in as well. */
    private static final int BUFFER_EDGES = 1024;

    /** A line that the test drives. */
    public interface Driven extends AutoCloseable {

        /** The door that reads it. */
        Source source();

        /** Makes edges while nobody reads; at least 1. */
        void edges(int count) throws Exception;

        @Override
        void close();
    }

    /** A line that has brought no edge yet. */
    protected abstract Driven open() throws Exception;

    private static List<EdgeBatch> drained(Driven line) throws PortException {
        List<EdgeBatch> batches = new ArrayList<>();
        line.source().drain(input -> batches.add(((RunInput.Edges) input).batch()));
        return batches;
    }

    private static int size(List<EdgeBatch> batches) {
        return batches.stream().mapToInt(EdgeBatch::size).sum();
    }

    @Test
    void everyEdgeComesOnceInOrder() throws Exception {
        try (Driven line = open()) {
            assertEquals(List.of(), drained(line), "no edge without a pulse");
            line.edges(100);
            List<EdgeBatch> first = drained(line);
            line.edges(50);
            List<EdgeBatch> second = drained(line);
            assertEquals(100, size(first));
            assertEquals(50, size(second));
            assertEquals(List.of(), drained(line), "no edge comes twice");
            EdgeBatch before = first.getLast();
            EdgeBatch after = second.getFirst();
            assertEquals(before.lastSequence() + 1, after.firstSequence());
            assertTrue(before.lastNanos() < after.firstNanos());
            for (int i = 1; i < after.size(); i++) {
                assertTrue(after.stampNanos(i - 1) < after.stampNanos(i), "stamps rise");
            }
        }
    }

    @Test
    void theFirstNumberIsZeroOrOne() throws Exception {
        try (Driven line = open()) {
            line.edges(1);
            long first = drained(line).getFirst().firstSequence();
            assertTrue(first == 0 || first == 1, "the first number was " + first);
        }
    }

    @Test
    void theOldestThatFindNoRoomAreMissingByNumber() throws Exception {
        try (Driven line = open()) {
            line.edges(10);
            EdgeBatch before = drained(line).getLast();
            line.edges(BUFFER_EDGES + 300);
            List<EdgeBatch> after = drained(line);
            assertEquals(BUFFER_EDGES, size(after));
            assertEquals(before.lastSequence() + 301, after.getFirst().firstSequence());
        }
    }
}
