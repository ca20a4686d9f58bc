package catchbay.record;

import java.time.Instant;
import java.time.LocalDate;
import java.util.regex.Pattern;

/**
 * What is kept of one run for ever, chained to the run before it at the same bay. Never changed: a
 * correction is a new record.
 *
 * @param content what the run was and gave
 * @param baySequence its number among the bay's records, from 1 without gaps
 * @param previousHash the {@code recordHash} of the bay's record before it; {@link
 *     RecordChain#NONE} for the first
 * @param recordHash SHA-256 over the record's canonical text ({@code src/docs/record-format.md}),
 *     64 lower-case hexadecimal digits
 */
public record RunRecord(Content content, long baySequence, String previousHash, String recordHash) {

    private static final Pattern HASH = Pattern.compile("[0-9a-f]{64}");

    /**
     * What a run was and gave.
     *
     * @param runId the run's identity, unique for ever
     * @param bayId the bay's name
     * @param asset the truck's number in the fleet
     * @param startedWall when the run began, calendar time
     * @param day the run's calendar day at the bay
     * @param origin whether the bay was real; never written by hand
     * @param methodVersion version of the method that decided it, >= 1
     * @param programVersion version of the program that ran it
     * @param outcome its outcome's name
     * @param reason its outcome's reason, as a sentence
     * @param accepted whether its figures count: measured, and its trace sealed
     * @param traceFile name of the trace's uncompressed file
     * @param traceSha256 SHA-256 of the trace's whole uncompressed text, 64 lower-case hexadecimal
     *     digits
     * @param resultJson the result as JSON text; what is hashed is this text, byte by byte
     */
    public record Content(
            String runId,
            String bayId,
            String asset,
            Instant startedWall,
            LocalDate day,
            TraceLine.Origin origin,
            int methodVersion,
            String programVersion,
            String outcome,
            String reason,
            boolean accepted,
            String traceFile,
            String traceSha256,
            String resultJson) {

        public Content {
            if (!TraceLine.Header.RUN.matcher(runId).matches()) {
                throw new IllegalArgumentException(
                        "a record's run must be 1 to 64 letters, digits, hyphens and "
                                + "underscores, was '"
                                + runId
                                + "'");
            }
            kept("bay", bayId);
            kept("asset", asset);
            kept("program version", programVersion);
            kept("outcome", outcome);
            kept("reason", reason);
            kept("trace file", traceFile);
            kept("result", resultJson);
            if (methodVersion < 1) {
                throw new IllegalArgumentException(
                        "a record's method version must be >= 1, was " + methodVersion);
            }
            if (origin == TraceLine.Origin.WRITTEN) {
                throw new IllegalArgumentException(
                        "a trace written by hand is evaluated but never recorded");
            }
            hash("trace", traceSha256);
        }

        /**
         * What cannot be written as UTF-8 and read back would break the chain later: it is refused
         * now.
         */
        private static void kept(String what, String text) {
            boolean halfPair =
                    text.codePoints().anyMatch(point -> point >= 0xD800 && point <= 0xDFFF);
            if (halfPair || text.indexOf(0) >= 0) {
                throw new IllegalArgumentException(
                        "a record's "
                                + what
                                + " must be text without the character 0 and "
                                + "without halves of surrogate pairs");
            }
        }
    }

    public RunRecord {
        if (baySequence < 1) {
            throw new IllegalArgumentException(
                    "a bay's records are numbered from 1, not " + baySequence);
        }
        hash("previous", previousHash);
        hash("record", recordHash);
    }

    private static void hash(String what, String hash) {
        if (!HASH.matcher(hash).matches()) {
            throw new IllegalArgumentException(
                    "a record's "
                            + what
                            + " hash must be 64 lower-case hexadecimal digits, was '"
                            + hash
                            + "'");
        }
    }
}
