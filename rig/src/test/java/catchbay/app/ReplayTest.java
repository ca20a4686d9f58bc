package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.TraceArchive;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceText;
import catchbay.run.BayComputer;
import catchbay.run.CatchResult;
import catchbay.run.Outcome;
import catchbay.run.RunMachine;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;

/** A recorded trace comes to the same states, commands and result again, or is not accepted. */
final class ReplayTest {

    private static final String METHOD = "\"method\":" + RunMachine.METHOD_VERSION;

    /** The sealed trace of a short catch, as the program wrote it. */
    private static byte[] sealed;

    @BeforeAll
    static void recordOnce(@TempDir Path folder) throws Exception {
        new PlayedBay().sealed(folder, "run-1", PlayedBay.setup());
        sealed = Files.readAllBytes(folder.resolve("run-1.jsonl"));
    }

    private static Replay.Result replay(byte[] trace) throws IOException {
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "run-1.jsonl")) {
            return Replay.of(reader);
        }
    }

    private static boolean accepted(byte[] trace) throws IOException {
        try {
            Replay.Result result = replay(trace);
            String json = ResultText.of(result.provenance(), result.setup(), result.outcome());
            return json.contains("\"accepted\":true");
        } catch (DocumentException refused) {
            return false;
        }
    }

    private static List<String> lines() {
        return new ArrayList<>(new String(sealed, StandardCharsets.UTF_8).lines().toList());
    }

    /** The lines with a closing line whose count and hash are right. */
    private static byte[] resealed(List<String> lines, String end, String reason, long at)
            throws Exception {
        byte[] body = (String.join("\n", lines) + "\n").getBytes(StandardCharsets.UTF_8);
        String sha256 = HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(body));
        TraceText closing = new TraceText();
        closing.closing(new TraceLine.Closing(at, end, reason, lines.size(), sha256));
        byte[] whole = Arrays.copyOf(body, body.length + closing.length());
        System.arraycopy(closing.bytes(), 0, whole, body.length, closing.length());
        return whole;
    }

    private static byte[] resealed(List<String> lines) throws Exception {
        List<String> body = lines.subList(0, lines.size() - 1);
        long at = Long.parseLong(lines.getLast().replaceAll("\\{\"at\":(\\d+),.*", "$1"));
        return resealed(body, "measured", "The catch was measured and compared.", at);
    }

    private static void assertDamaged(String part, byte[] trace) throws IOException {
        Replay.Result result = replay(trace);
        assertEquals(ResultText.Seal.DAMAGED, result.provenance().seal());
        Outcome.Refused refused = assertInstanceOf(Outcome.Refused.class, result.outcome());
        assertTrue(refused.reason().contains(part), refused.reason());
        assertTrue(refused.reason().endsWith("."), refused.reason());
        assertFalse(accepted(trace));
    }

    @Test
    void aRecordedTraceGivesTheRunsOwnResult() throws Exception {
        PlayedBay bay = new PlayedBay();
        Outcome live =
                new RunLoop(bay.ports(), new PlayedBay.MemoryTrace(), (state, now) -> {})
                        .run(PlayedBay.setup());
        Replay.Result again = replay(sealed);
        assertEquals(live, again.outcome());
        assertEquals(PlayedBay.setup(), again.setup());
        assertEquals(ResultText.Seal.SEALED, again.provenance().seal());
        assertTrue(accepted(sealed));
        assertTrue(accepted(resealed(lines())), "and sealing it anew changes nothing");
    }

    @Test
    void aTraceCutAtAnyByteIsNeverAccepted() throws Exception {
        for (int length = 0; length < sealed.length; length++) {
            assertFalse(accepted(Arrays.copyOf(sealed, length)), "cut after " + length + " bytes");
        }
    }

    @Test
    void aCompressedTraceCutAtAnyByteIsNeverAccepted() throws Exception {
        ByteArrayOutputStream compressed = new ByteArrayOutputStream();
        TraceArchive.compress(new ByteArrayInputStream(sealed), compressed);
        byte[] whole = compressed.toByteArray();
        assertTrue(accepted(whole));
        for (int length = 0; length < whole.length; length++) {
            assertFalse(accepted(Arrays.copyOf(whole, length)), "cut after " + length + " bytes");
        }
    }

    @Test
    void aTraceWithAnyOneByteChangedIsNeverAccepted() throws Exception {
        byte[] changed = sealed.clone();
        for (int i = 0; i < sealed.length; i++) {
            // The lowest bit makes another digit of a digit and another letter of a letter; the
            // next makes a line
            // feed of a sign that ends a key, and the fifth changes the case of a letter.
            for (int bit : new int[] {0, 1, 5}) {
                changed[i] = (byte) (sealed[i] ^ 1 << bit);
                assertFalse(accepted(changed), "bit " + bit + " of byte " + i);
            }
            changed[i] = sealed[i];
        }
        assertTrue(accepted(changed), "and unchanged it still is");
    }

    @Test
    void whatComesBehindTheEndIsNotAccepted() throws Exception {
        for (String more : List.of("\n", " ", "{\"at\":99000000000,\"turn\":1}\n", "x")) {
            byte[] extra = more.getBytes(StandardCharsets.UTF_8);
            byte[] longer = Arrays.copyOf(sealed, sealed.length + extra.length);
            System.arraycopy(extra, 0, longer, sealed.length, extra.length);
            assertFalse(accepted(longer), more);
        }
    }

    @Test
    void anAlteredStateIsDamage() throws Exception {
        List<String> lines = lines();
        int at = lines.indexOf("{\"at\":10100000000,\"state\":\"resting\"}");
        lines.set(at, "{\"at\":10100000000,\"state\":\"catching\"}");
        assertDamaged(
                "line "
                        + (at + 1)
                        + " tells {\"at\":10100000000,\"state\":\"catching\"}, but the run comes to"
                        + " {\"at\":10100000000,\"state\":\"resting\"}",
                resealed(lines));
    }

    @Test
    void aStateThatIsMissingIsDamage() throws Exception {
        List<String> lines = lines();
        lines.remove("{\"at\":10100000000,\"state\":\"resting\"}");
        assertDamaged(
                "the run comes to {\"at\":10100000000,\"state\":\"resting\"}, which the trace does"
                        + " not have",
                resealed(lines));
    }

    @Test
    void commandsInAnotherOrderAreDamage() throws Exception {
        List<String> lines = lines();
        String drain = "{\"at\":10000000000,\"command\":\"drain\",\"open\":false}";
        int at = lines.indexOf(drain);
        lines.set(at, lines.get(at + 1));
        lines.set(at + 1, drain);
        assertDamaged(
                "\"command\":\"supply\",\"on\":false}, but the run comes to " + drain,
                resealed(lines));
    }

    @Test
    void aCommandTooManyIsDamage() throws Exception {
        List<String> lines = lines();
        String drain = "{\"at\":10000000000,\"command\":\"drain\",\"open\":false}";
        lines.add(
                lines.indexOf("{\"at\":10000000000,\"command\":\"ask\",\"question\":\"checklist\"}")
                        + 1,
                drain);
        assertDamaged("tells " + drain + ", but the run comes to nothing more", resealed(lines));
    }

    @Test
    void anInputTooManyAfterTheEndIsDamage() throws Exception {
        List<String> lines = lines();
        lines.add(lines.size() - 1, "{\"at\":99000000000,\"turn\":1}");
        assertDamaged("line " + (lines.size() - 1) + " comes after the run's end", resealed(lines));
    }

    @Test
    void anAlteredReadingChangesTheResultAndItsStates() throws Exception {
        List<String> lines = lines();
        int last =
                lines.lastIndexOf(
                        lines.stream()
                                .filter(line -> line.contains("\"scale\""))
                                .reduce("", (earlier, later) -> later));
        lines.set(last, lines.get(last).replaceAll("\"amount\":[0-9.]+", "\"amount\":25.0"));
        assertDamaged("does not replay as it was recorded", resealed(lines));
    }

    @Test
    void aClosingLineThatContradictsItsRunIsDamage() throws Exception {
        List<String> body = lines().subList(0, lines().size() - 1);
        String reason = "The catch was measured and compared.";
        long at = Long.parseLong(lines().getLast().replaceAll("\\{\"at\":(\\d+),.*", "$1"));
        assertTrue(accepted(resealed(body, "measured", reason, at)));
        assertDamaged(
                "it comes to 'measured', though the closing line says 'stopped'",
                resealed(body, "stopped", reason, at));
        assertDamaged(
                "it ends with the reason '" + reason + "', though the closing line says 'Done.'",
                resealed(body, "measured", "Done.", at));
        assertDamaged(
                "it ends at " + at + " ns, though the closing line says 5",
                resealed(body, "measured", reason, 5));
        assertDamaged(
                "its run had not come to an end, though the closing line says 'measured'",
                resealed(body.subList(0, 40), "measured", reason, at));
    }

    @Test
    void aTraceThatBreaksOffIsInterrupted() throws Exception {
        List<String> lines = lines();
        byte[] cut =
                (String.join("\n", lines.subList(0, 30)) + "\n").getBytes(StandardCharsets.UTF_8);
        Outcome.Interrupted interrupted =
                assertInstanceOf(Outcome.Interrupted.class, replay(cut).outcome());
        assertEquals(
                "run-1.jsonl has no closing line: its run was not ended, or it was written by hand."
                        + " It breaks off while catching for 2 s, and does not count.",
                interrupted.reason());
        byte[] unclosed =
                (String.join("\n", lines.subList(0, lines.size() - 1)) + "\n")
                        .getBytes(StandardCharsets.UTF_8);
        assertEquals(
                "run-1.jsonl has no closing line: its run was not ended, or it was written by hand."
                    + " Its run had come to its end, but without a closing line that is whole it"
                    + " does not count.",
                replay(unclosed).outcome().reason());
    }

    @Test
    void aNewerMethodIsRefused() throws Exception {
        List<String> lines = lines();
        lines.set(
                0,
                lines.getFirst().replace(METHOD, "\"method\":" + (RunMachine.METHOD_VERSION + 1)));
        byte[] newer = resealed(lines);
        assertEquals(
                "the trace was made under method version "
                        + (RunMachine.METHOD_VERSION + 1)
                        + ", and this program knows up to "
                        + RunMachine.METHOD_VERSION
                        + "; replay it with the newer program that made it",
                assertThrows(DocumentException.class, () -> replay(newer)).getMessage());
    }

    /** Under an earlier method it is not held to what that method told of states and commands. */
    @Test
    void anEarlierMethodShowsBothResults() throws Exception {
        List<String> lines = lines();
        lines.set(0, lines.getFirst().replace(METHOD, "\"method\":1"));
        lines.removeIf(line -> line.contains("\"state\":\"catching\""));
        Replay.Result earlier = replay(resealed(lines));
        CatchResult today = ((Outcome.Measured) replay(sealed).outcome()).result();
        assertTrue(today.verdict().isPresent());
        // Nobody had said then by what the truck was to be judged.
        assertEquals(new Outcome.Measured(today.withoutVerdict()), earlier.outcome());
        ResultText.Recorded recorded = earlier.provenance().recorded().orElseThrow();
        assertEquals(1, recorded.methodVersion());
        assertEquals("measured", recorded.end());
        assertTrue(recorded.changes().contains("budget"), recorded.changes());
        ByteArrayOutputStream shown = new ByteArrayOutputStream();
        Words.print(
                new PrintStream(shown, true, StandardCharsets.UTF_8),
                earlier.provenance(),
                earlier.setup(),
                earlier.outcome());
        String page = shown.toString(StandardCharsets.UTF_8);
        assertTrue(page.contains("Recorded under method version 1 as 'measured'"), page);
        String json = ResultText.of(earlier.provenance(), earlier.setup(), earlier.outcome());
        assertTrue(json.contains("\"recorded\":{\"method_version\":1,"), json);
    }

    @Test
    void anIdleTurnMoreChangesNoResult() throws Exception {
        List<String> lines = lines();
        lines.add(12, "{\"at\":10150000000,\"turn\":1}");
        Replay.Result again = replay(resealed(lines));
        assertEquals(replay(sealed).outcome(), again.outcome());
    }

    /** Told beside the result, wherever in the trace it stands, and never part of it. */
    @Test
    void whatTheComputerSaysOfItselfChangesNoResult() throws Exception {
        List<String> lines = lines();
        lines.add(1, "{\"at\":1,\"computer\":{\"clock_doubts\":[],\"free_bytes\":5000}}");
        lines.add(14, "{\"at\":2,\"computer\":{\"power_flags\":65537}}");
        lines.add(
                lines.size() - 1,
                "{\"at\":3,\"computer\":{\"power_flags\":65536,\"clock_doubts\":[\"stepped\"],"
                        + "\"free_bytes\":4000}}");
        Replay.Result again = replay(resealed(lines));
        assertEquals(replay(sealed).outcome(), again.outcome());
        BayComputer told = again.provenance().computer();
        assertEquals(OptionalInt.of(65537), told.powerFlags());
        assertEquals(Optional.of(false), told.clockTrusted());
        assertEquals(OptionalLong.of(4000), told.freeBytes());
        String json = ResultText.of(again.provenance(), again.setup(), again.outcome());
        assertTrue(
                json.contains(
                        "\"bay_computer\":{\"power_flags\":65537,\"clock_trusted\":false,"
                            + "\"clock_doubts\":[\"stepped\"],\"free_bytes_least\":4000,\"notes\":[\"The"
                            + " bay's computer was short of voltage during this run;"),
                json);
        assertTrue(json.contains("it leapt while the program ran"), json);
        Replay.Result silent = replay(sealed);
        assertFalse(
                ResultText.of(silent.provenance(), silent.setup(), silent.outcome())
                        .contains("bay_computer"));
        ByteArrayOutputStream shown = new ByteArrayOutputStream();
        Words.print(
                new PrintStream(shown, true, StandardCharsets.UTF_8),
                again.provenance(),
                again.setup(),
                again.outcome());
        String page = shown.toString(StandardCharsets.UTF_8);
        assertTrue(page.contains("short of voltage"), page);
        assertTrue(page.contains("is not to be trusted"), page);
    }
}
