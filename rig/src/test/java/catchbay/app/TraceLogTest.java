package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.run.RunInput;
import catchbay.store.DiskFiles;
import catchbay.store.FileLayer;
import catchbay.store.TraceFile;
import catchbay.store.TraceFolder;
import catchbay.store.UnreliableFiles;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.lang.reflect.Proxy;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.function.Function;

@Timeout(60)
final class TraceLogTest {

    private static final byte[] LINE = "{\"at\":1,\"turn\":1}\n".getBytes(StandardCharsets.UTF_8);

    @TempDir Path folder;

    private TraceFile file(FileLayer files) throws Exception {
        return new TraceFolder(folder, files).begin("run-1");
    }

    private static List<RunInput> drained(TraceLog log) throws PortException {
        List<RunInput> inputs = new ArrayList<>();
        log.drain(inputs::add);
        return inputs;
    }

    /** Drains until something comes. */
    private static RunInput awaited(TraceLog log) throws Exception {
        List<RunInput> inputs = drained(log);
        while (inputs.isEmpty()) {
            Thread.sleep(2);
            inputs = drained(log);
        }
        return inputs.getFirst();
    }

    // The same contract for both
    // -----------------------------------------------------------------------------------------------------------

    private void whatIsAppendedIsSealed(Function<TraceFile, TraceLog> kind) throws Exception {
        try (TraceLog log = kind.apply(file(new DiskFiles()))) {
            for (int i = 0; i < 100_000; i++) {
                log.append(LINE, 0, LINE.length, 1_000L * i);
            }
            TraceLog.End.Closed closed =
                    assertInstanceOf(TraceLog.End.Closed.class, log.seal(5, "measured", "Done."));
            assertEquals(100_001, closed.trace().lines());
        }
        assertEquals(
                100_000L * LINE.length,
                Files.readString(folder.resolve("run-1.jsonl"))
                        .indexOf("{\"at\":5,\"end\":\"measured\""));
    }

    private void durabilityIsToldOnceItIsAskedFor(Function<TraceFile, TraceLog> kind)
            throws Exception {
        try (TraceLog log = kind.apply(file(new DiskFiles()))) {
            log.append(LINE, 0, LINE.length, 10);
            log.append(LINE, 0, LINE.length, 20);
            log.requestSync();
            RunInput durable = awaited(log);
            while (!durable.equals(new RunInput.TraceDurable(20, 20))) {
                assertInstanceOf(RunInput.TraceDurable.class, durable);
                durable = awaited(log);
            }
            assertEquals(
                    2L * LINE.length,
                    Files.size(folder.resolve("run-1.open.jsonl")),
                    "and the lines are really there");
        }
    }

    private void aFailureIsToldOnceAndNothingIsSealed(Function<TraceFile, TraceLog> kind)
            throws Exception {
        // One effect each for making the file and its name; then power fails with the first write.
        try (TraceLog log = kind.apply(file(UnreliableFiles.killedAfter(2)))) {
            log.append(LINE, 0, LINE.length, 10);
            log.requestSync();
            RunInput.TraceFailed failed =
                    assertInstanceOf(RunInput.TraceFailed.class, awaited(log));
            assertEquals(
                    "The trace cannot be written (java.io.IOException: no power); check that the "
                            + "disk is there and not "
                            + "full, and begin again.",
                    failed.sentence());
            log.append(LINE, 0, LINE.length, 20);
            log.requestSync();
            assertEquals(List.of(), drained(log));
            TraceLog.End.Lost lost =
                    assertInstanceOf(TraceLog.End.Lost.class, log.seal(5, "measured", ""));
            assertEquals(failed.sentence(), lost.sentence());
        }
        assertTrue(Files.exists(folder.resolve("run-1.open.jsonl")));
    }

    @Test
    void inlineWhatIsAppendedIsSealed() throws Exception {
        whatIsAppendedIsSealed(InlineTraceLog::new);
    }

    @Test
    void threadedWhatIsAppendedIsSealed() throws Exception {
        whatIsAppendedIsSealed(ThreadedTraceLog::new);
    }

    @Test
    void inlineDurabilityIsToldOnceItIsAskedFor() throws Exception {
        durabilityIsToldOnceItIsAskedFor(InlineTraceLog::new);
    }

    @Test
    void threadedDurabilityIsToldOnceItIsAskedFor() throws Exception {
        durabilityIsToldOnceItIsAskedFor(ThreadedTraceLog::new);
    }

    @Test
    void inlineAFailureIsToldOnceAndNothingIsSealed() throws Exception {
        aFailureIsToldOnceAndNothingIsSealed(InlineTraceLog::new);
    }

