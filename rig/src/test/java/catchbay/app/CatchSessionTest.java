package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunInput;
import catchbay.store.DataFolder;
import catchbay.store.TraceFolder;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * From settings to a record and back by the commands {@code catch} and {@code history}, on a played
 * bay.
 */
final class CatchSessionTest {

    @TempDir Path folder;

    private CommandLineRun caught(PlayedBay bay, String settings, String... more) throws Exception {
        Path file = Files.writeString(folder.resolve("bay.toml"), settings + PlayedPorts.SETTINGS);
        List<String> args = new ArrayList<>(List.of("catch", "-s", file.toString()));
        args.addAll(List.of(more));
        try (PlayedPorts _ = new PlayedPorts(folder, bay)) {
            return CommandLineRun.of(args.toArray(String[]::new));
        }
    }

    private CommandLineRun history(String... more) {
        List<String> args =
                new ArrayList<>(List.of("history", "--data", folder.resolve("data").toString()));
        args.addAll(List.of(more));
        return CommandLineRun.of(args.toArray(String[]::new));
    }

    private List<String> traces() throws Exception {
        try (Stream<Path> files = Files.list(folder.resolve("data/traces"))) {
            return files.map(file -> file.getFileName().toString()).sorted().toList();
        }
    }

    @Test
    void aCatchIsRunRecordedAndListed() throws Exception {
        CommandLineRun run = caught(new PlayedBay(), PlayedBay.SETTINGS, "--json");
        assertEquals(0, run.code(), run.errors());
        assertTrue(
                run.output()
                        .startsWith("{\"run\":\"20260203-100000-T-12\",\"origin\":\"simulated\","),
                run.output());
        assertTrue(run.output().contains("\"accepted\":true"), run.output());
        assertEquals(List.of("20260203-100000-T-12.jsonl.zst"), traces());

        assertEquals(run.output(), history("--json").output());
        CommandLineRun list = history();
        assertEquals(0, list.code());
        assertEquals(
                "   1  20260203-100000-T-12         T-12       measured                  0.941     "
                        + " 4.91  simulated",
                list.output().lines().toList().getLast());
        assertEquals("No run with truck T-99 is recorded here.\n", history("-t", "T-99").output());
    }

    /** A record is worth no more than the trace behind it. */
    @Test
    void aTraceThatIsGoneOrAnotherIsFoundOut() throws Exception {
        caught(new PlayedBay(), PlayedBay.SETTINGS);
        Path trace = folder.resolve("data/traces/20260203-100000-T-12.jsonl.zst");
        byte[] whole = Files.readAllBytes(trace);
        for (int at : new int[] {0, whole.length / 2, whole.length - 1}) {
            byte[] turned = whole.clone();
            turned[at] ^= 4;
            Files.write(trace, turned);
            assertFoundOut(trace + " is not the trace that was recorded; restore it from a copy");
            CommandLineRun replayed = CommandLineRun.of("replay", trace.toString());
            assertEquals(2, replayed.code(), replayed.output());
            assertEquals(1, replayed.errors().lines().count(), replayed.errors());
            assertTrue(
                    at == 0 || replayed.errors().contains(" is a damaged compressed file ("),
                    replayed.errors());
        }
        Files.delete(trace);
        assertFoundOut(
                "the trace of run 20260203-100000-T-12 is not in "
                        + folder.resolve("data/traces")
                        + " any more; restore it from a copy");
        Files.write(trace, whole);
        assertEquals(0, history().code());
    }

    private void assertFoundOut(String sentence) {
        CommandLineRun list = history();
        assertEquals("catchbay: " + sentence + "\n", list.errors());
        assertEquals(3, list.code());
    }

