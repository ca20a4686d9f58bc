package catchbay.record;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;

/**
 * Ties each record to the one before it at the same bay, and finds the first tie that does not
 * hold. The canonical text that is hashed is specified in {@code src/docs/record-format.md}. Not
 * thread-safe.
 */
public final class RecordChain {

    /** What stands for the hash before a bay's first record: 64 zeros. */
    public static final String NONE = "0".repeat(64);

    private static final byte[] FIRST_LINE =
            "catchbay-record 1\n".getBytes(StandardCharsets.US_ASCII);

    /** How a chain of records holds. */
    public sealed interface Verdict {
        /** Every record of every bay follows the one before it. */
        record Whole(long records) implements Verdict {}

        /** The first record that does not, for the reason given as a sentence. */
        record Broken(String bayId, long baySequence, String runId, String reason)
                implements Verdict {}
    }

    private final Map<String, RunRecord> lastOfBay = new HashMap<>();
    private long records;
    private Verdict.Broken broken;

    /** The record that follows {@code last} at its bay; a bay's first one where that is empty. */
    public static RunRecord next(Optional<RunRecord> last, RunRecord.Content content) {
        long sequence = last.map(record -> record.baySequence() + 1).orElse(1L);
        String previous = last.map(RunRecord::recordHash).orElse(NONE);
        return new RunRecord(content, sequence, previous, hash(content, sequence, previous));
    }

    /** Takes one more record; those of one bay must come in the order of their numbers. */
    public void take(RunRecord record) {
        records++;
        if (broken == null) {
            String reason =
                    brokenTie(Optional.ofNullable(lastOfBay.get(record.content().bayId())), record);
            if (reason != null) {
                broken =
                        new Verdict.Broken(
                                record.content().bayId(),
                                record.baySequence(),
                                record.content().runId(),
                                reason);
            }
            lastOfBay.put(record.content().bayId(), record);
        }
    }

    /** What the records taken so far say. */
    public Verdict verdict() {
        return broken == null ? new Verdict.Whole(records) : broken;
    }

    private static String brokenTie(Optional<RunRecord> last, RunRecord record) {
        RunRecord right = next(last, record.content());
        if (record.baySequence() != right.baySequence()) {
            return "it has number "
                    + record.baySequence()
                    + " where "
                    + right.baySequence()
                    + " follows: a record is "
                    + "missing, or one too many";
        }
        if (!record.previousHash().equals(right.previousHash())) {
            return "it names another record before it than the one that is there";
        }
        if (!record.recordHash().equals(right.recordHash())) {
            return "its content is not the one that was hashed";
        }
        return null;
    }

    /** The canonical text of a record, as bytes. */
    static byte[] canonical(RunRecord.Content content, long baySequence, String previousHash) {
        ByteArrayOutputStream text = new ByteArrayOutputStream();
        text.writeBytes(FIRST_LINE);
        field(text, "bay_id", content.bayId());
        field(text, "bay_sequence", Long.toString(baySequence));
        field(text, "previous_hash", previousHash);
        field(text, "run_id", content.runId());
        field(text, "asset", content.asset());
        field(text, "started_wall", content.startedWall().toString());
        field(text, "day", content.day().toString());
        field(text, "origin", content.origin().key());
        field(text, "method_version", Integer.toString(content.methodVersion()));
        field(text, "program_version", content.programVersion());
        field(text, "outcome", content.outcome());
        field(text, "reason", content.reason());
        field(text, "accepted", content.accepted() ? "true" : "false");
        field(text, "trace_file", content.traceFile());
        field(text, "trace_sha256", content.traceSha256());
        field(text, "result_json", content.resultJson());
        return text.toByteArray();
    }

    private static String hash(RunRecord.Content content, long baySequence, String previousHash) {
        byte[] text = canonical(content, baySequence, previousHash);
        return HexFormat.of().formatHex(TraceDigest.sha256Digest().digest(text));
    }

    private static void field(ByteArrayOutputStream text, String name, String value) {
        byte[] bytes = value.getBytes(StandardCharsets.UTF_8);
        text.writeBytes((name + " " + bytes.length + ":").getBytes(StandardCharsets.US_ASCII));
        text.writeBytes(bytes);
        text.write('\n');
    }
}
