package catchbay.store;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.List;

/**
 * Real files of which one effect fails: from then on the power is off and every further one fails
 * too. A write that fails is torn: its first half is there.
 */
public final class FailingFiles implements FileLayer {

    private final FileLayer real = new DiskFiles();
    private long effectsLeft;

    /** Lets so many effects pass before the one that fails. */
    public FailingFiles(long effectsLeft) {
        this.effectsLeft = effectsLeft;
    }

    /** Whether the failing effect has been reached. */
    public boolean failed() {
        return effectsLeft < 0;
    }

    private void effect() throws IOException {
        if (--effectsLeft < 0) {
            throw new IOException("no power");
        }
    }

    @Override
    public Growing create(Path file) throws IOException {
        effect();
        Growing growing = real.create(file);
        return new Growing() {
            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                if (effectsLeft == 0) {
                    growing.write(bytes, from, length / 2);
                }
                effect();
                growing.write(bytes, from, length);
            }

            @Override
            public void sync() throws IOException {
                effect();
                growing.sync();
            }

            @Override
            public void close() throws IOException {
                growing.close();
            }
        };
    }

    @Override
    public InputStream read(Path file) throws IOException {
        return real.read(file);
    }

    @Override
    public void rename(Path from, Path to) throws IOException {
        effect();
        real.rename(from, to);
    }

    @Override
    public void delete(Path file) throws IOException {
        effect();
        real.delete(file);
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        effect();
        real.syncFolder(folder);
    }

    @Override
    public List<Path> list(Path folder) throws IOException {
        return real.list(folder);
    }

    @Override
    public long freeBytes(Path folder) throws IOException {
        return real.freeBytes(folder);
    }
}
