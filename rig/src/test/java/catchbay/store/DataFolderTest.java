package catchbay.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZonedDateTime;

final class DataFolderTest {

    private static final ZonedDateTime NOW =
            ZonedDateTime.parse("2026-01-15T14:05:00.123456789-06:00");

    @TempDir Path folder;

    /** The other program: holds the folder until its input ends. */
    static final class Holder {
        public static void main(String[] arguments) throws Exception {
            try (DataFolder held = DataFolder.open(Path.of(arguments[0]), NOW)) {
                held.traces();
                System.out.println("held");
                System.in.read();
            }
        }
    }

    @Test
    void theFolderIsMadeWithItsRooms() throws StoreException {
        Path root = folder.resolve("a").resolve("b");
        try (DataFolder data = DataFolder.open(root, NOW)) {
            assertTrue(Files.isDirectory(root.resolve("traces")));
            data.openRecords().close();
            assertTrue(Files.exists(DataFolder.records(root)));
        }
    }

    @Test
    void aSecondHolderInTheSameProgramIsRefused() throws StoreException {
        DataFolder first = DataFolder.open(folder, NOW);
        StoreException refused =
                assertThrows(
                        StoreException.class,
                        () -> DataFolder.open(folder, NOW.plusSeconds(5)).close());
        assertEquals(
                "the data folder "
                        + folder
                        + " is in use by process "
                        + ProcessHandle.current().pid()
                        + ", started 2026-01-15 14:05:00; end that program first, or choose "
                        + "another data folder",
                refused.getMessage());
        first.close();
        DataFolder.open(folder, NOW).close();
    }

    @Test
    void anotherProgramIsNamedAndItsLockEndsWithIt() throws Exception {
        Process other =
                new ProcessBuilder(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-cp",
                                System.getProperty("java.class.path"),
                                Holder.class.getName(),
                                folder.toString())
                        .redirectErrorStream(true)
                        .start();
        try (BufferedReader said =
                new BufferedReader(
                        new InputStreamReader(other.getInputStream(), StandardCharsets.UTF_8))) {
            assertEquals("held", said.readLine());
            StoreException refused =
                    assertThrows(StoreException.class, () -> DataFolder.open(folder, NOW).close());
            assertTrue(
                    refused.getMessage()
                            .contains(
                                    "is in use by process " + other.pid() + ", started 2026-01-15"),
                    refused.getMessage());
        } finally {
            other.destroyForcibly().waitFor();
        }
        // Killed without a chance to clean up: the system has let its lock go.
        DataFolder.open(folder, NOW).close();
    }

    @Test
    void aFolderThatCannotBeMadeIsRefused() throws IOException {
        Path file = Files.writeString(folder.resolve("file"), "in the way");
        StoreException refused =
                assertThrows(StoreException.class, () -> DataFolder.open(file, NOW).close());
        assertTrue(
                refused.getMessage().startsWith("the data folder " + file + " cannot be used ("),
                refused.getMessage());
    }
}
