package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

final class RecordChainTest {

    private static final RunRecord FIRST =
            RecordChain.next(Optional.empty(), SampleRecords.content("run-1", "bay-1", "T-12"));
    private static final RunRecord SECOND =
            RecordChain.next(Optional.of(FIRST), SampleRecords.content("run-2", "bay-1", "T-12"));
    private static final RunRecord THIRD =
            RecordChain.next(Optional.of(SECOND), SampleRecords.content("run-3", "bay-1", "T-9"));

    private static RecordChain.Verdict verdict(RunRecord... records) {
        RecordChain chain = new RecordChain();
        List.of(records).forEach(chain::take);
        return chain.verdict();
    }

    /**
     * The example of the specification, whose hash was made with another program: {@code
     * sha256sum}.
     */
    @Test
    void theCanonicalTextIsTheSpecifiedOne() throws IOException {
        String manual = Files.readString(Path.of("../src/docs/record-format.md"));
        String canonical =
                new String(
                        RecordChain.canonical(FIRST.content(), 1, RecordChain.NONE),
                        StandardCharsets.UTF_8);

        assertTrue(manual.contains("```\n" + canonical + "```\n"), canonical);
        assertTrue(manual.contains("`" + FIRST.recordHash() + "`"), FIRST.recordHash());
        assertEquals(
                "4647301027eaea61c93c2ce205368a622ed591c0d66970308f2e87591147fba3",
                FIRST.recordHash());
    }

    @Test
    void recordsOfABayFollowEachOther() {
        assertEquals(1, FIRST.baySequence());
        assertEquals("0".repeat(64), FIRST.previousHash());
        assertEquals(2, SECOND.baySequence());
        assertEquals(FIRST.recordHash(), SECOND.previousHash());
        assertEquals(new RecordChain.Verdict.Whole(3), verdict(FIRST, SECOND, THIRD));
        assertEquals(new RecordChain.Verdict.Whole(0), verdict());
    }

    @Test
    void eachBayHasItsOwnChain() {
        RunRecord other =
                RecordChain.next(Optional.empty(), SampleRecords.content("run-4", "bay-2", "T-12"));
        assertEquals(1, other.baySequence());
        assertEquals(new RecordChain.Verdict.Whole(3), verdict(FIRST, other, SECOND));
    }

    @Test
    void theFirstBrokenTieIsNamed() {
        RunRecord changed =
                new RunRecord(
                        SampleRecords.content("run-2", "bay-1", "T-13"),
                        2,
                        SECOND.previousHash(),
                        SECOND.recordHash());
        assertBroken(
                "run-2",
                "its content is not the one that was hashed",
                verdict(FIRST, changed, THIRD));
        assertBroken("run-3", "it has number 3 where 2 follows", verdict(FIRST, THIRD));
        assertBroken("run-1", "it has number 1 where 2 follows", verdict(FIRST, FIRST));

        RunRecord rehashed =
                RecordChain.next(
                        Optional.of(FIRST), SampleRecords.content("run-2", "bay-1", "T-13"));
        assertBroken("run-3", "it names another record before it", verdict(FIRST, rehashed, THIRD));
    }

    private static void assertBroken(String run, String reason, RecordChain.Verdict verdict) {
        RecordChain.Verdict.Broken broken =
                assertInstanceOf(RecordChain.Verdict.Broken.class, verdict);
        assertEquals(run, broken.runId());
        assertTrue(broken.reason().startsWith(reason), broken.reason());
    }

    @Test
    void everyFieldIsHashed() {
        // A length before each value keeps a text from sliding into the field behind it.
        RunRecord slid =
                RecordChain.next(Optional.empty(), SampleRecords.content("run-1", "bay-1", "T-1"));
        assertTrue(!slid.recordHash().equals(FIRST.recordHash()));
        String text =
                new String(
                        RecordChain.canonical(FIRST.content(), 1, RecordChain.NONE),
                        StandardCharsets.UTF_8);
        for (var component : RunRecord.Content.class.getRecordComponents()) {
            String field =
                    component
                            .getName()
                            .replaceAll("([A-Z]+|256)", "_$1")
                            .toLowerCase(java.util.Locale.ROOT);
            field = field.replace("sha_256", "sha256");
            assertTrue(text.contains("\n" + field + " "), field);
        }
    }

    @Test
    void whatWouldBreakTheChainLaterIsRefusedNow() {
        assertThrows(
                IllegalArgumentException.class,
                () -> SampleRecords.content("run-1", "bay\0", "T-12"));
        assertThrows(
                IllegalArgumentException.class,
                () -> SampleRecords.content("run-1", "bay", "T\uD800"));
        assertThrows(
                IllegalArgumentException.class,
                () -> SampleRecords.content("../run", "bay", "T-12"));
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunRecord(FIRST.content(), 0, RecordChain.NONE, FIRST.recordHash()));
        assertThrows(
                IllegalArgumentException.class,
                () -> new RunRecord(FIRST.content(), 1, "", FIRST.recordHash()));
    }
}
