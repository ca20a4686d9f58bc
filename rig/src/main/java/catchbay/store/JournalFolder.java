package catchbay.store;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * The journals of one kind of work (tests of the scale, checkups), called by when they began, so
 * that their names tell their order.
 */
public final class JournalFolder {

    /** A journal has some dozens of lines; a larger file is none of ours. */
    private static final long BYTES_MAX = 1_000_000;

    /** Of journals begun in the same second the longer name was given later: it has a number. */
    private static final Comparator<Path> ORDER =
            Comparator.comparing((Path file) -> began(file))
                    .thenComparing(file -> file.getFileName().toString().length())
                    .thenComparing(file -> file.getFileName().toString());

    private static final int BEGAN_LENGTH = "yyyyMMdd-HHmmss".length();

    private final Path folder;
    private final FileLayer files;

    JournalFolder(Path folder, FileLayer files) {
        this.folder = folder;
        this.files = files;
    }

    /**
     * Begins the journal with this name.
     *
     * @param line its first, without its end; it is on the medium as soon as the name is
     */
    public JournalFile begin(String name, String line) throws IOException {
        return JournalFile.begin(folder, name, line, files);
    }

    private static String began(Path file) {
        String name = file.getFileName().toString();
        return name.substring(0, Math.min(BEGAN_LENGTH, name.length()));
    }

    /** Whether a journal has this name already. */
    public boolean has(String name) {
        return Files.exists(folder.resolve(name + JournalFile.ENDING));
    }

    /** The names of all journals, newest first. */
    public List<String> names() throws IOException {
        List<String> names = new ArrayList<>();
        for (Path file : newestFirst()) {
            names.add(name(file));
        }
        return names;
    }

    /**
     * The lines of a journal; a last one without its end is left out, since it was cut off. Empty
     * where the file is no text, or too large to be ours.
     */
    public Optional<List<String>> lines(String name) throws IOException {
        Path file = folder.resolve(name + JournalFile.ENDING);
        if (Files.size(file) > BYTES_MAX) {
            return Optional.empty();
        }
        try {
            String text = Files.readString(file, StandardCharsets.UTF_8);
            return Optional.of(text.substring(0, text.lastIndexOf('\n') + 1).lines().toList());
        } catch (CharacterCodingException noText) {
            return Optional.empty();
        }
    }

    /**
     * How a journal ends.
     *
     * @param name by which it was begun
     * @param lastLine without its end; blank where the file has no line
     * @param isWhole whether the file could be read, and its last line has its end
     */
    public record End(String name, String lastLine, boolean isWhole) {}

    /** How each journal ends, newest first. */
    public List<End> ends() throws IOException {
        List<End> ends = new ArrayList<>();
        for (Path file : newestFirst()) {
            ends.add(end(file));
        }
        return ends;
    }

    /** What is no text any more is read all the same: it is shown as damaged, and stops nobody. */
    private static End end(Path file) throws IOException {
        if (Files.size(file) > BYTES_MAX) {
            return new End(name(file), "", false);
        }
        String text = new String(Files.readAllBytes(file), StandardCharsets.UTF_8);
        return new End(
                name(file),
                text.lines().reduce((before, after) -> after).orElse(""),
                text.isEmpty() || text.endsWith("\n"));
    }

    /**
     * What the journals came to, newest first; work that was cut off came to nothing.
     *
     * @param reader what a last line says; empty where it is no result
     */
    public <T> List<T> results(Function<String, Optional<T>> reader) throws IOException {
        return lastLines().stream().map(reader).flatMap(Optional::stream).toList();
    }

    /** The last line of each journal, newest first; of work that was cut off it is no result. */
    public List<String> lastLines() throws IOException {
        return ends().stream().map(End::lastLine).toList();
    }

    private static String name(Path file) {
        String name = file.getFileName().toString();
        return name.substring(0, name.length() - JournalFile.ENDING.length());
    }

    private List<Path> newestFirst() throws IOException {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> all = Files.list(folder)) {
            return all.filter(file -> file.toString().endsWith(JournalFile.ENDING))
                    .filter(Files::isRegularFile)
                    .sorted(ORDER.reversed())
                    .toList();
        }
    }
}
