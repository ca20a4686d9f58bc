package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.DocumentException;
import catchbay.record.RecordChain;
import catchbay.record.RunRecord;
import catchbay.store.ClosedTrace;
import catchbay.store.DataFolder;
import catchbay.store.DiskFiles;
import catchbay.store.FileLayer;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.Storage;
import catchbay.store.StoreException;
import catchbay.store.TraceFile;
import catchbay.store.TraceFolder;
import catchbay.store.UnreliableFiles;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Optional;

/**
 * Whenever the program ends between a run and its record: after the next start there is the one or
 * the other, once.
 */
final class BookkeepingTest {

    @TempDir Path folder;

    private Path traces;

    @BeforeEach
    void makeFolder() throws Exception {
        traces = Files.createDirectories(folder.resolve("traces"));
    }

    private interface Work<T> {
        T with(Bookkeeping books, RecordStore store) throws StoreException, IOException;
    }

    private <T> T open(FileLayer files, Work<T> work) throws Exception {
        try (DataFolder held =
                        DataFolder.open(
                                folder,
                                ZonedDateTime.parse("2026-02-03T10:00:00Z"),
                                new Storage(files, SqliteStore::open));
                RecordStore store = held.openRecords()) {
            return work.with(new Bookkeeping(held.traces(), store), store);
        }
    }

    private List<String> start() throws Exception {
        return open(new DiskFiles(), (books, store) -> books.takeStock());
    }

    private ClosedTrace ran(String run) throws Exception {
        return new PlayedBay().sealed(traces, run, PlayedBay.setup());
    }

    private List<RunRecord> records() throws Exception {
        return open(
                new DiskFiles(),
                (books, store) -> {
                    assertEquals(RecordChain.Verdict.Whole.class, store.verifyChain().getClass());
                    return store.newest(100);
                });
    }

    private List<String> files() throws IOException {
        return new DiskFiles()
                .list(traces).stream().map(path -> path.getFileName().toString()).toList();
    }

    private void assertRecordedOnce(ClosedTrace closed) throws Exception {
        List<RunRecord> records = records();
        assertEquals(1, records.size());
        RunRecord.Content content = records.getFirst().content();
        assertEquals(closed.run(), content.runId());
        assertEquals("measured", content.outcome());
        assertTrue(content.accepted());
        assertEquals(closed.sha256(), content.traceSha256());
        assertEquals(closed.fileName(), content.traceFile());
        assertEquals(Instant.parse("2026-02-03T10:00:00Z"), content.startedWall());
        assertTrue(content.resultJson().contains("\"accepted\":true"), content.resultJson());
        assertEquals(List.of(closed.run() + ".jsonl.zst"), files());
    }

    @Test
    void aClosedTraceIsRecordedAndCompressed() throws Exception {
        ClosedTrace closed = ran("run-1");
        open(new DiskFiles(), (books, store) -> books.record(closed));
        assertRecordedOnce(closed);
        assertEquals(List.of(), start(), "and there is nothing left to do");
        assertRecordedOnce(closed);
    }

    @Test
    void endedBetweenSealAndRecord() throws Exception {
        ClosedTrace closed = ran("run-1");
        assertEquals(
                List.of("Run run-1 had ended without its record; it is recorded now (measured)."),
                start());
        assertRecordedOnce(closed);
        assertEquals(List.of(), start());
        assertRecordedOnce(closed);
    }

    @Test
    void recordsThatWereLostAreTold() throws Exception {
        ClosedTrace closed = ran("run-1");
        open(new DiskFiles(), (books, store) -> books.record(closed));
        Files.delete(folder.resolve("records.sqlite"));
        assertEquals(
                List.of(
                        "The records are empty, and the data folder has the trace of a run that"
                                + " stood in them: the records were lost. Restore records.sqlite"
                                + " from a copy."),
                start());
    }

    /** At every effect on files of the compression, after the record is committed. */
    @Test
    void endedBetweenRecordAndCompressedTrace() throws Exception {
        int effects = 0;
        boolean done = false;
        while (!done) {
            Files.createDirectories(folder.resolve("at" + effects));
            BookkeepingTest at = new BookkeepingTest();
            at.folder = folder.resolve("at" + effects);
            at.makeFolder();
            ClosedTrace closed = at.ran("run-1");
            UnreliableFiles files = UnreliableFiles.killedAfter(effects);
            try {
                at.open(files, (books, store) -> books.record(closed));
            } catch (IOException noPower) {
                assertTrue(files.failed(), noPower.toString());
            }
            done = !files.failed();
            at.start();
            at.assertRecordedOnce(closed);
            assertEquals(List.of(), at.start());
            effects++;
        }
        assertTrue(effects > 5, effects + " effects were cut off");
    }

    @Test
    void aRecordedTraceThatIsStillPlainIsOnlyCompressed() throws Exception {
        ClosedTrace closed = ran("run-1");
        byte[] plain = PlayedBay.bytes(traces, "run-1.jsonl");
        open(new DiskFiles(), (books, store) -> books.record(closed));
        Files.delete(traces.resolve("run-1.jsonl.zst"));
        Files.write(traces.resolve("run-1.jsonl"), plain);
        assertEquals(List.of("Run run-1 is recorded; its trace is compressed now."), start());
        assertRecordedOnce(closed);
    }

