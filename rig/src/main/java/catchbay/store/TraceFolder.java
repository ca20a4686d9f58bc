package catchbay.store;

import catchbay.record.TraceArchive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * The traces of a bay, one file for each run; its name's ending says how far it got. Used by one
 * thread at a time, by one program at a time (see {@link DataFolder}).
 */
public final class TraceFolder {

    /** How far a trace got. */
    public enum Form {
        /** The run is under way, or was when the program ended. */
        OPEN(".open.jsonl"),
        /** Sealed, on the medium, not compressed yet: its record may still be missing. */
        CLOSED(".jsonl"),
        /** Sealed, recorded and compressed. */
        COMPRESSED(".jsonl.zst"),
        /** The program ended in the middle of the run; kept, never counted. */
        INTERRUPTED(".interrupted.jsonl");

        private final String ending;

        Form(String ending) {
            this.ending = ending;
        }

        /** The name of a run's file in this form. */
        public String fileName(String run) {
            return run + ending;
        }

        /**
         * The run whose file in this form is called so; empty when the name is none. A run's name
         * has no dots.
         */
        Optional<String> run(String fileName) {
            return fileName.endsWith(ending)
                            && fileName.indexOf('.') == fileName.length() - ending.length()
                    ? Optional.of(fileName.substring(0, fileName.length() - ending.length()))
                    : Optional.empty();
        }
    }

    /** The ending of a file that is being compressed into. */
    private static final String UNFINISHED = ".unfinished";

    private final Path folder;
    private final FileLayer files;

    /**
     * @param folder where the traces lie; it must exist
     * @param files how files are touched
     */
    public TraceFolder(Path folder, FileLayer files) {
        this.folder = folder;
        this.files = files;
    }

    /**
     * Begins the trace of a run.
     *
     * @throws StoreException when there is one already
     */
    public TraceFile begin(String run) throws StoreException, IOException {
        Optional<Form> form = form(run);
        if (form.isPresent()) {
            throw new StoreException(
                    "there is a trace of run "
                            + run
                            + " already ("
                            + form.get().fileName(run)
                            + "); begin again under another run name");
        }
        FileLayer.Growing file = files.create(path(run, Form.OPEN));
        // So that a power cut leaves the name of the run too, not only bytes without a name.
        files.syncFolder(folder);
        return new TraceFile(this, run, file);
    }

    /** The form in which a run's trace is there; the furthest one where a crash left two. */
    public Optional<Form> form(String run) throws IOException {
        return Optional.ofNullable(forms().get(run));
    }

    /** The runs whose traces are there in this form, by name. */
    public List<String> runs(Form form) throws IOException {
        List<String> runs = new ArrayList<>();
        forms().forEach((run, found) -> {
            if (found == form) {
                runs.add(run);
            }
        });
        return runs;
    }

    /**
     * The stored bytes of a run's trace, compressed or not; {@link catchbay.record.TraceReader}
     * reads either.
     *
     * @throws StoreException when there is none
     */
    public InputStream read(String run) throws StoreException, IOException {
        Form form =
                form(run)
                        .orElseThrow(() ->
                                new StoreException(
                                        "there is no trace of run " + run + " in " + folder));
        return files.read(path(run, form));
    }

    /** Marks an open trace, found at start, as interrupted: it is kept and never counted. */
    public void interrupt(String run) throws IOException {
        rename(run, Form.OPEN, Form.INTERRUPTED);
    }

    /**
     * Compresses a closed trace, once its record is committed. The plain file goes only when the
     * compressed one is on the medium and was read back whole.
     *
     * @param sha256 what the record says of the trace
     * @throws StoreException when the trace is not the one that was recorded; both files stay as
     *     they are
     */
    public void compress(String run, String sha256) throws StoreException, IOException {
        Path plain = path(run, Form.CLOSED);
        Path unfinished = folder.resolve(Form.COMPRESSED.fileName(run) + UNFINISHED);
        String written;
        try (InputStream text = files.read(plain);
                FileLayer.Growing compressed = files.create(unfinished)) {
            written = TraceArchive.compress(text, streamTo(compressed));
            compressed.sync();
        }
        if (!written.equals(sha256) || !holds(unfinished, sha256)) {
            files.delete(unfinished);
            throw new StoreException(
                    "the trace of run "
                            + run
                            + " has changed since it was recorded (SHA-256 "
                            + written
                            + ", recorded "
                            + sha256
                            + "); restore "
                            + plain.getFileName()
                            + " from a copy");
        }
        files.rename(unfinished, path(run, Form.COMPRESSED));
        files.syncFolder(folder);
        files.delete(plain);
        files.syncFolder(folder);
    }

    /**
     * Clears away what a crash during {@link #compress} left: an unfinished file, or a plain one
     * beside its archive.
     */
    public void tidy() throws IOException {
        for (Path file : files.list(folder)) {
            String name = file.getFileName().toString();
            Optional<String> plain = Form.CLOSED.run(name);
            boolean archived =
                    plain.isPresent() && form(plain.get()).equals(Optional.of(Form.COMPRESSED));
            if (name.endsWith(UNFINISHED) || archived) {
                files.delete(file);
            }
        }
        files.syncFolder(folder);
    }

    /**
     * How the kept trace of a run is not the one that was recorded, as a sentence; null when it is.
     *
     * @param sha256 what the record says of the trace
     */
    public String wrong(String run, String sha256) throws IOException {
        Optional<Form> form = form(run);
        if (form.isEmpty()) {
            return "the trace of run "
                    + run
                    + " is not in "
                    + folder
                    + " any more; restore it from a copy";
        }
        Path file = path(run, form.get());
        return holds(file, sha256)
                ? null
                : file + " is not the trace that was recorded; restore it from a copy";
    }

    /** Free space on the medium, bytes. */
    public long freeBytes() throws IOException {
        return files.freeBytes(folder);
    }

    void rename(String run, Form from, Form to) throws IOException {
        files.rename(path(run, from), path(run, to));
        files.syncFolder(folder);
    }

    private Path path(String run, Form form) {
        return folder.resolve(form.fileName(run));
    }

    private boolean holds(Path stored, String sha256) throws IOException {
        try (InputStream bytes = files.read(stored)) {
            return TraceArchive.holds(bytes, sha256);
        }
    }

    private Map<String, Form> forms() throws IOException {
        Map<String, Form> forms = new TreeMap<>();
        for (Path file : files.list(folder)) {
            for (Form form : Form.values()) {
                form.run(file.getFileName().toString())
                        .ifPresent(run ->
                                forms.merge(
                                        run,
                                        form,
                                        (one, other) -> one.compareTo(other) > 0 ? one : other));
            }
        }
        return forms;
    }

    private static OutputStream streamTo(FileLayer.Growing file) {
        return new OutputStream() {
            @Override
            public void write(int single) throws IOException {
                write(new byte[] {(byte) single}, 0, 1);
            }

            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                file.write(bytes, from, length);
            }
        };
    }
}
