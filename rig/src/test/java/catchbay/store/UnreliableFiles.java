package catchbay.store;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * Real files of which one effect goes wrong. Effects are counted as they come: what is made,
 * written, brought onto the medium, renamed or deleted, and what others count with {@link
 * #effect(String)}.
 */
public final class UnreliableFiles implements FileLayer {

    /** What goes wrong with the effect whose turn it is. */
    public enum Fault {
        /** The disk refuses it, once; of a write the first half is there. */
        REFUSED("the disk refuses it once"),
        /** The program ends there, as by SIGKILL; of a write the first half is there. */
        KILLED("the program ends there"),
        /** The power goes: whatever was not brought onto the medium is lost. */
        CUT("the power goes"),
        /**
         * The power goes: of what was not brought onto the medium some is there, as chance has it.
         * Of each folder's new names the earlier ones, as a file system with a journal keeps them;
         * of each file's last bytes the earlier ones, with zeros for the others or without.
         */
        CUT_BY_CHANCE("the power goes, some of what was not synced is there");

        private final String words;

        Fault(String words) {
            this.words = words;
        }

        /** It in words. */
        public String words() {
            return words;
        }
    }

    private static final class Content {
        private final ByteArrayOutputStream written = new ByteArrayOutputStream();
        private int onMedium;
    }

    /** Names of files and folders; a folder has no content. */
    private static final class Names {
        private final Map<Path, Content> files = new TreeMap<>();
        private final Map<Path, Boolean> folders = new TreeMap<>();
    }

    private interface Change {
        void to(Names names);
    }

    private final FileLayer real = new DiskFiles();
    private final Fault fault;
    private final long before;
    private final List<String> effects = new ArrayList<>();
    private final Map<Path, List<Change>> pending = new TreeMap<>();
    private final Names now = new Names();
    private final Names onMedium = new Names();
    private Path root;
    private Path after;

    /** Lets so many effects pass before the one that goes wrong. */
    public UnreliableFiles(Fault fault, long before) {
        this.fault = fault;
        this.before = before;
    }

    /** Ends the program after so many effects, as {@link Fault#KILLED}. */
    public static UnreliableFiles killedAfter(long effects) {
        return new UnreliableFiles(Fault.KILLED, effects);
    }

    /**
     * Has what the next start finds laid down in a folder at the moment the program or the power
     * goes, so that nothing that is done afterwards changes it.
     *
     * @param folder all that is kept; what is in it is on the medium
     * @param found where what is found goes
     */
    public UnreliableFiles leaving(Path folder, Path found) throws IOException {
        root = folder;
        after = found;
        onMedium.folders.put(root.getParent(), true);
        if (Files.isDirectory(root)) {
            try (Stream<Path> all = Files.walk(root)) {
                for (Path each : all.toList()) {
                    if (Files.isDirectory(each)) {
                        onMedium.folders.put(each, true);
                    } else if (!isDatabase(each)) {
                        onMedium.files.put(each, content(Files.readAllBytes(each)));
                    }
                }
            }
        }
        now.files.putAll(onMedium.files);
        now.folders.putAll(onMedium.folders);
        return this;
    }

    private static Content content(byte[] bytes) {
        Content content = new Content();
        content.written.writeBytes(bytes);
        content.onMedium = bytes.length;
        return content;
    }

    private static boolean isDatabase(Path file) {
        return file.getFileName().toString().startsWith("records.sqlite");
    }

    /** Whether the effect that goes wrong has been reached. */
    public boolean failed() {
        return effects.size() > before;
    }

    /** Whether the program has ended. */
    public boolean ended() {
        return failed() && fault != Fault.REFUSED;
    }

    /** All effects so far, by what they were. */
    public List<String> effects() {
        return List.copyOf(effects);
    }

    /** An effect of somebody else, counted like those on files. */
    public void effect(String what) throws IOException {
        effect(what, () -> {});
    }

    private interface Half {
        void write() throws IOException;
    }

    private void effect(String what, Half half) throws IOException {
        if (ended()) {
            throw new IOException("no power");
        }
        effects.add(what);
        if (effects.size() == before + 1) {
            if (fault == Fault.REFUSED || fault == Fault.KILLED) {
                half.write();
            }
            if (fault != Fault.REFUSED && after != null) {
                leave();
            }
            throw new IOException(fault == Fault.REFUSED ? "refused" : "no power");
        }
    }

    // What is found afterwards
    // ---------------------------------------------------------------------------------------------

    private void leave() throws IOException {
        SplittableRandom chance = new SplittableRandom(before);
        switch (fault) {
            case REFUSED -> throw new IllegalStateException("the program goes on");
            case KILLED -> pending.values().forEach(changes -> apply(changes, changes.size()));
            case CUT -> {}
            case CUT_BY_CHANCE ->
                    pending.values()
                            .forEach(changes -> apply(changes, chance.nextInt(changes.size() + 1)));
        }
        for (Path folder : onMedium.folders.keySet()) {
            if (folder.startsWith(root) && isThere(folder)) {
                Files.createDirectories(found(folder));
            }
        }
        for (Map.Entry<Path, Content> file : onMedium.files.entrySet()) {
            if (isThere(file.getKey().getParent())) {
                Files.write(found(file.getKey()), left(file.getValue(), chance));
            }
        }
        if (isThere(root)) {
            leaveDatabase();
        }
    }

    private void apply(List<Change> changes, int first) {
        changes.subList(0, first).forEach(change -> change.to(onMedium));
    }

    /** A folder that lies in one without a name is lost with it. */
    private boolean isThere(Path folder) {
        for (Path each = folder; each.startsWith(root); each = each.getParent()) {
            if (!onMedium.folders.containsKey(each)) {
                return false;
            }
        }
        return true;
    }

    private Path found(Path path) {
        return after.resolve(root.relativize(path));
    }

    private byte[] left(Content content, SplittableRandom chance) {
        byte[] all = content.written.toByteArray();
        return switch (fault) {
            case REFUSED, KILLED -> all;
            case CUT -> Arrays.copyOf(all, content.onMedium);
            case CUT_BY_CHANCE -> {
                int kept = chance.nextInt(content.onMedium, all.length + 1);
                byte[] some = Arrays.copyOf(all, kept);
                yield chance.nextBoolean() ? some : Arrays.copyOf(some, all.length);
            }
        };
    }

    /** SQLite brings its own files onto the medium before it answers. */
    private void leaveDatabase() throws IOException {
        try (Stream<Path> all = Files.list(root)) {
            for (Path file : all.filter(UnreliableFiles::isDatabase).toList()) {
                if (!file.toString().endsWith("-shm")) {
                    Files.copy(file, found(file));
                }
            }
        }
    }

    private void change(Path folder, Change change) {
        change.to(now);
        pending.computeIfAbsent(folder, f -> new ArrayList<>()).add(change);
    }

    // The effects
    // ---------------------------------------------------------------------------------------------

    @Override
    public boolean hasFolder(Path folder) {
        return real.hasFolder(folder);
    }

    @Override
    public void createFolder(Path folder) throws IOException {
        effect("create folder " + folder.getFileName());
        real.createFolder(folder);
        change(folder.getParent(), names -> names.folders.put(folder, true));
    }

    @Override
    public Growing create(Path file) throws IOException {
        effect("create " + kind(file));
        Growing growing = real.create(file);
        Content content = new Content();
        change(file.getParent(), names -> names.files.put(file, content));
        return new Growing() {
            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                effect("write " + kind(file), () -> written(bytes, from, length / 2));
                written(bytes, from, length);
            }

            private void written(byte[] bytes, int from, int length) throws IOException {
                growing.write(bytes, from, length);
                content.written.write(bytes, from, length);
            }

            @Override
            public void sync() throws IOException {
                // What a power cut leaves is known here, so the real medium need not be waited for.
                effect("sync " + kind(file));
                content.onMedium = content.written.size();
            }

            @Override
            public void close() throws IOException {
                growing.close();
            }
        };
    }

    /** What kind of file it is: its folder and the ending of its name. */
    private static String kind(Path file) {
        String name = file.getFileName().toString();
        return file.getParent().getFileName() + "/*" + name.substring(name.indexOf('.'));
    }

    @Override
    public InputStream read(Path file) throws IOException {
        return real.read(file);
    }

    @Override
    public void rename(Path from, Path to) throws IOException {
        effect("rename " + kind(from) + " to " + kind(to));
        real.rename(from, to);
        change(from.getParent(), names -> names.files.put(to, names.files.remove(from)));
    }

    @Override
    public void delete(Path file) throws IOException {
        effect("delete " + kind(file));
        real.delete(file);
        change(file.getParent(), names -> names.files.remove(file));
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        effect("sync folder " + folder.getFileName());
        List<Change> changes = pending.remove(folder);
        if (changes != null) {
            apply(changes, changes.size());
        }
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
