package catchbay.store;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;
import catchbay.record.TraceLine;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteDataSource;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * Records in one SQLite file: write-ahead log, every commit on the medium before it is answered.
 */
public final class SqliteStore implements RecordStore {

    /** The newest migration; each sets SQLite's own {@code user_version} to its number. */
    static final int SCHEMA_VERSION = 1;

    private static final int BUSY_MILLIS_MAX = 5000;

    /** Primary result codes of SQLite (sqlite.org/rescode.html): the low byte of its codes. */
    private static final int PERM = 3, BUSY = 5, LOCKED = 6, READONLY = 8;

    private static final int CORRUPT = 11, FULL = 13, CANTOPEN = 14, NOTADB = 26;

    private static final String COLUMNS =
            "run_id, bay_id, bay_sequence, asset, started_wall, day, origin, "
                    + "method_version, program_version, outcome, reason, accepted, trace_file, "
                    + "trace_sha256, result_json, "
                    + "previous_hash, record_hash";

    private static final String SELECT = "SELECT " + COLUMNS + " FROM run_record ";

    private final Path file;
    private final Connection connection;

    private SqliteStore(Path file, Connection connection) {
        this.file = file;
        this.connection = connection;
    }

    /**
     * Opens the records; makes or updates the file when needed.
     *
     * @throws StoreException when it is no such file, was written by a newer program, or cannot be
     *     used
     */
    public static SqliteStore open(Path file) throws StoreException {
        SQLiteConfig config = config();
        Connection connection = null;
        try {
            connection = config.createConnection("jdbc:sqlite:" + file);
            int version = schemaVersion(connection);
            if (version > SCHEMA_VERSION) {
                throw new StoreException(
                        "the records in "
                                + file
                                + " have schema "
                                + version
                                + ", this program knows up "
                                + "to "
                                + SCHEMA_VERSION
                                + "; start the newer program that wrote them");
            }
            // Flyway takes longer to start than all the rest here: it is asked only when there is
            // something to do.
            if (version < SCHEMA_VERSION) {
                migrate(file, config);
            }
            return new SqliteStore(file, connection);
        } catch (SQLException | FlywayException | StoreException unusable) {
            closeQuietly(connection, unusable);
            throw unusable instanceof StoreException refusal
                    ? refusal
                    : failure(file, "opened", unusable);
        }
    }

    @Override
    public RunRecord append(RunRecord.Content content) throws StoreException {
        RunRecord record = trying("written", () -> appended(content));
        if (!record.content().equals(content)) {
            throw new StoreException(
                    "run "
                            + content.runId()
                            + " is recorded already with another content (number "
                            + record.baySequence()
                            + " of bay "
                            + record.content().bayId()
                            + "); a record is never changed: compare its trace with the one kept");
        }
        return record;
    }

    /** The record of the run that is there, else a new one at the end of its bay's chain. */
    private RunRecord appended(RunRecord.Content content) throws SQLException {
        connection.setAutoCommit(false);
        try {
            Optional<RunRecord> there = first("WHERE run_id = ?", content.runId());
            if (there.isPresent()) {
                return there.get();
            }
            Optional<RunRecord> last =
                    first("WHERE bay_id = ? ORDER BY bay_sequence DESC LIMIT 1", content.bayId());
            RunRecord record = RecordChain.next(last, content);
            insert(record);
            connection.commit();
            return record;
        } finally {
            connection.rollback(); // of nothing, once committed
            connection.setAutoCommit(true);
        }
    }

    private void insert(RunRecord record) throws SQLException {
        RunRecord.Content content = record.content();
        List<Object> values =
                List.of(
                        content.runId(),
                        content.bayId(),
                        record.baySequence(),
                        content.asset(),
                        content.startedWall().toString(),
                        content.day().toString(),
                        content.origin().key(),
                        content.methodVersion(),
                        content.programVersion(),
                        content.outcome(),
                        content.reason(),
                        content.accepted() ? 1 : 0,
                        content.traceFile(),
                        content.traceSha256(),
                        content.resultJson(),
                        record.previousHash(),
                        record.recordHash());
        String places = String.join(", ", Collections.nCopies(values.size(), "?"));
        try (PreparedStatement insert =
                prepared(
                        "INSERT INTO run_record (" + COLUMNS + ") VALUES (" + places + ")",
                        values.toArray())) {
            insert.executeUpdate();
        }
    }

    @Override
    public Optional<RunRecord> ofRun(String runId) throws StoreException {
        return trying("read", () -> first("WHERE run_id = ?", runId));
    }

    @Override
    public long count() throws StoreException {
        return trying(
                "read",
                () -> {
                    try (PreparedStatement query = prepared("SELECT COUNT(*) FROM run_record");
                            ResultSet count = query.executeQuery()) {
                        return count.getLong(1);
                    }
                });
    }

    @Override
    public List<RunRecord> newest(int most) throws StoreException {
        return trying("read", () -> all("ORDER BY record_id DESC LIMIT ?", most));
    }

    @Override
    public List<RunRecord> newestOfAsset(String asset, int most) throws StoreException {
        return trying(
                "read", () -> all("WHERE asset = ? ORDER BY record_id DESC LIMIT ?", asset, most));
    }

