package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.RunRecord;
import catchbay.record.TraceReader;
import catchbay.run.CatchResult;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.store.DataFolder;
import catchbay.store.RecordStore;
import catchbay.store.SqliteStore;
import catchbay.store.StoreException;
import catchbay.store.TraceFolder;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Finds the measured catches that a command line names by run, truck or trace file, and evaluates
 * each from its trace.
 */
final class NamedCatches {

    /** The most catches of one curve: far more than a truck sees in its life. */
    private static final int CATCHES_MAX = 1000;

    /**
     * One measured catch.
     *
     * @param name its run, or the name of a trace file that says none
     * @param origin where it comes from
     * @param setup its setup
     * @param began when it began; the beginning of its day where its trace does not say
     * @param result what it gave
     */
    record Measured(
            String name, String origin, RunSetup setup, Instant began, CatchResult result) {}

    private final Supplier<Optional<Path>> data;
    private final Optional<LocalDate> since;
    private final Map<String, Measured> found = new LinkedHashMap<>();
    private final List<String> notes = new ArrayList<>();

    /**
     * @param data the data folder where it is known, asked for only when it is needed
     * @param since for a truck: only runs of this day and later
     */
    NamedCatches(Supplier<Optional<Path>> data, Optional<LocalDate> since) {
        this.data = data;
        this.since = since;
    }

    /** The measured catches, the oldest first, all of one truck and one kind of constant. */
    List<Measured> named(List<String> arguments) throws StoreException, IOException {
        List<String> recorded = new ArrayList<>();
        for (String argument : arguments) {
            if (Files.isRegularFile(Path.of(argument))) {
                take(nameOf(Path.of(argument)), Replay.of(Path.of(argument)));
            } else {
                recorded.add(argument);
            }
        }
        if (!recorded.isEmpty()) {
            fromRecords(recorded);
        }
        List<Measured> catches = new ArrayList<>(found.values());
        catches.sort(Comparator.comparing(Measured::began).thenComparing(Measured::name));
        alike(catches);
        return catches;
    }

    /** What managers have decided about certificates of these catches, each sentence once. */
    static List<String> decided(List<Measured> catches) {
        return catches.stream()
                .flatMap(one -> SetupCheck.decided(one.setup()).stream())
                .distinct()
                .toList();
    }

    /** What a reader must know of the choice. */
    List<String> notes() {
        return List.copyOf(notes);
    }

    private static String nameOf(Path file) {
        return file.getFileName().toString().replaceFirst("\\.jsonl(\\.zst)?$", "");
    }

    private void fromRecords(List<String> names) throws StoreException, IOException {
        Path folder =
                data.get()
                        .orElseThrow(() ->
                                new DocumentException(
                                        "'"
                                                + names.getFirst()
                                                + "' is no trace file, and no settings say where"
                                                + " records are; give a trace file, --settings FILE"
                                                + " or --data FOLDER"));
        Path records = DataFolder.records(folder);
        if (!Files.exists(records)) {
            throw new DocumentException(
                    "'"
                            + names.getFirst()
                            + "' is no trace file, and there are no records in "
                            + folder
                            + "; give a trace file, or name the records' folder with --data");
        }
        TraceFolder traces = DataFolder.traces(folder);
        try (RecordStore store = SqliteStore.open(records)) {
            for (String name : names) {
                Optional<RunRecord> run = store.ofRun(name);
                if (run.isPresent()) {
                    take(name, replayed(traces, run.get()));
                } else {
                    ofTruck(name, store.newestOfAsset(name, CATCHES_MAX), traces);
                }
            }
        }
    }

