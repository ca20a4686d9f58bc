package catchbay.store;

import catchbay.record.RecordChain;
import catchbay.record.RunRecord;

import java.util.List;
import java.util.Optional;

/**
 * The records of a bay's runs: appended, never changed, each chained to the one before it. One
 * thread at a time.
 */
public interface RecordStore extends AutoCloseable {

    /**
     * Appends a record at the end of its bay's chain; returns when it is on the medium. Doing it
     * again with the same content answers the record that is there, so that a run can be adopted
     * after a crash at any moment.
     *
     * @throws StoreException when the run is recorded with another content, or when it cannot be
     *     written
     */
    RunRecord append(RunRecord.Content content) throws StoreException;

    /** The record of a run, when there is one. */
    Optional<RunRecord> ofRun(String runId) throws StoreException;

    /** How many records of all bays there are. */
    long count() throws StoreException;

    /** The newest records of all bays, newest first, at most so many. */
    List<RunRecord> newest(int most) throws StoreException;

    /** The newest records of a truck, newest first, at most so many. */
    List<RunRecord> newestOfAsset(String asset, int most) throws StoreException;

    /** Whether every record is as it was written and follows the one before it. */
    RecordChain.Verdict verifyChain() throws StoreException;

    @Override
    void close() throws StoreException;
}
