package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;
import catchbay.store.DataFolder;
import catchbay.store.JournalFolder;
import catchbay.store.RecordStore;
import catchbay.store.TraceFolder;
import catchbay.store.TraceFolder.Form;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What a data folder holds once a start has taken stock of it, after it was held to this: every run
 * is recorded whole or marked interrupted and kept, each journal has whole lines, and nothing else
 * lies about.
 *
 * @param recorded the outcomes of the recorded runs, by run
 * @param interrupted the runs that were interrupted
 * @param said what the start said
 */
public record Aftermath(Map<String, String> recorded, Set<String> interrupted, List<String> said) {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Instant NOW = Instant.parse("2026-01-05T09:00:00Z");

    /** Starts on the folder as the program does, whose lock must be free, and looks at it. */
    public static Aftermath of(Path data) throws Exception {
        Aftermath found;
        try (DataFolder folder = DataFolder.open(data, NOW.atZone(ZoneOffset.UTC));
                RecordStore store = folder.openRecords()) {
            Bookkeeping books = new Bookkeeping(folder.traces(), store);
            List<String> said = books.takeStock();
            assertEquals(List.of(), books.takeStock(), "the stock is taken at once");
            found = looked(folder.traces(), store, said);
            journals(folder.series(), "run", found);
            journals(folder.sweeps(), "ran", found);
        }
        databaseIsWhole(DataFolder.records(data));
        onlyThese(data, found);
        return found;
    }

    /** How it ended with a run: its outcome on record, "interrupted", or that there is none. */
    public String of(String run) {
        return recorded.getOrDefault(run, interrupted.contains(run) ? "interrupted" : "none");
    }

    private static Aftermath looked(TraceFolder traces, RecordStore store, List<String> said)
            throws Exception {
        List<RunRecord> records = store.newest(Integer.MAX_VALUE);
        assertEquals(new RecordChain.Verdict.Whole(records.size()), store.verifyChain());
        Map<String, String> recorded = new TreeMap<>();
        for (RunRecord record : records) {
            RunRecord.Content content = record.content();
            assertNull(recorded.put(content.runId(), content.outcome()));
            assertNull(traces.wrong(content.runId(), content.traceSha256()));
        }
        assertEquals(List.of(), traces.runs(Form.OPEN));
        assertEquals(List.of(), traces.runs(Form.CLOSED));
        assertEquals(
                recorded.keySet(),
                new HashSet<>(traces.runs(Form.COMPRESSED)),
                "each trace has its record, and each record its trace");
        Set<String> interrupted = new HashSet<>(traces.runs(Form.INTERRUPTED));
        assertTrue(interrupted.stream().noneMatch(recorded::containsKey), interrupted::toString);
        return new Aftermath(recorded, interrupted, said);
    }

    /** What a journal says of a run that ended is what is on record; no line of it is half. */
    private static void journals(JournalFolder folder, String key, Aftermath found)
            throws Exception {
        for (String name : folder.names()) {
            for (String line : folder.lines(name).orElseThrow()) {
                JsonNode read = JSON.readTree(line);
                JsonNode run = read.get(key);
                if (run != null && read.has("outcome")) {
                    String outcome = read.get("outcome").asText();
                    String kept = found.of(run.asText());
                    assertEquals(
                            outcome.equals("trace_failed") ? "interrupted" : outcome,
                            kept,
                            () -> name + ": " + line);
                }
            }
        }
    }

    private static void databaseIsWhole(Path records) throws Exception {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + records);
                Statement statement = connection.createStatement();
                ResultSet result = statement.executeQuery("PRAGMA integrity_check")) {
            assertTrue(result.next());
            assertEquals("ok", result.getString(1));
        }
    }

    /** No file but those that a bay keeps, and one trace for each run. */
    private static void onlyThese(Path data, Aftermath found) throws Exception {
        List<String> expected = new ArrayList<>();
        found.recorded.keySet().forEach(run -> expected.add(Form.COMPRESSED.fileName(run)));
        found.interrupted.forEach(run -> expected.add(Form.INTERRUPTED.fileName(run)));
        assertEquals(Set.copyOf(expected), names(data.resolve("traces")));
        Set<String> rooms = names(data);
        rooms.removeAll(Set.of("series", "sweeps"));
        assertEquals(Set.of("lock", "records.sqlite", "traces"), rooms);
    }

    private static Set<String> names(Path folder) throws Exception {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(file -> file.getFileName().toString()).collect(Collectors.toSet());
        }
    }

    /** The sweeps in a folder that were interrupted and may be gone on with. */
    public static List<String> sweepsInterrupted(Path data) throws Exception {
        return KnownSweeps.of(DataFolder.sweeps(data)).interrupted().stream()
                .map(one -> one.kept().sweep())
                .toList();
    }
}
