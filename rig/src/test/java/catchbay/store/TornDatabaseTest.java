package catchbay.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;
import catchbay.record.SampleRecords;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.Arrays;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * The database and its write-ahead log as a cut leaves them: copied after each operation, and with
 * each number of the log's last bytes missing or zero. A record is in it whole, or not at all.
 *
 * <p>Layout of the log: sqlite.org/fileformat2.html, section 4.1: a header of 32 bytes, then frames
 * of 24 bytes and a page each.
 */
final class TornDatabaseTest {

    private static final int WAL_HEADER_BYTES = 32;
    private static final int FRAME_HEADER_BYTES = 24;

    @TempDir Path folder;

    private Path file() {
        return folder.resolve("records.sqlite");
    }

    private Path log(Path file) {
        return file.resolveSibling(file.getFileName() + "-wal");
    }

    private static RunRecord.Content content(int run) {
        return SampleRecords.content("run-" + run, "bay-1", "T-12");
    }

    /** What lies on the medium now; the log is empty where there is none. */
    private record Image(byte[] database, byte[] log) {}

    private Image image() throws IOException {
        Path log = log(file());
        return new Image(
                Files.readAllBytes(file()),
                Files.exists(log) ? Files.readAllBytes(log) : new byte[0]);
    }

    @Test
    void afterEachOperationAllThatWasAnsweredIsThere() throws Exception {
        Image made;
        try (SqliteStore store = SqliteStore.open(file())) {
            made = image();
            for (int run = 1; run <= 20; run++) {
                RunRecord record = store.append(content(run));
                Image after = image();
                assertEquals(run, recordsIn(after, run + 1));
                assertEquals(record, store.append(content(run)), "again, as an adoption would");
                assertEquals(after.log().length, image().log().length, "and nothing is written");
            }
        }
        assertEquals(0, recordsIn(made, 1));
        Image closed = image();
        assertEquals(0, closed.log().length, "the log is taken into the database");
        assertEquals(20, recordsIn(closed, 21));
    }

    /** The log of an append torn at each of its frames and between, the rest missing or zero. */
    @Test
    void aTornLogHoldsTheRecordWholeOrNotAtAll() throws Exception {
        Image before;
        Image after;
        try (SqliteStore store = SqliteStore.open(file())) {
            store.append(content(1));
            before = image();
            store.append(content(2));
            after = image();
        }
        assertTrue(after.log().length > before.log().length);
        int old = 0;
        for (int length : cuts(after, before.log().length)) {
            byte[] missing = Arrays.copyOf(after.log(), length);
            for (byte[] log : new byte[][] {missing, Arrays.copyOf(missing, after.log().length)}) {
                long records = recordsIn(new Image(after.database(), log), 3);
                assertEquals(
                        length == after.log().length ? 2 : 1,
                        records,
                        () -> "torn after " + length + " of " + after.log().length);
                old += records == 1 ? 1 : 0;
            }
        }
        assertTrue(old > 20, "torn " + old + " times");
    }

    /** The making of the tables torn anywhere: the next start makes them. */
    @Test
    void aTornLogOfANewDatabaseIsMadeAnew() throws Exception {
        Image made;
        try (SqliteStore _ = SqliteStore.open(file())) {
            made = image();
        }
        SortedSet<Integer> cuts = cuts(made, 0);
        assertTrue(cuts.size() > 20, cuts::toString);
        for (int length : cuts) {
            assertEquals(
                    0, recordsIn(new Image(made.database(), Arrays.copyOf(made.log(), length)), 1));
        }
    }

    /** In each frame of the log from here on: before it, in its header, in its page, behind it. */
    private static SortedSet<Integer> cuts(Image image, int from) {
        int page = ByteBuffer.wrap(image.log()).getInt(8);
        int frame = FRAME_HEADER_BYTES + page;
        SortedSet<Integer> cuts = new TreeSet<>();
        for (int at = WAL_HEADER_BYTES; at <= image.log().length; at += frame) {
            for (int cut :
                    new int[] {
                        at, at + 1, at + 23, at + 24, at + 25, at + frame / 2, at + frame - 1
                    }) {
                if (cut >= from && cut <= image.log().length) {
                    cuts.add(cut);
                }
            }
        }
        return cuts;
    }

    /**
     * Opens what a cut left as the next start does: the file is whole, its chain verifies, and the
     * next record goes behind it.
     *
     * @param next a run that is not among the records
     * @return how many records there were
     */
    private long recordsIn(Image image, int next) throws Exception {
        Path place = Files.createTempDirectory(folder, "cut");
        Path copy = Files.write(place.resolve("records.sqlite"), image.database());
        Files.write(log(copy), image.log());
        long records;
        try (SqliteStore store = SqliteStore.open(copy)) {
            records = store.newest(1000).size();
            assertEquals(new RecordChain.Verdict.Whole(records), store.verifyChain());
            assertEquals(records + 1, store.append(content(next)).baySequence());
            assertEquals(new RecordChain.Verdict.Whole(records + 1), store.verifyChain());
        }
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + copy);
                Statement statement = connection.createStatement();
                ResultSet result = statement.executeQuery("PRAGMA integrity_check")) {
            assertTrue(result.next());
            assertEquals("ok", result.getString(1));
        }
        return records;
    }
}
