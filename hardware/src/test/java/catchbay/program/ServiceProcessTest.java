package catchbay.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.systemd.NoticeBox;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.github.luben.zstd.ZstdInputStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/** The whole program as a service manager sees it, through a real datagram socket. */
@Timeout(300)
final class ServiceProcessTest {

    @TempDir private Path folder;

    /**
     * Type=notify, WatchdogSec=2, and the SIGTERM of a stop: within two seconds the run is closed
     * and its trace sealed, with what the computer said of itself in it.
     */
    @Test
    void aServiceIsReadyAliveAndEndsInTimeWithItsTraceSealed() throws Throwable {
        String address = folder.resolve("notify").toString();
        try (NoticeBox manager = new NoticeBox(address);
                ScaleBench bench =
                        new ScaleBench(folder, "sh src/catchbay stand-in scale --link ./scale");
                Started run =
                        bench.start(
                                Map.of("NOTIFY_SOCKET", address, "WATCHDOG_USEC", "2000000"),
                                "sh src/catchbay catch -s "
                                        + ScaleBench.SETTINGS
                                        + " --json --seconds 60")) {
            manager.await("READY=1"::equals);
            bench.startFlow(run);
            manager.await(news -> news.startsWith("STATUS=catching"));
            List<String> alive = manager.within(3000);
            assertTrue(alive.stream().filter("WATCHDOG=1"::equals).count() >= 2, alive.toString());

            long asked = System.nanoTime();
            run.terminate();
            Started.Ended ended = run.ended();
            double seconds = (System.nanoTime() - asked) / 1e9;
            bench.order("flow 0");
            assertTrue(seconds < 2.5, "it took " + seconds + " s to end: " + ended);
            assertEquals(143, ended.code(), ended::toString);
            JsonNode result = new ObjectMapper().readTree(ended.output().getFirst());
            assertEquals("stopped", result.get("outcome").asText());
            assertEquals("sealed", result.get("trace").asText());
            assertTrue(result.get("bay_computer").get("free_bytes_least").asLong() > 0);
            assertTrue(result.get("bay_computer").get("clock_trusted").isBoolean());

            List<String> trace = trace(result.get("run").asText());
            assertTrue(
                    trace.get(1).matches("\\{\"at\":\\d+,\"computer\":\\{.*\"free_bytes\":\\d+}}"),
                    trace.get(1));
            assertTrue(trace.get(trace.size() - 2).contains("\"computer\":{"), trace.toString());
            assertTrue(trace.getLast().contains("\"end\":\"stopped\""), trace.getLast());
        }
    }

    private List<String> trace(String run) throws Exception {
        Path traces = folder.resolve("src/examples/catchbay-data/traces");
        Path compressed = traces.resolve(run + ".jsonl.zst");
        // The program may end between sealing and compressing; the next start makes up for it.
        if (!Files.exists(compressed)) {
            return Files.readAllLines(traces.resolve(run + ".jsonl"));
        }
        try (InputStream bytes = new ZstdInputStream(Files.newInputStream(compressed))) {
            return new String(bytes.readAllBytes(), StandardCharsets.UTF_8).lines().toList();
        }
    }
}
