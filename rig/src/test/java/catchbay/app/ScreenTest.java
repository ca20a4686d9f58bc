package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.Outcome;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Lines that stay, rows that are drawn anew, and a terminal that takes neither. */
@Timeout(60)
final class ScreenTest {

    private final CountDownLatch released = new CountDownLatch(1);

    @AfterEach
    void release() {
        released.countDown();
    }

    private static PrintStream printing(OutputStream to) {
        return new PrintStream(to, true, StandardCharsets.UTF_8);
    }

    private static Screen on(VideoTerminal terminal) {
        PrintStream to = printing(terminal);
        return new Screen(() -> to, true, terminal.columns());
    }

    /** What a terminal held by Ctrl-S does to whoever writes. */
    private final class Held extends OutputStream {
        private final ByteArrayOutputStream taken = new ByteArrayOutputStream();

        @Override
        public void write(int one) {
            write(new byte[] {(byte) one}, 0, 1);
        }

        @Override
        public void write(byte[] some, int from, int length) {
            try {
                released.await();
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
            synchronized (taken) {
                taken.write(some, from, length);
            }
        }

        private List<String> lines() {
            synchronized (taken) {
                return taken.toString(StandardCharsets.UTF_8).lines().toList();
            }
        }
    }

    private static void await(BooleanSupplier holds) throws InterruptedException {
        while (!holds.getAsBoolean()) {
            Thread.sleep(10);
        }
    }

    @Test
    void linesComeInOrder() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        PrintStream to = printing(bytes);
        Screen screen = new Screen(() -> to, false, 78);
        for (int i = 0; i < 1000; i++) {
            screen.lines().println("line " + i);
        }
        screen.settle();
        List<String> lines = bytes.toString(StandardCharsets.UTF_8).lines().toList();
        assertEquals(1000, lines.size());
        for (int i = 0; i < 1000; i++) {
            assertEquals("line " + i, lines.get(i));
        }
    }

    /** The loop tells its lines and goes on; what was lost in the end is counted. */
    @Test
    void aHeldTerminalHoldsNobody() throws Exception {
        Held held = new Held();
        PrintStream to = printing(held);
        Screen screen = new Screen(() -> to, true, 78);
        screen.show(() -> List.of("row"));
        int told = 20_000;
        for (int i = 0; i < told; i++) {
            screen.lines().println("a line of some forty characters, number " + i);
        }
        released.countDown();
        screen.hide();
        screen.settle();
        List<String> lines = held.lines();
        Matcher lost =
                Pattern.compile("\\((\\d+) lines are missing here: they came while.*")
                        .matcher(lines.getLast());
        assertTrue(lost.matches(), lines.getLast());
        long kept = lines.stream().filter(line -> line.contains("a line of some")).count();
        assertEquals(told, kept + Integer.parseInt(lost.group(1)));
        assertTrue(kept >= Screen.WAITING_LINES_MAX, kept + " kept");
    }

    @Test
    void aRunGoesOnWhileTheTerminalIsHeld() {
        PrintStream to = printing(new Held());
        Screen screen = new Screen(() -> to, true, 78);
        PlayedBay bay = new PlayedBay();
        try (Progress progress = new Progress(screen, true)) {
            Outcome outcome =
                    new RunLoop(bay.ports(), new PlayedBay.MemoryTrace(), progress)
                            .run(PlayedBay.setup());
            assertInstanceOf(Outcome.Measured.class, outcome);
        }
    }

    /** An empty row is left for what a person types; a line that comes stands above both. */
    @Test
    void rowsStandBelowTheLinesAndAreGoneAtTheEnd() throws Exception {
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        AtomicInteger seconds = new AtomicInteger();
        screen.lines().println("first");
        screen.show(() -> List.of("state", seconds + " gone"));
        await(() -> terminal.shown().equals(List.of("first", "", "state", "0 gone")));
        seconds.set(7);
        await(() -> terminal.shown().equals(List.of("first", "", "state", "7 gone")));
        screen.lines().println("second");
        await(() -> terminal.shown().equals(List.of("first", "second", "", "state", "7 gone")));
        screen.hide();
        screen.lines().println("third");
        screen.settle();
        assertEquals(List.of("first", "second", "third"), terminal.shown());
    }

    @Test
    void whatIsTypedStays() throws Exception {
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        AtomicInteger seconds = new AtomicInteger();
        screen.show(() -> List.of("state", seconds + " gone"));
        await(() -> terminal.shown().equals(List.of("", "state", "0 gone")));
        terminal.type("sto");
        seconds.set(1);
        await(() -> terminal.shown().equals(List.of("sto", "state", "1 gone")));
        terminal.type("p\n");
        seconds.set(2);
        await(() -> terminal.shown().equals(List.of("stop", "", "state", "2 gone")));
    }

