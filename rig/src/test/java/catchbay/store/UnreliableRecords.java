package catchbay.store;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * Real records beside unreliable files: before and after they are opened, and before and after each
 * is appended, is an effect that may go wrong too. What was committed before the program ended
 * stays.
 */
public final class UnreliableRecords implements RecordStore {

    private final RecordStore real;
    private final UnreliableFiles files;

    private UnreliableRecords(RecordStore real, UnreliableFiles files) {
        this.real = real;
        this.files = files;
    }

    /** Opens them. */
    public static RecordStore open(Path file, UnreliableFiles files) throws StoreException {
        effect(files, "before the records are opened");
        RecordStore real = SqliteStore.open(file);
        try {
            effect(files, "after the records are opened");
        } catch (StoreException gone) {
            real.close();
            throw gone;
        }
        return new UnreliableRecords(real, files);
    }

    private static void effect(UnreliableFiles files, String what) throws StoreException {
        try {
            files.effect(what);
        } catch (IOException gone) {
            throw new StoreException(what + ": " + gone.getMessage(), gone);
        }
    }

    @Override
    public RunRecord append(RunRecord.Content content) throws StoreException {
        effect(files, "before a record is appended");
        RunRecord record = real.append(content);
        effect(files, "after a record is appended");
        return record;
    }

    @Override
    public Optional<RunRecord> ofRun(String runId) throws StoreException {
        return real.ofRun(runId);
    }

    @Override
    public long count() throws StoreException {
        return real.count();
    }

    @Override
    public List<RunRecord> newest(int most) throws StoreException {
        return real.newest(most);
    }

    @Override
    public List<RunRecord> newestOfAsset(String asset, int most) throws StoreException {
        return real.newestOfAsset(asset, most);
    }

    @Override
    public RecordChain.Verdict verifyChain() throws StoreException {
        return real.verifyChain();
    }

    @Override
    public void close() throws StoreException {
        real.close();
    }
}
