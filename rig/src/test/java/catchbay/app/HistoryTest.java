package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.store.DataFolder;
import catchbay.store.SqliteStore;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** What the lists of records say of what has no result. */
final class HistoryTest {

    private static final ObjectMapper JSON = new ObjectMapper();
    private static final String NAME = "20260203-235959-T-12";

    @TempDir Path data;

    private CommandLineRun history(String... more) {
        List<String> words = new ArrayList<>(List.of("history", "--data", data.toString()));
        words.addAll(List.of(more));
        return CommandLineRun.of(words.toArray(String[]::new));
    }

    private void file(String kind, String ending, String text) throws IOException {
        Path folder = Files.createDirectories(data.resolve(kind));
        Files.writeString(folder.resolve(NAME + ending), text);
    }

    private void namedAsTheLastObject(CommandLineRun run, String reason) throws IOException {
        List<String> lines = run.output().lines().toList();
        JsonNode list = JSON.readTree(lines.getLast()).get("without_result");
        assertEquals(1, list.size(), run.output());
        assertEquals(NAME, list.get(0).get("name").asText());
        assertTrue(list.get(0).get("reason").asText().startsWith(reason), run.output());
        assertTrue(run.errors().contains(NAME), run.errors());
    }

    @ParameterizedTest
    @CsvSource({
        "scale-tests, '', damaged",
        "scale-tests, '{\"begun\":true}\n', interrupted",
        "self-tests, '{\"ended\":\"A person.\"}\n', no result: A person.",
        "checkups, '{\"catch', damaged",
        "hunts, '{\"ended\":\"A person.\",\"found\":false}\n', no result: A person.",
    })
    void asJsonTheyNameWhatHasNone(String kind, String text, String reason) throws IOException {
        file(kind, ".jsonl", text.replace("\\n", "\n"));
        namedAsTheLastObject(history("--" + kind, "--json"), reason);
    }

    @Test
    void whereAllHaveAResultNothingIsAdded() {
        for (String kind : List.of("scale-tests", "self-tests", "checkups", "hunts", "sweeps")) {
            assertEquals("", history("--" + kind, "--json").output(), kind);
        }
    }

    @Test
    void aRunWithoutARecordIsNamedToo() throws Exception {
        SqliteStore.open(DataFolder.records(data)).close();
        file("traces", ".interrupted.jsonl", "");
        namedAsTheLastObject(history("--json"), "interrupted");
    }

    @Test
    void anInterruptedSweepHasTheDayOnWhichItBegan() throws IOException {
        file(
                "sweeps",
                ".jsonl",
                """
                {"catchbay_sweep":1,"sweep":"%s","bay":"Bay","asset":"T-12",\
                "wall":"2026-02-03T23:59:59Z","origin":"simulated","constant":3000.0,"plan":""}
                {"catch":1,"emptied":false,"run":"R-1"}
                """
                        .formatted(NAME));
        String row = history("--sweeps").output().lines().toList().getLast();
        assertTrue(row.contains("2026-02-03") && row.contains("open or cut off"), row);
        namedAsTheLastObject(history("--sweeps", "--json"), "interrupted");
    }

    @Test
    void aConstantIsListedAsThePageWritesIt() throws IOException {
        file(
                "sweeps",
                ".jsonl",
                """
                {"catchbay_sweep":1,"sweep":"%s","asset":"T-12","plan":""}
                {"entered":"A. Tester","constant":3099.1,"wall":"2026-02-03T23:59:59Z","records":3}
                """
                        .formatted(NAME));
        String row = history("--sweeps").output().lines().toList().getLast();
        assertTrue(row.contains(" 3099.1 "), row);
    }

    /** An event that cannot be read may have been that of a new constant. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "no sweep\n",
                "{\"catchbay_sweep\":1,\"sweep\":\"A\",\"asset\":\"T-12\",\"plan\":\"\"}\n"
                        + "{\"ent\n"
                        + "{}\n",
                "{}\n",
                "{\"catchbay_sw",
                "\0\0",
                ""
            })
    void aDamagedSweepIsListedAndAFailure(String text) throws IOException {
        file("sweeps", ".jsonl", text);
        CommandLineRun listed = history("--sweeps");
        assertEquals(Exit.FAILED, listed.code());
        assertEquals(
                LeftOut.row(NAME, "damaged: not to be read; restore from a copy"),
                listed.output().strip());
        namedAsTheLastObject(history("--sweeps", "--json"), "damaged");
    }
}