    /** At the foot of the terminal the rows must scroll it up once, not at each drawing. */
    @Test
    void rowsAtTheFootStay() throws Exception {
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        AtomicInteger seconds = new AtomicInteger();
        for (int i = 0; i < 30; i++) {
            screen.lines().println("line " + i);
        }
        screen.show(() -> List.of("state", seconds + " gone", "next"));
        for (int second = 0; second < 4; second++) {
            seconds.set(second);
            List<String> foot = List.of("line 29", "", "state", second + " gone", "next");
            await(() -> {
                List<String> shown = terminal.shown();
                return shown.size() == 16 && shown.subList(11, 16).equals(foot);
            });
        }
    }

    /**
     * On twenty columns rows are cut, not wrapped; a window made narrower leaves nothing behind.
     */
    @Test
    void aNarrowTerminalAndOneMadeNarrower() throws Exception {
        String row = "measured 103.83 US gal so far, and more";
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        AtomicInteger seconds = new AtomicInteger();
        screen.show(() -> List.of(row, seconds + " gone"));
        await(() -> terminal.shown().equals(List.of("", row, "0 gone")));
        terminal.narrow(20);
        assertEquals(4, terminal.shown().size(), "the terminal itself has wrapped the row");
        seconds.set(1);
        await(() -> terminal.shown().equals(List.of("", "measured 103.83 US e", "1 gone")));
        screen.hide();
        screen.settle();
        assertEquals(List.of(), terminal.shown());
    }

    /** Four times a second at most, however often it could be. */
    @Test
    void rowsAreDrawnSeldom() throws Exception {
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        AtomicInteger drawn = new AtomicInteger();
        screen.show(() -> List.of("drawing " + drawn.incrementAndGet()));
        Thread.sleep(1_100);
        screen.hide();
        screen.settle();
        assertTrue(drawn.get() >= 1 && drawn.get() <= 4, drawn + " drawings");
    }

    @Test
    void aTerminalsLinesBreakBetweenTheirWords() {
        VideoTerminal terminal = new VideoTerminal(40);
        Screen screen = on(terminal);
        screen.lines().println("? Is the tank's drain shut? Press Enter once it is seen so.");
        screen.lines().println("  [ ] Eye protection and gloves are worn by all.");
        screen.lines().println("A sentence that has more than forty columns.");
        screen.settle();
        assertEquals(
                List.of(
                        "? Is the tank's drain shut? Press Enter",
                        "  once it is seen so.",
                        "  [ ] Eye protection and gloves are worn",
                        "      by all.",
                        "A sentence that has more than forty",
                        "columns."),
                terminal.shown());
    }

    /** Questions come the same way: they must go on coming. */
    @Test
    void aBugInTheRowsSilencesNoLine() throws Exception {
        VideoTerminal terminal = new VideoTerminal(200);
        Screen screen = on(terminal);
        screen.show(() -> {
            throw new IllegalStateException("bad row");
        });
        await(() -> terminal.shown().size() == 1);
        screen.lines().println("? a question");
        screen.settle();
        assertEquals(
                List.of(
                        "! How the run stands cannot be shown"
                                + " (java.lang.IllegalStateException: bad row); it goes on all the"
                                + " same. Please report this sentence.",
                        "? a question"),
                terminal.shown());
    }

    /** Rows made while they were being hidden must not come after the page. */
    @Test
    void hiddenRowsNeverComeLate() throws Exception {
        VideoTerminal terminal = new VideoTerminal(80);
        Screen screen = on(terminal);
        CountDownLatch making = new CountDownLatch(1);
        screen.show(() -> {
            making.countDown();
            try {
                released.await();
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
            return List.of("late");
        });
        making.await();
        screen.hide();
        released.countDown();
        screen.settle();
        assertEquals("", terminal.sent());
    }

    @Test
    void whatIsNoTerminalIsNeverDrawnOn() {
        VideoTerminal pipe = new VideoTerminal(80);
        PrintStream to = printing(pipe);
        Screen screen = new Screen(() -> to, false, 78);
        try (Progress progress = new Progress(screen, true)) {
            new RunLoop(new PlayedBay().ports(), new PlayedBay.MemoryTrace(), progress)
                    .run(PlayedBay.setup());
        }
        screen.settle();
        assertTrue(pipe.sent().contains("catching for 2 s"), pipe.sent());
        assertEquals(-1, pipe.sent().indexOf('\u001b'));
    }
}
