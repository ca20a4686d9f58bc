package catchbay.hardware.systemd;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/** Real datagram sockets of the kernel. Source of the messages: sd_notify(3). */
@Timeout(60)
class ServiceNewsTest {

    private static final long PROCESS = 4711;

    @TempDir private Path folder;

    private static ServiceNews news(String address, String... more) throws PortException {
        Map<String, String> environment = new java.util.HashMap<>();
        environment.put("NOTIFY_SOCKET", address);
        for (int i = 0; i < more.length; i += 2) {
            environment.put(more[i], more[i + 1]);
        }
        return ServiceNews.of(environment, PROCESS);
    }

    /** A socket in the file system, and one without a place there. */
    @Test
    void readyAtTheFirstTurnThenTheStatusThenStopping() throws Throwable {
        for (String address : List.of(folder.resolve("notify").toString(), "@catchbay-test")) {
            try (NoticeBox box = new NoticeBox(address)) {
                try (ServiceNews news = news(address)) {
                    assertEquals(List.of(), box.within(600), "not ready before the loop turns");
                    news.turn("waiting for the checklist");
                    box.await("STATUS=waiting for the checklist"::equals);
                    news.turn("catching for 6 s");
                    List<String> all = box.await("STATUS=catching for 6 s"::equals);
                    assertEquals(
                            List.of(
                                    "READY=1",
                                    "STATUS=waiting for the checklist",
                                    "STATUS=catching for 6 s"),
                            all);
                }
                assertEquals("STOPPING=1", box.await("STOPPING=1"::equals).getLast());
            }
        }
    }

    @Test
    void aliveOnlyWhileTheLoopGoesRoundOrNeedNot() throws Throwable {
        String address = folder.resolve("notify").toString();
        try (NoticeBox box = new NoticeBox(address);
                ServiceNews news = news(address, "WATCHDOG_USEC", "200000")) {
            box.await("WATCHDOG=1"::equals);
            news.turn("catching");
            List<String> turning = box.within(600);
            assertTrue(turning.contains("WATCHDOG=1"), turning.toString());
            Thread.sleep(800);
            List<String> hung = box.within(1000);
            assertFalse(hung.contains("WATCHDOG=1"), "the loop hangs: " + hung);
            news.idle();
            assertTrue(box.within(600).contains("WATCHDOG=1"), "no run is under way");
        }
    }

    /** WATCHDOG_PID: sd_watchdog_enabled(3). */
    @Test
    void aWatchdogOfAnotherProcessIsNotOurs() throws Throwable {
        String address = folder.resolve("notify").toString();
        try (NoticeBox box = new NoticeBox(address);
                ServiceNews other = news(address, "WATCHDOG_USEC", "100000", "WATCHDOG_PID", "1")) {
            other.turn("catching");
            box.await("READY=1"::equals);
            assertFalse(box.within(700).contains("WATCHDOG=1"));
        }
    }

    @Test
    void nobodyIsToldWhereNobodyWaits() throws PortException {
        try (ServiceNews news = ServiceNews.of(Map.of(), PROCESS)) {
            news.turn("catching");
            news.idle();
        }
        assertTrue(
                Thread.getAllStackTraces().keySet().stream()
                        .noneMatch(thread -> thread.getName().equals("service news")));
    }

    @Test
    void aManagerThatIsGoneEndsNothing() throws Exception {
        try (ServiceNews news =
                news(folder.resolve("gone").toString(), "WATCHDOG_USEC", "100000")) {
            news.turn("catching");
            Thread.sleep(300);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"notify", "vsock:2:1234", "/", "@"})
    void whatNamesNoSocketIsRefused(String address) {
        PortException refusal = assertThrows(PortException.class, () -> news(address));
        assertEquals(PortException.Kind.UNFIT, refusal.kind());
        assertTrue(refusal.getMessage().contains("Type=notify"), refusal.getMessage());
    }

    @Test
    void aPathLongerThanTheKernelTakesIsRefused() {
        assertThrows(PortException.class, () -> news("/" + "x".repeat(107)));
    }
}
