package catchbay.app;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;

/** Why a file that a person named cannot be read. */
final class UnreadableFile {

    private UnreadableFile() {}

    /** The reason in words, without its end. */
    static String why(Path file, IOException cause) {
        if (cause instanceof NoSuchFileException) {
            return "there is no file " + file;
        }
        if (Files.isDirectory(file)) {
            return file + " is a folder, not a file";
        }
        if (cause instanceof AccessDeniedException) {
            return "this user has no right to read " + file;
        }
        return file + " cannot be read from its disk";
    }
}
