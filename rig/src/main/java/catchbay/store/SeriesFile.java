package catchbay.store;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The file of a series of repeats: a line for everything that no run's trace holds, on the medium
 * before the series goes on. Used by one thread at a time.
 */
public final class SeriesFile implements AutoCloseable {

    private final FileLayer.Growing file;

    private SeriesFile(FileLayer.Growing file) {
        this.file = file;
    }

    /**
     * Begins the file of a series.
     *
     * @param folder where it is to lie; made when it is not there
     * @param series the series' name
     * @param files how files are touched
     */
    public static SeriesFile begin(Path folder, String series, FileLayer files) throws IOException {
        Files.createDirectories(folder);
        SeriesFile begun = new SeriesFile(files.create(folder.resolve(series + ".jsonl")));
        files.syncFolder(folder);
        return begun;
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
