package catchbay.record;

import java.time.Instant;
import java.time.LocalDate;

/** Contents of records for tests. */
public final class SampleRecords {

    private SampleRecords() {}

    /** A record's content of this run, bay and truck. */
    public static RunRecord.Content content(String run, String bay, String asset) {
        return new RunRecord.Content(
                run,
                bay,
                asset,
                Instant.parse("2026-01-15T14:05:00.25Z"),
                LocalDate.of(2026, 1, 15),
                TraceLine.Origin.SIMULATED,
                1,
                "0.1.0",
                "measured",
                "The catch was measured and compared. Größe: ½.",
                true,
                run + ".jsonl",
                "ab".repeat(32),
                "{\"outcome\":\"measured\"}");
    }
}
