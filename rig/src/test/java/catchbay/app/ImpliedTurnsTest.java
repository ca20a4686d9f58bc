package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.TraceReader;
import catchbay.run.CatchResult;
import catchbay.run.Outcome;

import org.junit.jupiter.api.Test;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Traces as a person writes them: only what happened, and when. The arithmetic of each stands
 * beside it.
 */
final class ImpliedTurnsTest {

    private static final String REFERENCE =
            "\"reference\":{\"serial\":\"R-7\",\"date\":\"2025-11-03\","
                + "\"expiry\":\"2026-11-02\",\"points\":[{\"flow_us_gal_per_min\":1,\"pulses_per_us_gal\":1000},"
                + "{\"flow_us_gal_per_min\":30,\"pulses_per_us_gal\":1000}]},";

    private static final String SCALE =
            "\"scale\":{\"serial\":\"S-3\",\"date\":\"2025-11-03\","
                + "\"expiry\":\"2026-11-02\",\"unit\":\"kg\",\"resolution_kg\":0.01,\"capacity_kg\":300,"
                + "\"rest_seconds\":1},\"liquid\":{\"density_kg_per_m3\":1180},";

    private static final String DIVERTER = "\"diverter\":{\"feedback\":\"trigger\"},";

    /** 15 US gal/lane-mile on one lane at 20 mph: 5 US gal/min. */
    private static final String ASKED =
            "\"truck\":{\"asset\":\"T-12\",\"constant_pulses_per_us_gal\":600},"
                    + "\"asked\":{\"rate_us_gal_per_lane_mile\":15,\"lanes\":1,\"speed_mph\":20},";

    private static String header(String parts) {
        return "{\"catchbay_trace\":1,\"turns\":\"implied\",\"setup\":{\"bay\":{\"day\":\"2026-01-15\"},"
                + parts
                + "}}";
    }

