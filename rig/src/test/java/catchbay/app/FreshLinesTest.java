package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.function.Consumer;

/**
 * Found by the fault campaign: in a series of catches with standing windows every second one was
 * void, the edges of the one before taken for lost.
 */
final class FreshLinesTest {

    private final Queue<RunInput> waiting = new ArrayDeque<>();
    private final List<RunLoop.NamedSource> sources =
            new ArrayList<>(
                    List.of(
                            new RunLoop.NamedSource(
                                    "pulses",
                                    new Source() {
                                        @Override
                                        public void drain(Consumer<RunInput> into) {
                                            while (!waiting.isEmpty()) {
                                                into.accept(waiting.remove());
                                            }
                                        }

                                        @Override
                                        public void close() {
                                            // Nothing is held.
                                        }
                                    })));
    private final FreshLines lines = FreshLines.among(sources);

    private static RunInput edges(PulseLine line, long first, long... stamps) {
        return new RunInput.Edges(line, EdgeBatch.of(first, stamps));
    }

    private List<RunInput> drained(RunInput... told) throws PortException {
        waiting.addAll(List.of(told));
        List<RunInput> inputs = new ArrayList<>();
        sources.getFirst().source().drain(inputs::add);
        return inputs;
    }

    @Test
    void everyRunHasItsOwnNumbersFromOne() throws PortException {
        lines.begin();
        RunInput first = edges(PulseLine.REFERENCE, 1, 100, 200);
        assertEquals(List.of(first), drained(first), "the port was just opened");

        lines.begin();
        assertEquals(
                List.of(),
                drained(edges(PulseLine.REFERENCE, 3, 300)),
                "what came between two runs belongs to neither");
        assertEquals(
                List.of(edges(PulseLine.REFERENCE, 1, 400, 500)),
                drained(edges(PulseLine.REFERENCE, 4, 400, 500)));
        assertEquals(
                List.of(edges(PulseLine.REFERENCE, 5, 600)),
                drained(edges(PulseLine.REFERENCE, 8, 600)),
                "what is lost inside a run still shows");
        assertEquals(
                List.of(edges(PulseLine.TRUCK, 1, 700)),
                drained(edges(PulseLine.TRUCK, 1, 700)),
                "each line has its own numbers");

        lines.begin();
        drained();
        assertEquals(
                List.of(edges(PulseLine.REFERENCE, 1, 800), edges(PulseLine.TRUCK, 1, 900)),
                drained(edges(PulseLine.REFERENCE, 9, 800), edges(PulseLine.TRUCK, 2, 900)));
    }
}
