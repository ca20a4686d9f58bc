package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.ResultText;

import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * Traces of every format version, kept for ever beside the result that their run gave: each must
 * still replay to it, byte for byte, and through the same states and commands (a trace that does
 * not is refused as damaged, so its result would differ).
 */
final class KeptTraceTest {

    private static final String ARCHIVE = ".jsonl.zst";

    private static Path folder() throws URISyntaxException {
        return Path.of(KeptTraceTest.class.getResource("/catchbay/kept").toURI());
    }

    @TestFactory
    List<DynamicTest> everyKeptTraceReplaysToItsResult() throws IOException, URISyntaxException {
        List<Path> kept;
        try (Stream<Path> files = Files.walk(folder())) {
            kept = files.filter(file -> file.toString().endsWith(ARCHIVE)).sorted().toList();
        }
        assertTrue(kept.size() >= 3, "kept traces: " + kept);
        return kept.stream()
                .map(file ->
                        DynamicTest.dynamicTest(file.getFileName().toString(), () -> holds(file)))
                .toList();
    }

    private static void holds(Path trace) throws IOException {
        String name = trace.getFileName().toString().replace(ARCHIVE, ".json");
        Replay.Result result = Replay.of(trace);
        assertEquals(
                Files.readString(trace.resolveSibling(name)).strip(),
                ResultText.of(result.provenance(), result.setup(), result.outcome()));
    }
}
