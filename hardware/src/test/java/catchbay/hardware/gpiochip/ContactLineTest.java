package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;

/** Changes as the kernel writes them, through a pipe that stands in for the line. */
final class ContactLineTest {

    @TempDir Path folder;

    @Test
    void changesAreReadOnceAndAGapInTheirNumbersIsCounted() throws Exception {
        try (EventPipe pipe = new EventPipe(folder);
                ContactLine line = new ContactLine(pipe.request)) {
            assertEquals(0, line.look());
            pipe.write(1000, 1, 1);
            pipe.write(2000, 2, 2);
            assertEquals(2, line.look());
            assertEquals(0, line.lost());
            assertEquals(1000, line.stampNanos(0));
            assertEquals(2000, line.stampNanos(1));
            assertTrue(line.high(1));
            pipe.write(9000, 10, 10);
            pipe.write(9500, 12, 12);
            assertEquals(2, line.look());
            assertEquals(8, line.lost(), "3 to 9, and 11");
            assertEquals(0, line.look());
            assertEquals(0, line.lost(), "each is told once");
        }
    }

    @Test
    void theNumbersGoRound() throws Exception {
        try (EventPipe pipe = new EventPipe(folder);
                ContactLine line = new ContactLine(pipe.request)) {
            pipe.write(1000, -1, -1);
            line.look();
            pipe.write(2000, 0, 0);
            pipe.write(3000, 1, 1);
            assertEquals(2, line.look());
            assertEquals(0, line.lost());
        }
    }
}
