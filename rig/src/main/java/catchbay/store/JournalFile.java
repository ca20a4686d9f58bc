package catchbay.store;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/**
 * A file that grows by whole lines, each on the medium before work goes on: of a series of repeats,
 * for what no run's trace holds, of a test of the scale or of a checkup. Used by one thread at a
 * time.
 */
public final class JournalFile implements AutoCloseable {

    /** How its name ends. */
    static final String ENDING = ".jsonl";

    /** How it is called until its first line is on the medium. */
    private static final String BEGUN = ".begun";

    private final FileLayer.Growing file;

    private JournalFile(FileLayer.Growing file) {
        this.file = file;
    }

    /**
     * Begins a file. It has its name once its first line is on the medium: whatever happens, one
     * without a line was damaged.
     *
     * @param folder where it is to lie; made when it is not there
     * @param name what it is called, without its ending
     * @param line its first, without its end
     * @param files how files are touched
     */
    static JournalFile begin(Path folder, String name, String line, FileLayer files)
            throws IOException {
        files.makeFolder(folder);
        for (Path left : files.list(folder)) {
            if (left.toString().endsWith(BEGUN)) {
                files.delete(left);
            }
        }
        Path nameless = folder.resolve(name + BEGUN);
        JournalFile begun = new JournalFile(files.create(nameless));
        try {
            begun.append(line);
            files.rename(nameless, folder.resolve(name + ENDING));
            files.syncFolder(folder);
            return begun;
        } catch (IOException refused) {
            begun.close();
            throw refused;
        }
    }

    /** Appends a line, given without its end; returns when it is on the medium. */
    public void append(String line) throws IOException {
        byte[] bytes = (line + "\n").getBytes(StandardCharsets.UTF_8);
        file.write(bytes, 0, bytes.length);
        file.sync();
    }

    @Override
    public void close() throws IOException {
        file.close();
    }
}
