package catchbay.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.List;

/**
 * All that traces do to files. Small, so that a test can stand in for the disk and let any one of
 * these fail or be cut short by a power failure.
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
