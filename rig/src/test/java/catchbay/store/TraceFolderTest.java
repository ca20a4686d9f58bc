package catchbay.store;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.TraceArchive;
import catchbay.store.TraceFolder.Form;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;

final class TraceFolderTest {

    private static final byte[] LINES = "{\"a\":1}\n{\"b\":2}\n".getBytes(StandardCharsets.UTF_8);

    @TempDir Path folder;

    private TraceFolder traces() {
        return new TraceFolder(folder, new DiskFiles());
    }

    private static ClosedTrace closed(TraceFolder traces, String run)
            throws StoreException, IOException {
        try (TraceFile file = traces.begin(run)) {
            file.append(LINES, 0, LINES.length);
            return file.seal(7, "measured", "Done.");
        }
    }

    private static List<String> names(Path folder) throws IOException {
        return new DiskFiles()
                .list(folder).stream().map(path -> path.getFileName().toString()).toList();
    }

    private static String sha256(byte[] bytes) throws Exception {
        return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    }

    @Test
    void aTraceGoesFromOpenOverClosedToCompressed() throws Exception {
        TraceFolder traces = traces();
        ClosedTrace closed;
        try (TraceFile file = traces.begin("run-1")) {
            file.append(LINES, 0, LINES.length);
            file.sync();
            assertEquals(List.of("run-1.open.jsonl"), names(folder));
            assertArrayEquals(LINES, Files.readAllBytes(folder.resolve("run-1.open.jsonl")));
            closed = file.seal(7, "measured", "Done.");
        }
        byte[] text = Files.readAllBytes(folder.resolve("run-1.jsonl"));
        assertEquals(
                new String(LINES, StandardCharsets.UTF_8)
                        + "{\"at\":7,\"end\":\"measured\",\"reason\":\"Done.\","
                        + "\"lines\":2,\"sha256\":\""
                        + sha256(LINES)
                        + "\"}\n",
                new String(text, StandardCharsets.UTF_8));
        assertEquals(new ClosedTrace("run-1", "run-1.jsonl", sha256(text), 3), closed);
        assertEquals(Optional.of(Form.CLOSED), traces.form("run-1"));

        traces.compress("run-1", closed.sha256());
        assertEquals(List.of("run-1.jsonl.zst"), names(folder));
        assertEquals(List.of("run-1"), traces.runs(Form.COMPRESSED));
        assertEquals(List.of(), traces.runs(Form.CLOSED));
        try (InputStream stored = traces.read("run-1")) {
            assertEquals(sha256(text), TraceArchive.sha256(stored));
        }
    }

    @Test
    void whatIsNotTheRecordedTraceIsNotCompressedAway() throws Exception {
        TraceFolder traces = traces();
        closed(traces, "run-1");
        StoreException refused =
                assertThrows(StoreException.class, () -> traces.compress("run-1", "0".repeat(64)));
        assertTrue(
                refused.getMessage()
                        .startsWith("the trace of run run-1 has changed since it was recorded"),
                refused.getMessage());
        assertEquals(List.of("run-1.jsonl"), names(folder));
    }

    @Test
    void aRunHasOneTraceForEver() throws Exception {
        TraceFolder traces = traces();
        closed(traces, "run-1");
        assertEquals(
                "there is a trace of run run-1 already (run-1.jsonl); begin again under another "
                        + "run name",
                assertThrows(StoreException.class, () -> traces.begin("run-1")).getMessage());
    }

    @Test
    void anOpenTraceFoundAtStartIsMarkedInterruptedAndKept() throws Exception {
        TraceFolder traces = traces();
        try (TraceFile file = traces.begin("run-1")) {
            file.append(LINES, 0, LINES.length);
            file.sync();
        }
        assertEquals(List.of("run-1"), traces.runs(Form.OPEN));
        traces.interrupt("run-1");
        assertEquals(List.of("run-1.interrupted.jsonl"), names(folder));
        assertEquals(List.of("run-1"), traces.runs(Form.INTERRUPTED));
        try (InputStream stored = traces.read("run-1")) {
            assertArrayEquals(LINES, stored.readAllBytes());
        }
    }

