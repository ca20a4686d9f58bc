package catchbay.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;
import catchbay.record.SampleRecords;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

final class SqliteStoreTest {

    @TempDir Path folder;

    private Path file() {
        return folder.resolve("records.sqlite");
    }

    /** As a person with another program would: past all of our code. */
    private void outside(String... sql) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement()) {
            for (String each : sql) {
                statement.execute(each);
            }
        }
    }

    @Test
    void recordsAreKeptAndFound() throws StoreException {
        RunRecord first;
        RunRecord third;
        try (SqliteStore store = SqliteStore.open(file())) {
            first = store.append(SampleRecords.content("run-1", "bay-1", "T-12"));
            store.append(SampleRecords.content("run-2", "bay-2", "T-12"));
            third = store.append(SampleRecords.content("run-3", "bay-1", "T-9"));
        }
        try (SqliteStore store = SqliteStore.open(file())) {
            assertEquals(Optional.of(first), store.ofRun("run-1"));
            assertEquals(Optional.empty(), store.ofRun("run-4"));
            assertEquals(2, third.baySequence());
            assertEquals(first.recordHash(), third.previousHash());
            assertEquals(List.of("run-3", "run-2", "run-1"), runs(store.newest(10)));
            assertEquals(List.of("run-3", "run-2"), runs(store.newest(2)));
            assertEquals(List.of("run-2", "run-1"), runs(store.newestOfAsset("T-12", 10)));
            assertEquals(List.of("run-2"), runs(store.newestOfAsset("T-12", 1)));
            assertEquals(List.of(), store.newestOfAsset("T-0", 10));
            assertEquals(new RecordChain.Verdict.Whole(3), store.verifyChain());
        }
    }

    private static List<String> runs(List<RunRecord> records) {
        return records.stream().map(record -> record.content().runId()).toList();
    }

    @Test
    void appendingAgainAnswersWhatIsThere() throws StoreException {
        try (SqliteStore store = SqliteStore.open(file())) {
            RunRecord first = store.append(SampleRecords.content("run-1", "bay-1", "T-12"));
            store.append(SampleRecords.content("run-2", "bay-1", "T-12"));

            assertEquals(first, store.append(SampleRecords.content("run-1", "bay-1", "T-12")));
            assertEquals(2, store.newest(10).size());
            StoreException refused =
                    assertThrows(
                            StoreException.class,
                            () -> store.append(SampleRecords.content("run-1", "bay-1", "T-13")));
            assertTrue(
                    refused.getMessage()
                            .startsWith("run run-1 is recorded already with another content"),
                    refused.getMessage());
            assertEquals(new RecordChain.Verdict.Whole(2), store.verifyChain());
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "UPDATE run_record SET outcome = 'measured'",
                "DELETE FROM run_record",
                "INSERT OR REPLACE INTO run_record SELECT * FROM run_record",
                "INSERT OR REPLACE INTO run_record SELECT 99, run_id || 'x', bay_id, "
                        + "bay_sequence, asset, started_wall,"
                        + " day, origin, method_version, program_version, outcome, reason, "
                        + "accepted, trace_file,"
                        + " trace_sha256, result_json, previous_hash, record_hash FROM run_record",
                "INSERT INTO run_record SELECT 99, run_id || 'x', bay_id, 7, asset, "
                        + "started_wall, day, origin,"
                        + " method_version, program_version, outcome, reason, accepted, "
                        + "trace_file, trace_sha256,"
                        + " result_json, record_hash, replace(record_hash, 'a', 'b') FROM "
                        + "run_record",
            })
    void nothingIsChangedInPlace(String sql) throws StoreException {
        try (SqliteStore store = SqliteStore.open(file())) {
            RunRecord first = store.append(SampleRecords.content("run-1", "bay-1", "T-12"));

            assertThrows(SQLException.class, () -> outside(sql));
            assertEquals(List.of(first), store.newest(10));
        }
    }

    @Test
    void whoeverTakesTheTriggersAwayIsFoundOut() throws StoreException, SQLException {
        try (SqliteStore store = SqliteStore.open(file())) {
            for (int i = 1; i <= 5; i++) {
                store.append(SampleRecords.content("run-" + i, "bay-1", "T-12"));
            }
            outside(
                    "DROP TRIGGER run_record_is_never_changed",
                    "UPDATE run_record SET asset = 'T-13' WHERE run_id = 'run-3'");
            assertBroken(
                    "run-3", "its content is not the one that was hashed", store.verifyChain());

            outside("UPDATE run_record SET asset = 'T-12' WHERE run_id = 'run-3'");
            assertEquals(new RecordChain.Verdict.Whole(5), store.verifyChain());

            outside(
                    "UPDATE run_record SET record_hash = 'g' || substr(record_hash, 2) WHERE "
                            + "run_id = 'run-2'");
            assertBroken("run-2", "it cannot be read: ", store.verifyChain());

            outside(
                    "DROP TRIGGER run_record_is_never_deleted",
                    "DELETE FROM run_record WHERE run_id = 'run-2'");
            assertBroken("run-3", "it has number 3 where 2 follows", store.verifyChain());
        }
    }

    private static void assertBroken(String run, String reason, RecordChain.Verdict verdict) {
        RecordChain.Verdict.Broken broken =
                assertInstanceOf(RecordChain.Verdict.Broken.class, verdict);
        assertEquals(run, broken.runId());
        assertTrue(broken.reason().startsWith(reason), broken.reason());
    }

    /**
     * The short way at start asks SQLite's own version number; the migrations must keep it right.
     */
    @Test
    void theNewestMigrationSaysItsNumber() throws Exception {
        SqliteStore.open(file()).close();
        long newest;
        try (Stream<Path> files =
                Files.list(Path.of("src/main/resources/catchbay/store/migrations"))) {
            newest =
                    files.map(path -> path.getFileName().toString())
                            .mapToLong(
                                    name -> Long.parseLong(name.substring(1, name.indexOf("__"))))
                            .max()
                            .orElseThrow();
        }
        assertEquals(SqliteStore.SCHEMA_VERSION, newest);
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement()) {
            assertEquals("" + newest, text(statement, "PRAGMA user_version"));
            assertEquals(
                    "" + newest,
                    text(
                            statement,
                            "SELECT max(CAST(version AS INTEGER)) FROM flyway_schema_history"));
            assertEquals("wal", text(statement, "PRAGMA journal_mode"));
        }
    }

    private static String text(Statement statement, String sql) throws SQLException {
        try (ResultSet result = statement.executeQuery(sql)) {
            result.next();
            return result.getString(1);
        }
    }

    @Test
    void aFileThatIsNoDatabaseIsRefused() throws IOException {
        Files.writeString(file(), "This is no database, however long it is. ".repeat(100));
        StoreException refused =
                assertThrows(StoreException.class, () -> SqliteStore.open(file()).close());
        assertEquals(
                "the records in "
                        + file()
                        + " cannot be opened: the file is damaged, or no file of records; restore"
                        + " it from a copy",
                refused.getMessage());
    }

    @Test
    void aFileOfANewerProgramIsRefused() throws StoreException, SQLException {
        SqliteStore.open(file()).close();
        outside("PRAGMA user_version = 99");
        StoreException refused =
                assertThrows(StoreException.class, () -> SqliteStore.open(file()).close());
        assertEquals(
                "the records in "
                        + file()
                        + " have schema 99, this program knows up to 1; start the newer program "
                        + "that "
                        + "wrote them",
                refused.getMessage());
    }

    @Test
    void aFailedAppendLosesNothingThatWasThere() throws StoreException, SQLException {
        try (SqliteStore store = SqliteStore.open(file())) {
            RunRecord first = store.append(SampleRecords.content("run-1", "bay-1", "T-12"));
            outside(
                    "CREATE TRIGGER no_room BEFORE INSERT ON run_record WHEN NEW.run_id = 'run-2' "
                            + "BEGIN SELECT RAISE(ABORT, 'no room'); END");
            StoreException refused =
                    assertThrows(
                            StoreException.class,
                            () -> store.append(SampleRecords.content("run-2", "bay-1", "T-12")));
            assertTrue(
                    refused.getMessage()
                                    .contains(
                                            "cannot be written: the disk or the file is at fault (")
                            && refused.getMessage().contains("no room"),
                    refused.getMessage());
            assertEquals(List.of(first), store.newest(10));
            assertEquals(
                    2, store.append(SampleRecords.content("run-3", "bay-1", "T-12")).baySequence());
        }
    }
}
