package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;

/** The whole program, whose standard error takes nothing: as a terminal held with Ctrl-S. */
@Timeout(120)
final class HeldScreenProcessTest {

    private static final Path SETTINGS = Path.of("../src/examples/full-bay.toml");

    /** What a pipe of the kernel holds: pipe(7), "Pipe capacity". */
    private static final int PIPE_BYTES = 65_536;

    @TempDir Path folder;

    /** Whoever printed to it from the loop's thread would wait for ever. */
    @Test
    void aCatchIsRunToItsEndAndRecorded() throws Exception {
        String settings = Files.readString(SETTINGS);
        String virtual = settings.replaceFirst("provider = \"system\"", "provider = \"virtual\"");
        assertTrue(!virtual.equals(settings), "the example runs in real time");
        Files.writeString(folder.resolve("bay.toml"), virtual);
        Path pipe = folder.resolve("errors");
        assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
        try (RandomAccessFile held = new RandomAccessFile(pipe.toFile(), "rw")) {
            held.write(new byte[PIPE_BYTES]);
            try (Started run =
                    Started.in(folder, pipe, "catch", "-s", "bay.toml", "-t", "T-12", "--json")) {
                Started.Ended ended = run.ended();
                assertEquals(0, ended.code(), ended::toString);
                JsonNode result = new ObjectMapper().readTree(ended.output().getFirst());
                assertTrue(result.get("accepted").asBoolean(), ended::toString);
                assertTrue(
                        Files.exists(
                                folder.resolve(
                                        "catchbay-data/traces/"
                                                + result.get("run").asText()
                                                + ".jsonl.zst")));
            }
        }
    }
}