    @Test
    void otherFilesAreLeftAlone() throws Exception {
        Files.writeString(folder.resolve("notes.txt"), "");
        Files.writeString(folder.resolve("run.of.dots.jsonl"), "");
        Files.createDirectory(folder.resolve("run-2.jsonl"));
        for (Form form : Form.values()) {
            assertEquals(List.of(), traces().runs(form));
        }
        traces().tidy();
        assertEquals(List.of("notes.txt", "run.of.dots.jsonl"), names(folder));
        assertEquals(
                "there is no trace of run run-2 in " + folder,
                assertThrows(StoreException.class, () -> traces().read("run-2")).getMessage());
    }

    @Test
    void aLongTraceIsAppendedWhole() throws Exception {
        byte[] long100 =
                ("{\"x\":\"" + "y".repeat(1000) + "\"}\n")
                        .repeat(100)
                        .getBytes(StandardCharsets.UTF_8);
        try (TraceFile file = traces().begin("run-1")) {
            for (int i = 0; i < 30; i++) {
                file.append(LINES, 0, LINES.length);
                file.append(long100, 0, long100.length);
            }
            assertEquals(30 * 102 + 1, file.seal(7, "measured", "").lines());
        }
        byte[] text = Files.readAllBytes(folder.resolve("run-1.jsonl"));
        int at = 0;
        for (int i = 0; i < 30; i++) {
            int between = at + LINES.length;
            assertArrayEquals(LINES, Arrays.copyOfRange(text, at, between));
            assertArrayEquals(long100, Arrays.copyOfRange(text, between, between + long100.length));
            at = between + long100.length;
        }
    }

    @Test
    void theFreeSpaceIsThatOfTheMedium() throws Exception {
        assertEquals(Files.getFileStore(folder).getUsableSpace(), traces().freeBytes(), 1e9);
        assertTrue(traces().freeBytes() > 0);
    }

    /**
     * Power goes at every single effect on files from the beginning of a run to its compressed
     * trace. Whatever is left: after the next start the run is either interrupted, or closed and
     * whole, and nothing else lies about.
     */
    @Test
    void powerLostAtAnyMomentLeavesNoHalfTraceThatLooksWhole() throws Exception {
        String sha256 = closed(traces(), "run-1").sha256();
        boolean reachedTheEnd = false;
        int interrupted = 0;
        int whole = 0;
        for (int effects = 0; !reachedTheEnd; effects++) {
            Path place = Files.createDirectory(folder.resolve("at" + effects));
            UnreliableFiles files = UnreliableFiles.killedAfter(effects);
            boolean sealed = false;
            try {
                TraceFolder traces = new TraceFolder(place, files);
                ClosedTrace closed = closed(traces, "run-1");
                sealed = true;
                traces.compress("run-1", closed.sha256());
            } catch (IOException noPower) {
                assertTrue(files.failed(), noPower.toString());
            }
            reachedTheEnd = !files.failed();

            TraceFolder after = new TraceFolder(place, new DiskFiles());
            after.tidy();
            for (String run : after.runs(Form.OPEN)) {
                after.interrupt(run);
            }
            Optional<Form> form = after.form("run-1");
            assertEquals(form.isPresent() ? 1 : 0, names(place).size(), "at " + effects);
            if (form.isPresent() && form.get() != Form.INTERRUPTED) {
                whole++;
                try (InputStream stored = after.read("run-1")) {
                    assertEquals(sha256, TraceArchive.sha256(stored), "at " + effects);
                }
            } else {
                interrupted++;
                assertFalse(sealed, "a trace that was said to be closed stays so, at " + effects);
            }
        }
        assertTrue(
                interrupted >= 4 && whole >= 6, interrupted + " interrupted, " + whole + " whole");
    }
}
