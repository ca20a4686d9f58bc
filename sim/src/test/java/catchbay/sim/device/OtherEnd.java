package catchbay.sim.device;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/**
 * The program's end of a line, as a plain file: what a device says, seen without any serial code.
 */
final class OtherEnd implements AutoCloseable {

    private final RandomAccessFile file;

    OtherEnd(Path path) throws IOException {
        file = new RandomAccessFile(path.toFile(), "rw");
    }

    void say(String text) throws IOException {
        file.write(text.getBytes(StandardCharsets.ISO_8859_1));
    }

    /** Waits for so many bytes. */
    String hear(int bytes) throws IOException {
        byte[] heard = new byte[bytes];
        file.readFully(heard);
        return new String(heard, StandardCharsets.ISO_8859_1);
    }

    @Override
    public void close() throws IOException {
        file.close();
    }
}
