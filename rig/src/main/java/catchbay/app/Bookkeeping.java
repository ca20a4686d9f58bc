package catchbay.app;

import catchbay.port.Timekeeper;
import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.RunRecord;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceSeal;
import catchbay.run.BayComputer;
import catchbay.run.Outcome;
import catchbay.store.ClosedTrace;
import catchbay.store.RecordStore;
import catchbay.store.StoreException;
import catchbay.store.TraceFolder;
import catchbay.store.TraceFolder.Form;

import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * From a closed trace to its record. A record is always made by replaying the trace that is on the
 * medium, so that what is kept is what the trace says, whether the program goes on after the run or
 * comes back after a crash.
 */
final class Bookkeeping {

    private final TraceFolder traces;
    private final RecordStore store;

    Bookkeeping(TraceFolder traces, RecordStore store) {
        this.traces = traces;
        this.store = store;
    }

    /**
     * What the records say of the bay's clock: whether it has come behind the newest run's start.
     * Nothing in virtual time, which has no calendar; what the computer itself says of its clock
     * comes besides.
     *
     * @param now by that clock
     */
    BayComputer clock(Timekeeper time, Instant now) throws StoreException {
        return clock(store, time, now);
    }

    /** As {@link #clock(Timekeeper, Instant)}, of records that are only read. */
    static BayComputer clock(RecordStore store, Timekeeper time, Instant now)
            throws StoreException {
        return time.movesOnlyInSleep()
                ? BayComputer.UNKNOWN
                : BayComputer.begun(
                        now,
                        store.newest(1).stream()
                                .findFirst()
                                .map(record -> record.content().startedWall()));
    }

    /** How many runs are on record: more with each one, whatever the clock says. */
    long records() throws StoreException {
        return store.count();
    }

    /**
     * Why a run does not count, whatever its trace says, as a sentence: it is not on record, or the
     * trace is not the recorded one. Empty where nothing speaks against it.
     */
    Optional<String> doubt(String run) throws StoreException, IOException {
        Optional<RunRecord> record = store.ofRun(run);
        if (record.isEmpty()) {
            return Optional.of("Nothing is on record of it.");
        }
        return traces.wrong(run, record.get().content().traceSha256()) == null
                ? Optional.empty()
                : Optional.of("Its trace is not the one that was recorded.");
    }

    /**
     * Brings the folder in order at start: an open trace is marked interrupted, a closed one
     * without its record is recorded now.
     *
     * @return what was done, each a sentence for a person
     */
    List<String> takeStock() throws StoreException, IOException {
        List<String> done = new ArrayList<>();
        traces.tidy();
        for (String run : traces.runs(Form.OPEN)) {
            traces.interrupt(run);
            done.add("Run " + run + " was interrupted; its trace is kept and does not count.");
        }
        int unrecorded = store.count() == 0 ? traces.runs(Form.COMPRESSED).size() : 0;
        if (unrecorded > 0) {
            // A trace is compressed only once it is on record.
            done.add(
                    "The records are empty, and the data folder has the "
                            + (unrecorded == 1
                                    ? "trace of a run"
                                    : "traces of " + unrecorded + " runs")
                            + " that stood in them: the records were lost. Restore records.sqlite"
                            + " from a copy.");
        }
        for (String run : traces.runs(Form.CLOSED)) {
            done.add(adopt(run));
        }
        return done;
    }

    private String adopt(String run) throws IOException {
        try {
            boolean known = store.ofRun(run).isPresent();
            RunRecord record = record(run);
            if (known) {
                return "Run " + run + " is recorded; its trace is compressed now.";
            }
            return "Run "
                    + run
                    + " had ended without its record; it is recorded now ("
                    + record.content().outcome()
                    + ").";
        } catch (DocumentException | StoreException e) {
            // One trace that somebody spoiled must not keep the bay from working.
            return "The trace of run "
                    + run
                    + " cannot be recorded: "
                    + Replay.sentence(e.getMessage());
        }
    }

    /** Records a closed trace and compresses it. */
    RunRecord record(ClosedTrace closed) throws StoreException, IOException {
        return record(closed.run());
    }

    private RunRecord record(String run) throws StoreException, IOException {
        RunRecord record = store.append(content(run));
        traces.compress(run, record.content().traceSha256());
        return record;
    }

    private static String sha256(TraceSeal seal) {
        return switch (seal) {
            case TraceSeal.Sealed sealed -> sealed.sha256();
            case TraceSeal.Unsealed(String reason) -> throw new DocumentException(reason);
            case TraceSeal.Damaged(String reason) -> throw new DocumentException(reason);
        };
    }

    private RunRecord.Content content(String run) throws StoreException, IOException {
        String name = Form.CLOSED.fileName(run);
        try (InputStream bytes = traces.read(run);
                TraceReader reader = new TraceReader(bytes, name)) {
            Replay.Result result = Replay.of(reader);
            // Only a sealed trace has all of the header that a record needs.
            String sha256 = sha256(reader.seal());
            if (result.provenance().seal() != ResultText.Seal.SEALED) {
                throw new DocumentException(result.outcome().reason());
            }
            TraceLine.Header header = reader.header();
            if (!header.run().equals(Optional.of(run))) {
                throw new DocumentException(
                        name
                                + " holds the trace of run "
                                + header.run().orElseThrow()
                                + ", not of its own name; a copy of a trace belongs in another"
                                + " folder");
            }
            Outcome outcome = result.outcome();
            return new RunRecord.Content(
                    run,
                    result.setup().bay(),
                    result.setup().truck().asset(),
                    header.wall().orElseThrow(),
                    result.setup().day(),
                    header.origin(),
                    result.provenance().methodVersion(),
                    header.program().orElseThrow(),
                    outcome.key(),
                    outcome.reason(),
                    outcome instanceof Outcome.Measured,
                    name,
                    sha256,
                    ResultText.of(result.provenance(), result.setup(), outcome));
        }
    }
}