    @Test
    void anOpenTraceIsMarkedInterruptedAndNeverCounts() throws Exception {
        try (TraceFile file = new PlayedBay().begun(traces, "run-1", PlayedBay.setup())) {
            file.sync();
        }
        byte[] open = PlayedBay.bytes(traces, "run-1.open.jsonl");
        assertEquals(
                List.of("Run run-1 was interrupted; its trace is kept and does not count."),
                start());
        assertEquals(List.of("run-1.interrupted.jsonl"), files());
        assertEquals(open.length, PlayedBay.bytes(traces, "run-1.interrupted.jsonl").length);
        assertEquals(List.of(), start());
        assertEquals(List.of(), records());
    }

    @Test
    void aSpoiltTraceIsNamedAndKeepsNobodyFromWorking() throws Exception {
        ClosedTrace good = ran("run-2");
        ran("run-1");
        Path file = traces.resolve("run-1.jsonl");
        Files.writeString(
                file, Files.readString(file).replaceFirst("\"amount\":20.0", "\"amount\":20.1"));
        List<String> said = start();
        assertEquals(2, said.size());
        assertTrue(
                said.getFirst().startsWith("The trace of run run-1 cannot be recorded: "),
                said.getFirst());
        assertTrue(said.getFirst().endsWith("restore it from a copy."), said.getFirst());
        assertEquals(
                "Run run-2 had ended without its record; it is recorded now (measured).",
                said.getLast());
        assertEquals(
                List.of("run-2"),
                records().stream().map(record -> record.content().runId()).toList());
        assertEquals(List.of("run-1.jsonl", "run-2.jsonl.zst"), files());
        assertEquals(good.sha256(), records().getFirst().content().traceSha256());
        assertEquals(
                said.subList(0, 1),
                start(),
                "it is said at every start until somebody looks after it");
    }

    @Test
    void aTraceByHandAmongTheClosedOnesIsNeverRecorded() throws Exception {
        Files.writeString(
                traces.resolve("mine.jsonl"),
                """
                {"catchbay_trace":1,"turns":"implied","setup":{"bay":{"day":"2026-01-15"},\
                "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[\
                {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},\
                {"flow_us_gal_per_min":30,"pulses_per_us_gal":1000}]},\
                "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},\
                "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},"catch":{"seconds":90}}}
                {"at":0,"stop":"M. Example"}
                """);
        List<String> said = start();
        assertEquals(1, said.size());
        assertTrue(
                said.getFirst().startsWith("The trace of run mine cannot be recorded: "),
                said.getFirst());
        assertEquals(List.of(), records());
    }

    @Test
    void aCopyOfATraceIsNotASecondRun() throws Exception {
        ran("run-1");
        Files.copy(traces.resolve("run-1.jsonl"), traces.resolve("run-3.jsonl"));
        assertEquals(
                List.of(
                        "Run run-1 had ended without its record; it is recorded now (measured).",
                        "The trace of run run-3 cannot be recorded: run-3.jsonl holds the trace of"
                                + " run run-1, not of its own name; a copy of a trace belongs in"
                                + " another folder."),
                start());
        assertEquals(1, records().size());
    }

    @Test
    void aTraceThatDoesNotReplayIsNoRecord() throws Exception {
        ran("run-1");
        Path file = traces.resolve("run-1.jsonl");
        String text = Files.readString(file);
        String body =
                text.substring(0, text.lastIndexOf("{\"at\""))
                        .replace("\"state\":\"resting\"", "\"state\":\"settling\"");
        TraceFolder elsewhere =
                new TraceFolder(
                        Files.createDirectories(folder.resolve("elsewhere")), new DiskFiles());
        try (TraceFile sealing = elsewhere.begin("run-1")) {
            byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
            sealing.append(bytes, 0, bytes.length);
            sealing.seal(PlayedBay.START_NANOS, "measured", "The catch was measured and compared.");
        }
        Files.delete(file);
        Files.move(folder.resolve("elsewhere/run-1.jsonl"), file);
        ClosedTrace closed = new ClosedTrace("run-1", "run-1.jsonl", "", 0);
        DocumentException refused =
                assertThrows(
                        DocumentException.class,
                        () -> open(new DiskFiles(), (books, store) -> books.record(closed)));
        assertTrue(
                refused.getMessage()
                        .startsWith("The trace does not replay as it was recorded: line "),
                refused.getMessage());
        assertEquals(List.of(), records());
        assertEquals(Optional.of("run-1.jsonl"), files().stream().findFirst());
    }

    @Test
    void twoRunsAreChained() throws Exception {
        ran("run-1");
        ran("run-2");
        start();
        List<RunRecord> records = records();
        assertEquals(List.of(2L, 1L), records.stream().map(RunRecord::baySequence).toList());
        assertEquals(records.getLast().recordHash(), records.getFirst().previousHash());
        assertFalse(records.getFirst().recordHash().equals(records.getLast().recordHash()));
    }
}