    @Test
    void twoRunsOfOneSecondHaveTwoNames() throws Exception {
        caught(new PlayedBay(), PlayedBay.SETTINGS);
        CommandLineRun second =
                caught(
                        new PlayedBay()
                                .input(0.5, at -> new RunInput.StopPressed(at, "M. Example")),
                        PlayedBay.SETTINGS);
        assertEquals(1, second.code());
        assertTrue(second.output().contains("No result (stopped)."), second.output());
        assertEquals(
                List.of("20260203-100000-T-12-2.jsonl.zst", "20260203-100000-T-12.jsonl.zst"),
                traces());
        assertEquals(
                List.of("2", "1"),
                history()
                        .output()
                        .lines()
                        .skip(1)
                        .map(line -> line.strip().split(" ")[0])
                        .toList());
        assertEquals(2, history("-n", "1").output().lines().count());
    }

    /** A number that no file could be called by. */
    @Test
    void aTrucksNumberMakesAFileNameWhateverItIs() throws Exception {
        CommandLineRun run =
                caught(
                        new PlayedBay(),
                        PlayedBay.SETTINGS.replace(
                                "[trucks.T-12]", "[trucks.\"../T 12/" + "x".repeat(40) + "\"]"));
        assertEquals(0, run.code(), run.errors());
        assertEquals(List.of("20260203-100000-___T_12_" + "x".repeat(24) + ".jsonl.zst"), traces());
    }

    @Test
    void whatDoesNotFitIsRefusedBeforeAnythingMoves() throws Exception {
        PlayedBay bay = new PlayedBay();
        CommandLineRun run = caught(bay, PlayedBay.SETTINGS.replace("2027-01-05", "2026-02-02"));
        assertEquals(2, run.code());
        assertEquals(
                "catchbay: bay.toml: scale: certificate of SCALE-1 expired on 2026-02-02 and the"
                        + " run is on 2026-02-03; have it recalibrated and enter the new"
                        + " certificate.\n",
                run.errors());
        assertEquals("", run.output());
        assertEquals(List.of(), bay.asked);
        assertFalse(Files.exists(folder.resolve("data")), "not even a folder is made");

        CommandLineRun drain = caught(bay, PlayedBay.SETTINGS.replace("drain_seconds = 0\n", ""));
        assertEquals(
                "catchbay: bay.toml: catch.drain_seconds is above 0, but no provider is chosen"
                        + " under [port.outputs]; choose one, or set drain_seconds = 0 and drain by"
                        + " hand.\n",
                drain.errors());
    }

    @Test
    void aDataFolderThatIsHeldIsRefusedByName() throws Exception {
        try (DataFolder held =
                DataFolder.open(
                        folder.resolve("data"), ZonedDateTime.parse("2026-02-03T09:00:00Z"))) {
            CommandLineRun run = caught(new PlayedBay(), PlayedBay.SETTINGS);
            assertEquals(3, run.code());
            assertEquals(
                    "catchbay: the data folder "
                            + folder.resolve("data")
                            + " is in use by process "
                            + ProcessHandle.current().pid()
                            + ", started 2026-02-03 09:00:00; end that program first, or choose"
                            + " another data folder\n",
                    run.errors());
            assertEquals(List.of(), held.traces().runs(TraceFolder.Form.OPEN));
        }
    }

    @Test
    void aDataFolderThatCannotBeMadeIsSaid() throws Exception {
        Files.writeString(folder.resolve("data"), "a file");
        CommandLineRun run = caught(new PlayedBay(), PlayedBay.SETTINGS);
        assertEquals(3, run.code());
        assertTrue(
                run.errors()
                        .startsWith(
                                "catchbay: the data folder "
                                        + folder.resolve("data")
                                        + " cannot be used ("),
                run.errors());
        assertEquals(1, run.errors().lines().count());
    }