    @Override
    public RecordChain.Verdict verifyChain() throws StoreException {
        return trying(
                "read",
                () -> {
                    try (PreparedStatement query =
                                    prepared(SELECT + "ORDER BY bay_id, bay_sequence");
                            ResultSet rows = query.executeQuery()) {
                        return verdict(rows);
                    }
                });
    }

    private static RecordChain.Verdict verdict(ResultSet rows) throws SQLException {
        RecordChain chain = new RecordChain();
        while (rows.next()) {
            try {
                chain.take(record(rows));
            } catch (IllegalArgumentException | DateTimeException unreadable) {
                return new RecordChain.Verdict.Broken(
                        rows.getString("bay_id"),
                        rows.getLong("bay_sequence"),
                        rows.getString("run_id"),
                        "it cannot be read: " + unreadable.getMessage());
            }
        }
        return chain.verdict();
    }

    @Override
    public void close() throws StoreException {
        try {
            connection.close();
        } catch (SQLException unusable) {
            throw failure(file, "closed", unusable);
        }
    }

    private Optional<RunRecord> first(String which, Object... values) throws SQLException {
        return all(which, values).stream().findFirst();
    }

    private List<RunRecord> all(String which, Object... values) throws SQLException {
        List<RunRecord> records = new ArrayList<>();
        try (PreparedStatement query = prepared(SELECT + which, values);
                ResultSet rows = query.executeQuery()) {
            while (rows.next()) {
                records.add(record(rows));
            }
        }
        return records;
    }

    private PreparedStatement prepared(String sql, Object... values) throws SQLException {
        PreparedStatement statement = connection.prepareStatement(sql);
        for (int i = 0; i < values.length; i++) {
            statement.setObject(i + 1, values[i]);
        }
        return statement;
    }

    private static RunRecord record(ResultSet row) throws SQLException {
        RunRecord.Content content =
                new RunRecord.Content(
                        row.getString("run_id"),
                        row.getString("bay_id"),
                        row.getString("asset"),
                        Instant.parse(row.getString("started_wall")),
                        LocalDate.parse(row.getString("day")),
                        TraceLine.Origin.ofKey(row.getString("origin")),
                        row.getInt("method_version"),
                        row.getString("program_version"),
                        row.getString("outcome"),
                        row.getString("reason"),
                        row.getInt("accepted") == 1,
                        row.getString("trace_file"),
                        row.getString("trace_sha256"),
                        row.getString("result_json"));
        return new RunRecord(
                content,
                row.getLong("bay_sequence"),
                row.getString("previous_hash"),
                row.getString("record_hash"));
    }

    private interface Work<T> {
        T doIt() throws SQLException;
    }

    private <T> T trying(String whatIsDone, Work<T> work) throws StoreException {
        try {
            return work.doIt();
        } catch (SQLException | IllegalArgumentException | DateTimeException unusable) {
            throw failure(file, whatIsDone, unusable);
        }
    }

    private static StoreException failure(Path file, String whatIsDone, Exception cause) {
        Throwable deepest = cause;
        while (deepest.getCause() != null) {
            deepest = deepest.getCause();
        }
        return new StoreException(
                "the records in " + file + " cannot be " + whatIsDone + ": " + why(deepest), cause);
    }

    /** What to do follows from the kind of failure; the driver's own words are for programmers. */
    private static String why(Throwable cause) {
        int primary = cause instanceof SQLException refused ? refused.getErrorCode() & 0xFF : 0;
        return switch (primary) {
            case READONLY, CANTOPEN, PERM ->
                    "this user may not write to their folder, where their log lies beside them;"
                            + " ask for that right, or copy the whole folder to one of your own";
            case BUSY, LOCKED -> "another program holds them; wait until it is done";
            case CORRUPT, NOTADB ->
                    "the file is damaged, or no file of records; restore it from a copy";
            case FULL -> "the disk is full; free some space";
            default ->
                    "the disk or the file is at fault ("
                            + String.valueOf(cause.getMessage())
                                    .lines()
                                    .findFirst()
                                    .orElse("no reason given")
                            + "); check the disk, or restore the file from a copy";
        };
    }

    private static void closeQuietly(Connection connection, Exception reason) {
        if (connection != null) {
            try {
                connection.close();
            } catch (SQLException second) {
                reason.addSuppressed(second);
            }
        }
    }

    private static SQLiteConfig config() {
        SQLiteConfig config = new SQLiteConfig();
        config.setJournalMode(SQLiteConfig.JournalMode.WAL);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.setBusyTimeout(BUSY_MILLIS_MAX);
        config.enforceForeignKeys(true);
        // So that a transaction that reads first and writes later cannot lose its place to another
        // program.
        config.setTransactionMode(SQLiteConfig.TransactionMode.IMMEDIATE);
        return config;
    }

    private static int schemaVersion(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet version = statement.executeQuery("PRAGMA user_version")) {
            version.next();
            return version.getInt(1);
        }
    }

    private static void migrate(Path file, SQLiteConfig config) {
        SQLiteDataSource source = new SQLiteDataSource(config);
        source.setUrl("jdbc:sqlite:" + file);
        Flyway.configure(SqliteStore.class.getClassLoader())
                .dataSource(source)
                .locations("classpath:catchbay/store/migrations")
                .failOnMissingLocations(true)
                .validateMigrationNaming(true)
                .load()
                .migrate();
    }
}
