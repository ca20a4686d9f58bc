package catchbay.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.stream.Stream;

/** Real files. */
public final class DiskFiles implements FileLayer {

    @Override
    public boolean hasFolder(Path folder) {
        return Files.isDirectory(folder);
    }

    @Override
    public void createFolder(Path folder) throws IOException {
        Files.createDirectory(folder);
    }

    @Override
    public Growing create(Path file) throws IOException {
        FileChannel channel =
                FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
        return new Growing() {
            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                ByteBuffer rest = ByteBuffer.wrap(bytes, from, length);
                while (rest.hasRemaining()) {
                    channel.write(rest);
                }
            }

            @Override
            public void sync() throws IOException {
                channel.force(true);
            }

            @Override
            public void close() throws IOException {
                channel.close();
            }
        };
    }

    @Override
    public InputStream read(Path file) throws IOException {
        return Files.newInputStream(file);
    }

    @Override
    public void rename(Path from, Path to) throws IOException {
        // An atomic move replaces what is there. Only this program writes here, so looking first is
        // enough.
        if (Files.exists(to)) {
            throw new FileAlreadyExistsException(to.toString());
        }
        Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
    }

    @Override
    public void delete(Path file) throws IOException {
        Files.delete(file);
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        }
    }

    @Override
    public List<Path> list(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.filter(Files::isRegularFile).sorted().toList();
        }
    }

    @Override
    public long freeBytes(Path folder) throws IOException {
        return Files.getFileStore(folder).getUsableSpace();
    }
}
