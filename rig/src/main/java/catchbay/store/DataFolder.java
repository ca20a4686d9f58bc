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
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/**
 * Everything a bay keeps, held by one program at a time: the operating system's lock on its file
 * {@code lock} goes with the process, also with one that was killed.
 */
public final class DataFolder implements AutoCloseable {

    private static final String TRACES = "traces";
    private static final String SWEEPS = "sweeps";
    private static final String SCALE_TESTS = "scale-tests";
    private static final String SELF_TESTS = "self-tests";
    private static final String HUNTS = "hunts";
    private static final String CHECKUPS = "checkups";

    private static final DateTimeFormatter STARTED =
            DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss", Locale.ROOT);

    private final Path root;
    private final Storage storage;
    private final FileChannel lockFile;

    private DataFolder(Path root, Storage storage, FileChannel lockFile) {
        this.root = root;
        this.storage = storage;
        this.lockFile = lockFile;
    }

    /** As {@link #open(Path, ZonedDateTime, Storage)}, on the disk. */
    public static DataFolder open(Path root, ZonedDateTime now) throws StoreException {
        return open(root, now, Storage.ON_DISK);
    }

    /**
     * Takes the folder; makes it when it is not there.
     *
     * @param now the bay's local time, written down for whoever finds the folder taken
     * @param storage how what is kept in it comes onto the medium
     * @throws StoreException when another program has it, naming it, or when it cannot be used
     */
    public static DataFolder open(Path root, ZonedDateTime now, Storage storage)
            throws StoreException {
        try {
            storage.files().makeFolder(root.resolve(TRACES));
            FileChannel channel =
                    FileChannel.open(
                            lock(root),
                            StandardOpenOption.CREATE,
                            StandardOpenOption.READ,
                            StandardOpenOption.WRITE);
            try {
                takeLock(channel, root, now);
                return new DataFolder(root, storage, channel);
            } catch (IOException | StoreException refused) {
                channel.close();
                throw refused;
            }
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

    /** Its traces. */
    public TraceFolder traces() {
        return new TraceFolder(root.resolve(TRACES), storage.files());
    }

    /** The traces of a data folder that is only read. */
    public static TraceFolder traces(Path root) {
        return new TraceFolder(root.resolve(TRACES), Storage.ON_DISK.files());
    }

    /** The series of repeats. */
    public JournalFolder series() {
        return journals(root, "series", storage);
    }

    /** The sweeps. */
    public JournalFolder sweeps() {
        return journals(root, SWEEPS, storage);
    }

    /** The sweeps of a data folder that is only read. */
    public static JournalFolder sweeps(Path root) {
        return journals(root, SWEEPS, Storage.ON_DISK);
    }

    /** The tests of the scale. */
    public JournalFolder scaleTests() {
        return journals(root, SCALE_TESTS, storage);
    }

    /** The tests of the scale in a data folder that is only read. */
    public static JournalFolder scaleTests(Path root) {
        return journals(root, SCALE_TESTS, Storage.ON_DISK);
    }

    /** The hunts for the ends of trucks' ranges. */
    public JournalFolder hunts() {
        return journals(root, HUNTS, storage);
    }

    /** Those of a data folder that is only read. */
    public static JournalFolder hunts(Path root) {
        return journals(root, HUNTS, Storage.ON_DISK);
    }

    /** The tests of the bay by itself. */
    public JournalFolder selfTests() {
        return journals(root, SELF_TESTS, storage);
    }

    /** The tests of the bay by itself in a data folder that is only read. */
    public static JournalFolder selfTests(Path root) {
        return journals(root, SELF_TESTS, Storage.ON_DISK);
    }

    /** The checkups of the bay. */
    public JournalFolder checkups() {
        return journals(root, CHECKUPS, storage);
    }

    /** The checkups of the bay in a data folder that is only read. */
    public static JournalFolder checkups(Path root) {
        return journals(root, CHECKUPS, Storage.ON_DISK);
    }

    private static JournalFolder journals(Path root, String kind, Storage storage) {
        return new JournalFolder(root.resolve(kind), storage.files());
    }

    /** Opens the records. */
    public RecordStore openRecords() throws StoreException {
        return storage.records().open(records(root));
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

    private static Path lock(Path root) {
        return root.resolve("lock");
    }

    private static void takeLock(FileChannel channel, Path root, ZonedDateTime now)
            throws StoreException, IOException {
        if (!isTaken(channel)) {
            throw new StoreException(
                    "the data folder "
                            + root
                            + " is in use by "
                            + holder(lock(root))
                            + "; end that program first, or choose another data folder");
        }
        channel.truncate(0);
        channel.write(
                ByteBuffer.wrap(
                        ("process "
                                        + ProcessHandle.current().pid()
                                        + ", started "
                                        + STARTED.format(now))
                                .getBytes(StandardCharsets.UTF_8)));
        channel.force(true);
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
