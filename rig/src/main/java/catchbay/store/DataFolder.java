package catchbay.store;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;

/**
 * Everything a bay keeps, held by one program at a time: the operating system's lock on its file
 * {@code lock} goes with the process, also with one that was killed.
 */
public final class DataFolder implements AutoCloseable {

    private final Path root;
    private final FileChannel lockFile;

    private DataFolder(Path root, FileChannel lockFile) {
        this.root = root;
        this.lockFile = lockFile;
    }

    /**
     * Takes the folder; makes it when it is not there.
     *
     * @param now calendar time, written down for whoever finds the folder taken
     * @throws StoreException when another program has it, naming it, or when it cannot be used
     */
    public static DataFolder open(Path root, Instant now) throws StoreException {
        Path lock = root.resolve("lock");
        try {
            Files.createDirectories(traces(root));
            FileChannel channel =
                    FileChannel.open(
                            lock,
                            StandardOpenOption.CREATE,
                            StandardOpenOption.READ,
                            StandardOpenOption.WRITE);
            if (!isTaken(channel)) {
                channel.close();
                throw new StoreException(
                        "the data folder "
                                + root
                                + " is in use by "
                                + holder(lock)
                                + "; end that program first, or choose another data folder");
            }
            channel.truncate(0);
            channel.write(
                    ByteBuffer.wrap(
                            ("process " + ProcessHandle.current().pid() + ", started " + now)
                                    .getBytes(StandardCharsets.UTF_8)));
            channel.force(true);
            return new DataFolder(root, channel);
        } catch (IOException unusable) {
            throw new StoreException(
                    "the data folder "
                            + root
                            + " cannot be used ("
                            + reason(unusable)
                            + "); check that it may be written to and that its disk is not full",
                    unusable);
        }
    }

    /** Where the traces lie. */
    public Path traces() {
        return traces(root);
    }

    /** Where the traces of a data folder lie that is only read. */
    public static Path traces(Path root) {
        return root.resolve("traces");
    }

    /** Where the series of repeats lie. */
    public Path series() {
        return root.resolve("series");
    }

    /** Where the sweeps lie. */
    public Path sweeps() {
        return sweeps(root);
    }

    /** Where the sweeps lie in a data folder that is only read. */
    public static Path sweeps(Path root) {
        return root.resolve("sweeps");
    }

    /** Where the tests of the scale lie. */
    public Path scaleTests() {
        return scaleTests(root);
    }

    /** Where the tests of the scale lie in a data folder that is only read. */
    public static Path scaleTests(Path root) {
        return root.resolve("scale-tests");
    }

    /** Where the checkups of the bay lie. */
    public Path checkups() {
        return checkups(root);
    }

    /** Where the checkups of the bay lie in a data folder that is only read. */
    public static Path checkups(Path root) {
        return root.resolve("checkups");
    }

    /** The database of the records. */
    public Path records() {
        return records(root);
    }

    /** The database of the records of a data folder that is only read. */
    public static Path records(Path root) {
        return root.resolve("records.sqlite");
    }

    /** Lets the folder go. */
    @Override
    public void close() throws StoreException {
        try {
            lockFile.close();
        } catch (IOException unusable) {
            throw new StoreException(
                    "the lock of the data folder "
                            + root
                            + " cannot be let go ("
                            + reason(unusable)
                            + "); it goes when this program ends",
                    unusable);
        }
    }

    private static boolean isTaken(FileChannel channel) throws IOException {
        try {
            FileLock lock = channel.tryLock();
            return lock != null;
        } catch (OverlappingFileLockException byOurselves) {
            return false;
        }
    }

    private static String holder(Path lock) throws IOException {
        String holder = Files.readString(lock).strip();
        return holder.isEmpty() ? "another program" : holder;
    }

    /** What the system says, in words: its exceptions put only a path where a reason should be. */
    private static String reason(IOException unusable) {
        return switch (unusable) {
            case AccessDeniedException _ -> "no permission";
            case NoSuchFileException _ -> "no such folder";
            case FileAlreadyExistsException _ -> "it is a file, not a folder";
            default -> String.valueOf(unusable.getMessage());
        };
    }
}