    private static Replay.Result replay(List<String> lines) throws IOException {
        byte[] bytes = String.join("\n", lines).getBytes(StandardCharsets.UTF_8);
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(bytes), "mine.jsonl")) {
            return Replay.of(reader);
        }
    }

    private static CatchResult measured(List<String> lines) throws IOException {
        Replay.Result result = replay(lines);
        assertEquals(
                ResultText.Seal.UNSEALED,
                result.provenance().seal(),
                "written by hand, so never accepted");
        assertEquals("written", result.provenance().origin());
        return assertInstanceOf(Outcome.Measured.class, result.outcome(), result.outcome().reason())
                .result();
    }

    /**
     * Flow is cut out of a running stream by the diverter; the truck's total comes over its line
     * every half second, 5 % more than flows. Measured: 10 s of 100 pulses/s are 1000 pulses, 1 US
     * gal at 6 US gal/min. Reported: 10 s of 0.105 US gal/s are 1.05. Asked: 15 x 20 x 10 / 3600 =
     * 0.8333.
     */
    @Test
    void aRunningTotalOnAFlyingWindow() throws IOException {
        List<String> lines =
                new ArrayList<>(
                        List.of(
                                header(
                                        REFERENCE
                                                + DIVERTER
                                                + ASKED
                                                + "\"reported\":{\"source\":\"line\",\"step_us_gal\":0.01},"
                                                + "\"catch\":{\"seconds\":10,\"flow_by\":\"supply\","
                                                + "\"purge_seconds\":5}"),
                                "{\"at\":0,\"contact\":\"diverter-trigger\",\"active\":false}",
                                "{\"at\":0,\"checklist\":\"M. Example\"}",
                                "{\"at\":1000000,\"train\":\"reference\",\"first_seq\":1,\"count\":4000,\"hertz\":100}",
                                "{\"at\":11000000000,\"contact\":\"diverter-trigger\",\"active\":true}",
                                "{\"at\":21000000000,\"contact\":\"diverter-trigger\",\"active\":false}"));
        for (int i = 0; i <= 80; i++) {
            lines.add(
                    "{\"at\":"
                            + i * 500_000_000L
                            + ",\"total_us_gal\":"
                            + (400 + 0.0525 * i)
                            + "}");
        }
        CatchResult result = measured(lines);
        assertEquals(1.0, result.comparison().measured().volume().usGallons(), 1e-6);
        assertEquals(1.05, result.comparison().reported().volume().usGallons(), 1e-9);
        assertEquals(15 * 20 * 10 / 3600.0, result.comparison().asked().volume().usGallons(), 1e-9);
        assertEquals(5.0, result.comparison().meterError().percent(), 1e-4);
        assertEquals(10_000_000_000L, result.windowNanos());
    }

    /**
     * A tank on a scale and nothing else. 20 kg before, 42.302 kg after: 22.302 kg on the display
     * of a scale adjusted with 8000 kg/m3 weights in air of 1.2 kg/m3 are 22.302 x (1 - 1.2/8000) /
     * (1 - 1.2/1180) = 22.32135 kg of liquid (air buoyancy, OIML D 28), so 18.91640 L at 1180
     * kg/m3, 4.99719 US gal. The display says 5.2.
     */
    @Test
    void aStandingWindowByTheScale() throws IOException {
        List<String> lines =
                new ArrayList<>(
                        List.of(
                                header(
                                        SCALE
                                                + ASKED
                                                + "\"reported\":{\"step_us_gal\":0.01},"
                                                + "\"catch\":{\"seconds\":60,\"drip_seconds\":1,\"drain_seconds\":0}"),
                                "{\"at\":0,\"checklist\":\"M. Example\"}",
                                "{\"at\":0,\"typed_us_gal\":700.0}",
                                "{\"at\":10000000000,\"done\":\"start-flow\"}",
                                "{\"at\":70500000000,\"done\":\"stop-flow\"}",
                                "{\"at\":71000000000,\"typed_us_gal\":705.2}"));
        for (long at = 0; at <= 90_000_000_000L; at += 500_000_000) {
            double flowed = Math.clamp((at - 10e9) / 60.5e9, 0, 1);
            lines.add(
                    "{\"at\":"
                            + at
                            + ",\"scale\":\"weight\",\"amount\":"
                            + Math.round(20_000 + 22_302 * flowed) / 1000.0
                            + ",\"unit\":\"kg\"}");
        }
        CatchResult result = measured(lines);
        assertEquals(22.302, result.netReading().orElseThrow().kilograms(), 1e-9);
        assertEquals(4.99719, result.comparison().measured().volume().usGallons(), 2e-5);
        assertEquals(5.2, result.comparison().reported().volume().usGallons(), 1e-9);
        // The truck sprayed for 60.5 s, from the answer to the start to the answer to the stop.
        assertEquals(15 * 20 * 60.5 / 3600, result.comparison().asked().volume().usGallons(), 1e-9);
    }

    /** Lines are taken by their time, not by their place: a person may write kind by kind. */
    @Test
    void theOrderOfLinesDoesNotMatter() throws IOException {
        List<String> lines =
                new ArrayList<>(
                        List.of(
                                header(
                                        REFERENCE
                                                + DIVERTER
                                                + ASKED
                                                + "\"reported\":{\"source\":\"pulses\"},"
                                                + "\"catch\":{\"seconds\":15,\"flow_by\":\"supply\","
                                                + "\"purge_seconds\":5}"),
                                "{\"at\":0,\"contact\":\"diverter-trigger\",\"active\":false}",
                                "{\"at\":0,\"checklist\":\"M. Example\"}",
                                "{\"at\":1000000,\"train\":\"reference\",\"first_seq\":1,\"count\":4000,\"hertz\":100}",
                                "{\"at\":2000000,\"train\":\"truck\",\"first_seq\":1,\"count\":2600,\"hertz\":63}",
                                "{\"at\":11000000000,\"contact\":\"diverter-trigger\",\"active\":true}",
                                "{\"at\":26000000000,\"contact\":\"diverter-trigger\",\"active\":false}"));
        CatchResult inOrder = measured(lines);
        // 63 / 600 over 100 / 1000 gallons a second.
        assertEquals(5.0, inOrder.comparison().meterError().percent(), 1e-3);
        Collections.reverse(lines.subList(1, lines.size()));
        assertEquals(inOrder, measured(lines));
    }

    @Test
    void aTraceThatEndsTooEarlySaysWhereItStands() throws IOException {
        Replay.Result result =
                replay(
                        List.of(
                                header(
                                        REFERENCE
                                                + ASKED
                                                + "\"catch\":{\"seconds\":90,\"answer_limit_seconds\":86400}"),
                                "{\"at\":0,\"checklist\":\"M. Example\"}"));
        assertEquals(
                "The trace ends while waiting for the truck's display to be typed; add the lines"
                        + " that it lacks.",
                result.outcome().reason());
        assertEquals("interrupted", result.outcome().key());
    }

    @Test
    void anAnswerThatNeverFitsLeavesItsQuestionOpen() throws IOException {
        Replay.Result result =
                replay(
                        List.of(
                                header(REFERENCE + ASKED + "\"catch\":{\"seconds\":90}"),
                                "{\"at\":0,\"typed_us_gal\":112.3}",
                                "{\"at\":0,\"checklist\":\"M. Example\"}"));
        assertEquals("no_answer", result.outcome().key());
    }

    @Test
    void aTraceThatSaysNothingIsRefused() {
        String header = header(REFERENCE + ASKED + "\"catch\":{\"seconds\":90}");
        assertEquals(
                "the trace says nothing after its first line; add what happened, line by line",
                assertThrows(DocumentException.class, () -> replay(List.of(header))).getMessage());
    }

    @Test
    void aSetupThatContradictsItselfIsRefused() throws IOException {
        Replay.Result result =
                replay(
                        List.of(
                                header(
                                        REFERENCE.replace("2026-11-02", "2026-01-14")
                                                + ASKED
                                                + "\"catch\":{\"seconds\":90}"),
                                "{\"at\":0,\"checklist\":\"M. Example\"}"));
        assertEquals("refused", result.outcome().key());
        assertTrue(
                result.outcome().reason().contains("expired on 2026-01-14"),
                result.outcome().reason());
    }

    /** Bounds of a trace by hand, so that the program's heap of 64 MB holds any that is read. */
    @Test
    void aTraceThatIsTooLongIsRefused() {
        String header = header(REFERENCE + ASKED + "\"catch\":{\"seconds\":90}");
        List<String> lines =
                new ArrayList<>(
                        Collections.nCopies(
                                ImpliedTurns.LINES_MAX + 1,
                                "{\"at\":0,\"contact\":\"spill\",\"active\":false}"));
        lines.addFirst(header);
        assertEquals(
                "a trace with implied turns has at most 200000 lines; shorten it, or write trains",
                assertThrows(DocumentException.class, () -> replay(lines)).getMessage());

        StringBuilder edges =
                new StringBuilder(
                        "{\"at\":0,\"edges\":\"reference\",\"first_seq\":1,\"gaps_ns\":[1");
        edges.append(",1".repeat(4094)).append("]}");
        List<String> many =
                new ArrayList<>(
                        Collections.nCopies(ImpliedTurns.EDGES_MAX / 4096 + 1, edges.toString()));
        many.addFirst(header);
        assertEquals(
                "a trace with implied turns has at most 2000000 edges outside trains; shorten it,"
                        + " or write trains",
                assertThrows(DocumentException.class, () -> replay(many)).getMessage());
    }
}