    @Test
    void aBugIsOneSentenceAndLeavesAnInterruptedRun() throws Exception {
        PlayedBay bay =
                new PlayedBay()
                        .at(
                                1.5,
                                into -> {
                                    throw new IllegalStateException("a driver's bug");
                                });
        CommandLineRun run = caught(bay, PlayedBay.SETTINGS);
        assertEquals(3, run.code());
        assertTrue(
                run.errors()
                        .lines()
                        .toList()
                        .getLast()
                        .startsWith(
                                "catchbay: the program failed in a way it did not foresee"
                                        + " (java.lang.IllegalStateException: a driver's bug at "),
                run.errors());
        assertEquals(List.of("20260203-100000-T-12.open.jsonl"), traces());

        CommandLineRun next = caught(new PlayedBay(), PlayedBay.SETTINGS);
        assertTrue(
                next.errors()
                        .startsWith(
                                "Run 20260203-100000-T-12 was interrupted; its trace is kept and"
                                        + " does not count.\n"),
                next.errors());
        assertEquals(0, next.code());
        CommandLineRun list = history();
        assertEquals(3, list.output().lines().count());
        assertEquals(
                "   -  20260203-100000-T-12         T-12       interrupted                      "
                        + "          simulated",
                list.output().lines().toList().getLast());
    }

    @Test
    void aChangedRecordIsNamed() throws Exception {
        caught(new PlayedBay(), PlayedBay.SETTINGS);
        try (Connection other =
                        DriverManager.getConnection(
                                "jdbc:sqlite:" + folder.resolve("data/records.sqlite"));
                Statement change = other.createStatement()) {
            for (String trigger : triggers(other)) {
                change.execute("DROP TRIGGER " + trigger);
            }
            change.executeUpdate("UPDATE run_record SET asset = 'T-13'");
        }
        CommandLineRun list = history();
        assertEquals(3, list.code());
        assertTrue(
                list.errors()
                        .startsWith(
                                "catchbay: record 1 of bay (run 20260203-100000-T-12) is not as it"
                                        + " was written: "),
                list.errors());
        assertEquals(1, list.errors().lines().count());
    }

    private static List<String> triggers(Connection records) throws Exception {
        List<String> names = new ArrayList<>();
        try (Statement query = records.createStatement();
                var rows =
                        query.executeQuery(
                                "SELECT name FROM sqlite_master WHERE type = 'trigger'")) {
            while (rows.next()) {
                names.add(rows.getString(1));
            }
        }
        return names;
    }

    @Test
    void aHistoryThatIsNotThereIsSaid() {
        CommandLineRun none = history();
        assertEquals(2, none.code());
        assertEquals(
                "catchbay: there are no records in "
                        + folder.resolve("data")
                        + "; run a catch first, or name another folder with --data\n",
                none.errors());
        CommandLineRun zero = history("-n", "0");
        assertEquals(2, zero.code());
        assertEquals(
                "catchbay: option --newest: 0 is no count of runs; give 1 or more\n",
                zero.errors());
    }

    @Test
    void theCommandLineIsReadInPlainWords() {
        assertEquals(
                "catchbay: Invalid value for option '--mph': 'fast' is no number, as in 12.5. See:"
                        + " catchbay catch --help\n",
                CommandLineRun.of("catch", "--mph", "fast").errors());
        assertEquals(
                "catchbay: Invalid value for option '--newest': 'all' is no whole number. See:"
                        + " catchbay history --help\n",
                CommandLineRun.of("history", "-n", "all").errors());
        assertEquals(
                "catchbay: Invalid value for option '--newest': 99999999999 is too large. See:"
                        + " catchbay history --help\n",
                CommandLineRun.of("history", "-n", "99999999999").errors());
        assertEquals(
                "catchbay: --hunts and --sweeps exclude each other; give one of them, no more. See:"
                        + " catchbay history --help\n",
                CommandLineRun.of("history", "--hunts", "--sweeps").errors());
        assertEquals(
                "catchbay: 'bay.toml' is neither a command nor an option here; name a settings file"
                        + " with --settings FILE. See: catchbay catch --help\n",
                CommandLineRun.of("catch", "bay.toml").errors());
        CommandLineRun misspelt = CommandLineRun.of("cacth");
        assertEquals(2, misspelt.code());
        assertEquals(
                "catchbay: 'cacth' is neither a command nor an option here. See: catchbay --help\n",
                misspelt.errors());
    }
}
