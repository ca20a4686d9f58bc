package catchbay.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.List;

/**
 * All that is done to the files of a data folder, but for the database, which SQLite looks after,
 * and the lock, which keeps nothing. Small, so that a test can stand in for the disk and let any
 * one of these fail or be cut short by a power failure.
 */
public interface FileLayer {

    /** A file being written, from its beginning to its end. */
    interface Growing extends AutoCloseable {

        /** Writes all of these bytes behind those before; they may not be on the medium yet. */
        void write(byte[] bytes, int from, int length) throws IOException;

        /** Returns when all written bytes are on the medium. */
        void sync() throws IOException;

        @Override
        void close() throws IOException;
    }

    /**
     * Makes a folder, and those above it, where they are missing; returns when their names are on
     * the medium: what lies in a folder without a name is lost with it.
     */
    default void makeFolder(Path folder) throws IOException {
        if (hasFolder(folder)) {
            return;
        }
        Path above = folder.toAbsolutePath().getParent();
        if (above != null) {
            makeFolder(above);
        }
        createFolder(folder);
        if (above != null) {
            syncFolder(above);
        }
    }

    /** Whether there is a folder called so. */
    boolean hasFolder(Path folder);

    /** Makes a folder in one that is there; its name may not be on the medium yet. */
    void createFolder(Path folder) throws IOException;

    /** Begins a file; fails when there is one already. */
    Growing create(Path file) throws IOException;

    /** Reads a file. */
    InputStream read(Path file) throws IOException;

    /** Gives a file another name in one step; fails when the new name is taken. */
    void rename(Path from, Path to) throws IOException;

    /** Deletes a file. */
    void delete(Path file) throws IOException;

    /** Returns when all new, renamed and deleted names in the folder are on the medium. */
    void syncFolder(Path folder) throws IOException;

    /** The files in a folder, by name. */
    List<Path> list(Path folder) throws IOException;

    /** Free space on the medium below a folder, bytes. */
    long freeBytes(Path folder) throws IOException;
}