    private void ofTruck(String asset, List<RunRecord> records, TraceFolder traces)
            throws StoreException, IOException {
        if (records.isEmpty()) {
            throw new DocumentException(
                    "there is no run, no truck and no trace file '"
                            + asset
                            + "'; 'catchbay history' lists the runs and their trucks");
        }
        int without = 0;
        int used = 0;
        for (RunRecord record : records) {
            RunRecord.Content content = record.content();
            if (since.isPresent() && content.day().isBefore(since.get())) {
                continue;
            }
            if (content.accepted()) {
                Replay.Result replayed = replayed(traces, record);
                if (!ofBayItself(replayed)) {
                    take(content.runId(), replayed);
                    used++;
                }
            } else {
                without++;
            }
        }
        if (used == 0) {
            throw new DocumentException(
                    "truck "
                            + asset
                            + " has no accepted run"
                            + since.map(day -> " since " + day).orElse("")
                            + "; catch with it first");
        }
        if (without > 0) {
            notes.add(
                    without
                            + (without == 1 ? " run" : " runs")
                            + " of truck "
                            + asset
                            + " gave no result and have no part in this.");
        }
    }

    /** The trace of a recorded run, which must be the one that was recorded. */
    private static Replay.Result replayed(TraceFolder traces, RunRecord record)
            throws StoreException, IOException {
        RunRecord.Content content = record.content();
        String wrong = traces.wrong(content.runId(), content.traceSha256());
        if (wrong != null) {
            throw new StoreException(wrong);
        }
        try (InputStream bytes = traces.read(content.runId());
                TraceReader reader = new TraceReader(bytes, content.traceFile())) {
            return Replay.of(reader);
        }
    }

    private static boolean ofBayItself(Replay.Result replayed) {
        return replayed.setup().reported() instanceof RunSetup.Reported.Nothing;
    }

    private void take(String otherwise, Replay.Result replayed) {
        String name =
                replayed.provenance().run().isEmpty() ? otherwise : replayed.provenance().run();
        if (!(replayed.outcome() instanceof Outcome.Measured measured)) {
            throw new DocumentException(
                    "run "
                            + name
                            + " gave no result ("
                            + Words.of(replayed.outcome())
                            + "); leave it out. "
                            + replayed.outcome().reason());
        }
        if (ofBayItself(replayed)) {
            throw new DocumentException(
                    "run "
                            + name
                            + " is of a test of the bay itself and says nothing of a truck; leave"
                            + " it out");
        }
        if (found.size() == CATCHES_MAX) {
            throw new DocumentException(
                    "more than "
                            + CATCHES_MAX
                            + " catches are no curve of one truck's meter; choose with --since");
        }
        Instant began =
                replayed.startedWall()
                        .orElse(replayed.setup().day().atStartOfDay(ZoneOffset.UTC).toInstant());
        Measured one =
                new Measured(
                        name,
                        replayed.provenance().origin(),
                        replayed.setup(),
                        began,
                        measured.result());
        if (found.putIfAbsent(name, one) != null) {
            throw new DocumentException("run " + name + " is named twice; name it once");
        }
    }

    /** Catches of two trucks, two kinds of constant or two worlds make no curve. */
    private static void alike(List<Measured> catches) {
        Measured first = catches.getFirst();
        for (Measured other : catches) {
            String firstAsset = first.setup.truck().asset();
            String otherAsset = other.setup.truck().asset();
            if (!firstAsset.equals(otherAsset)) {
                throw differ(first, other, "truck " + firstAsset, "truck " + otherAsset);
            }
            String firstForm = form(first.setup);
            String otherForm = form(other.setup);
            if (!firstForm.equals(otherForm)) {
                throw differ(first, other, "a constant in " + firstForm, "one in " + otherForm);
            }
            if (!first.origin.equals(other.origin)) {
                throw differ(first, other, "origin " + first.origin, "origin " + other.origin);
            }
        }
    }

    private static String form(RunSetup setup) {
        return setup.truck().constant().symbol()
                + setup.truck()
                        .constant()
                        .base()
                        .map(base -> " of " + base.pulsesPerLitre() + " pulses/L")
                        .orElse("");
    }

    private static DocumentException differ(
            Measured first, Measured other, String has, String otherHas) {
        return new DocumentException(
                "run "
                        + first.name
                        + " has "
                        + has
                        + " and run "
                        + other.name
                        + " "
                        + otherHas
                        + "; one curve needs catches that are alike, name only those");
    }
}
