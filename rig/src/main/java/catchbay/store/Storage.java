package catchbay.store;

import java.nio.file.Path;

/**
 * How what a bay keeps comes onto the medium.
 *
 * @param files traces and journals
 * @param records the records
 */
public record Storage(FileLayer files, Opening records) {

    /** Real files, and records in SQLite. */
    public static final Storage ON_DISK = new Storage(new DiskFiles(), SqliteStore::open);

    /** Opens the records that lie in a file; makes it where it is missing. */
    @FunctionalInterface
    public interface Opening {
        /**
         * @throws StoreException when they cannot be used
         */
        RecordStore open(Path file) throws StoreException;
    }
}