    @Test
    void threadedAFailureIsToldOnceAndNothingIsSealed() throws Exception {
        aFailureIsToldOnceAndNothingIsSealed(ThreadedTraceLog::new);
    }

    // What differs
    // -----------------------------------------------------------------------------------------------------------

    @Test
    void inlineNothingIsDurableUnasked() throws Exception {
        try (TraceLog log = new InlineTraceLog(file(new DiskFiles()))) {
            log.append(LINE, 0, LINE.length, 10);
            log.append(LINE, 0, LINE.length, 20_000_000_000L);
            assertEquals(List.of(), drained(log));
            assertEquals(0, Files.size(folder.resolve("run-1.open.jsonl")));
        }
    }

    @Test
    void threadedLinesBecomeDurableByThemselves() throws Exception {
        long second = ThreadedTraceLog.SYNC_NANOS;
        try (TraceLog log = new ThreadedTraceLog(file(new DiskFiles()))) {
            log.append(LINE, 0, LINE.length, 10);
            awaited(log); // the first lines, at once
            // A second of stamps later: with this line.
            log.append(LINE, 0, LINE.length, 10 + second);
            assertEquals(new RunInput.TraceDurable(10 + second, 10 + second), awaited(log));
            // And where nothing follows: after a second of waiting.
            log.append(LINE, 0, LINE.length, 20 + second);
            assertEquals(new RunInput.TraceDurable(20 + second, 20 + second), awaited(log));
        }
    }

    /** A disk whose every write waits until it is let go. */
    private static FileLayer stuckDisk(CountDownLatch letGo) {
        FileLayer real = new DiskFiles();
        return (FileLayer)
                Proxy.newProxyInstance(
                        FileLayer.class.getClassLoader(),
                        new Class<?>[] {FileLayer.class},
                        (proxy, method, arguments) -> {
                            Object answer = method.invoke(real, arguments);
                            return answer instanceof FileLayer.Growing growing
                                    ? stuck(growing, letGo)
                                    : answer;
                        });
    }

    private static FileLayer.Growing stuck(FileLayer.Growing growing, CountDownLatch letGo) {
        return new FileLayer.Growing() {
            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                try {
                    letGo.await();
                } catch (InterruptedException interrupted) {
                    throw new IOException(interrupted);
                }
                growing.write(bytes, from, length);
            }

            @Override
            public void sync() throws IOException {
                growing.sync();
            }

            @Override
            public void close() throws IOException {
                growing.close();
            }
        };
    }

    /** Who was told that the trace is lost does not find it recorded at the next start. */
    @Test
    void aTraceThatWasGivenUpIsOpenAlsoWhenTheDiskAnswersAfterAll() throws Exception {
        CountDownLatch letGo = new CountDownLatch(1);
        try (TraceLog log = new ThreadedTraceLog(file(stuckDisk(letGo)), 50_000_000)) {
            log.append(LINE, 0, LINE.length, 10);
            assertInstanceOf(TraceLog.End.Lost.class, log.seal(20, "measured", "Done."));
            letGo.countDown();
        }
        assertTrue(Files.exists(folder.resolve("run-1.open.jsonl")));
        assertFalse(Files.exists(folder.resolve("run-1.jsonl")));
    }

    @Test
    void aStuckDiskNeverHoldsTheLoopAndAFullQueueIsTold() throws Exception {
        CountDownLatch letGo = new CountDownLatch(1);
        try (TraceLog log = new ThreadedTraceLog(file(stuckDisk(letGo)))) {
            byte[] lines = "{\"at\":1,\"turn\":1}\n".repeat(5_000).getBytes(StandardCharsets.UTF_8);
            List<RunInput> told = List.of();
            long appended = 0;
            while (told.isEmpty()) {
                log.append(lines, 0, lines.length, 0);
                appended += lines.length;
                assertTrue(
                        appended < 3L * ThreadedTraceLog.QUEUE_BYTES_MAX, "the queue is bounded");
                told = drained(log);
            }
            assertEquals(
                    new RunInput.TraceFailed(
                            0,
                            "The trace's queue of 4194304 bytes is full: the disk is too slow; "
                                    + "use a faster disk or lower"
                                    + " the pulse rates, and begin again."),
                    told.getFirst());
            assertTrue(appended > ThreadedTraceLog.QUEUE_BYTES_MAX, "and it was really filled");
            letGo.countDown();
            assertInstanceOf(TraceLog.End.Lost.class, log.seal(5, "trace_failed", ""));
        }
    }
}
