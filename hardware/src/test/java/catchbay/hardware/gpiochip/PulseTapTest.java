package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** The tap behind a pipe that stands in for the kernel's device. */
final class PulseTapTest {

    private static final int WAIT_MILLIS = 1000;
    private static final int TURNS_TO_WARM = 100_000;

    @TempDir private Path folder;
    private EventPipe pipe;

    @BeforeEach
    void makePipe() throws Exception {
        pipe = new EventPipe(folder);
    }

    @AfterEach
    void closePipe() throws IOException {
        pipe.close();
    }

    private PulseTap tap(int hertzMax) {
        return new PulseTap(PulseLine.TRUCK, pipe.request, hertzMax);
    }

    private static List<RunInput> drained(PulseTap tap) throws PortException {
        List<RunInput> inputs = new ArrayList<>();
        tap.drain(inputs::add);
        return inputs;
    }

    private static RunInput edges(long first, long... stampsNanos) {
        return new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(first, stampsNanos));
    }

    @Test
    void aGapOfEitherNumberBeginsANewBatch() throws Exception {
        PulseTap tap = tap(100);
        pipe.write(10, 1, 1);
        pipe.write(20, 2, 2);
        pipe.write(30, 4, 3);
        pipe.write(40, 9, 8);
        assertEquals(4, tap.move(WAIT_MILLIS));
        assertEquals(List.of(edges(1, 10, 20), edges(4, 30), edges(9, 40)), drained(tap));
        assertEquals(List.of(), drained(tap));
        assertEquals(0, tap.move(1), "nothing more comes");
    }

    @Test
    void itsThreadMovesEdgesAndEnds() throws Exception {
        PulseTap tap = tap(100);
        tap.start();
        pipe.write(10, 1, 1);
        List<RunInput> inputs = new ArrayList<>();
        long deadline = System.nanoTime() + 10_000_000_000L;
        while (inputs.isEmpty() && System.nanoTime() < deadline) {
            tap.drain(inputs::add);
            Thread.sleep(1);
        }
        assertEquals(List.of(edges(1, 10)), inputs);
        tap.close();
        assertTrue(
                Thread.getAllStackTraces().keySet().stream()
                        .noneMatch(thread -> thread.getName().equals("truck pulses")));
    }

    @Test
    void anOverflowOfTheRingIsTold() throws Exception {
        PulseTap tap = tap(1);
        int edges = Uapi.EVENT_BUFFER_MAX + 3;
        for (int number = 1; number <= edges; number++) {
            // Spread out, so that it is no rush.
            pipe.write(number * 2_000_000_000L, number, number);
        }
        while (tap.move(1) > 0) {
            // Until the pipe is empty.
        }
        List<RunInput> inputs = new ArrayList<>();
        PortException told = assertThrows(PortException.class, () -> tap.drain(inputs::add));
        assertEquals(PortException.Kind.OVERFLOW, told.kind());
        assertEquals(
                "The truck line brought more than 1024 edges while the program was busy, and 3 were"
                        + " lost. Stop what else this computer does, or lower the flow.",
                told.getMessage());
        assertEquals(1024, ((RunInput.Edges) inputs.getFirst()).batch().size());
    }

    @Test
    void tenSecondsOfTheHighestRateFindRoom() throws Exception {
        PulseTap tap = tap(1000);
        for (int number = 1; number <= 10_000; number++) {
            pipe.write(number * 1_000_000L, number, number);
            tap.move(0);
        }
        assertEquals(10_000, ((RunInput.Edges) drained(tap).getFirst()).batch().size());
    }

    @Test
    void moreThanTheHighestRateIsRefused() throws Exception {
        PulseTap tap = tap(5);
        for (int number = 1; number <= 7; number++) {
            pipe.write(1_000_000_000L + number, number, number);
        }
        tap.move(WAIT_MILLIS);
        PortException told = assertThrows(PortException.class, () -> drained(tap));
        assertEquals(PortException.Kind.UNFIT, told.kind());
        assertEquals(
                "The truck line brought more than 5 edges in a second, the most it is said to"
                        + " reach; look for noise or bounce, or state a higher rate for it in"
                        + " [port.pulses].",
                told.getMessage());
    }

    @Test
    void whatCameBeforeTheLineBrokeIsHandedOverFirst() throws Exception {
        PulseTap tap = new PulseTap(PulseLine.TRUCK, pipe.request, 100);
        pipe.write(10, 1, 1);
        tap.move(WAIT_MILLIS);
        // A closed descriptor is as good as a chip that went away: poll tells it by an error flag.
        pipe.request.close();
        tap.start();
        List<RunInput> inputs = new ArrayList<>();
        PortException told =
                assertThrows(
                        PortException.class,
                        () -> {
                            long deadline = System.nanoTime() + 10_000_000_000L;
                            while (System.nanoTime() < deadline) {
                                tap.drain(inputs::add);
                                Thread.sleep(1);
                            }
                        });
        assertEquals(PortException.Kind.GONE, told.kind());
        assertEquals(
                "The GPIO chip of line 4 of a pipe has gone; check its plug and its driver.",
                told.getMessage());
        assertEquals(List.of(edges(1, 10)), inputs);
    }

    /** Ten million edges through the same calls and the same decoding as a real line's. */
    @Test
    void tenMillionEdgesPassWithoutAllocation() throws Exception {
        int writes = 125_000;
        // A pipe takes up to 4096 bytes in one piece (pipe(7)), and the device gives whole events.
        int edgesPerWrite = 80;
        PulseTap tap = tap(20_000);
        long[] last = {0};
        // A turn allocates until the compiler has seen enough of them.
        for (int number = 1; number <= TURNS_TO_WARM; number++) {
            pipe.write(number * 100_000L, number, number);
            tap.move(WAIT_MILLIS);
            tap.drain(input -> last[0] = next(last[0], ((RunInput.Edges) input).batch()));
        }
        Thread writer = new Thread(() -> feed(TURNS_TO_WARM, writes, edgesPerWrite));
        writer.start();
        long received = 0;
        long allocated = 0;
        int turnsCounted = 0;
        com.sun.management.ThreadMXBean threads =
                (com.sun.management.ThreadMXBean) ManagementFactory.getThreadMXBean();
        while (received < (long) writes * edgesPerWrite) {
            long before = threads.getCurrentThreadAllocatedBytes();
            int moved = tap.move(WAIT_MILLIS);
            long after = threads.getCurrentThreadAllocatedBytes();
            assertTrue(moved > 0, "the writer stopped after " + received + " edges");
            received += moved;
            // Before that the compiler may still be at work.
            if (received > (long) writes * edgesPerWrite / 2) {
                allocated += after - before;
                turnsCounted++;
            }
            tap.drain(input -> last[0] = next(last[0], ((RunInput.Edges) input).batch()));
        }
        writer.join();
        assertEquals(TURNS_TO_WARM + (long) writes * edgesPerWrite, last[0]);
        // One object a turn would be 16 bytes at least.
        assertTrue(
                allocated < 8L * turnsCounted, allocated + " bytes in " + turnsCounted + " turns");
    }

    private static long next(long last, EdgeBatch batch) {
        assertEquals(last + 1, batch.firstSequence());
        return batch.lastSequence();
    }

    private void feed(int last, int writes, int edgesPerWrite) {
        ByteBuffer events = EventPipe.events(edgesPerWrite);
        int number = last;
        try {
            for (int i = 0; i < writes; i++) {
                events.clear();
                for (int k = 0; k < edgesPerWrite; k++) {
                    number++;
                    EventPipe.put(events, number * 100_000L, number, number);
                }
                pipe.write(events);
            }
        } catch (IOException closed) {
            throw new IllegalStateException(closed);
        }
    }
}
