package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand;
import catchbay.run.RunInput;
import catchbay.seeded.Seeds;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

final class TraceTextTest {

    /** A header written by hand, as short as it may be. */
    private static final String HEADER =
            """
            {"catchbay_trace":1,"turns":"implied","setup":{"bay":{"day":"2026-01-15"},\
            "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[\
            {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},{"flow_us_gal_per_min":30,"pulses_per_us_gal":1000}]},\
            "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},\
            "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},"catch":{"seconds":90}}}
            """;

    private static byte[] bytes(List<TraceLine> lines) {
        TraceText text = new TraceText();
        lines.forEach(text::line);
        return Arrays.copyOf(text.bytes(), text.length());
    }

    private static byte[] sealed(List<TraceLine> lines) {
        TraceDigest digest = new TraceDigest();
        byte[] before = bytes(lines);
        digest.take(before, 0, before.length);
        List<TraceLine> all = new ArrayList<>(lines);
        all.add(digest.closing(99, "measured", "The catch was measured and compared."));
        return bytes(all);
    }

    /** All lines of a trace, header first, and what is said of it at the end. */
    private record Read(List<TraceLine> lines, TraceSeal seal) {}

    private static Read read(byte[] trace) throws IOException {
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "trace")) {
            List<TraceLine> lines = new ArrayList<>();
            lines.add(reader.header());
            for (Optional<TraceLine> line = reader.next(); line.isPresent(); line = reader.next()) {
                lines.add(line.get());
            }
            return new Read(lines, reader.seal());
        }
    }

    private static Read read(String trace) throws IOException {
        return read(trace.getBytes(StandardCharsets.UTF_8));
    }

    private static TraceLine line(String line) throws IOException {
        return read(HEADER + line + "\n").lines().getLast();
    }

    private static RunInput input(String line) throws IOException {
        return assertInstanceOf(TraceLine.Input.class, line(line)).input();
    }

    @Test
    void everyLineReadsBackEqual() {
        Seeds.forSeeds(
                500,
                random -> {
                    List<TraceLine> lines = new SampleLines(random).trace(60);
                    Read read = read(sealed(lines));

                    assertEquals(lines, read.lines().subList(0, lines.size()));
                    assertInstanceOf(TraceSeal.Sealed.class, read.seal());
                });
    }

    @Test
    void aSealedTraceIsItsTextCountedAndHashed() throws Exception {
        byte[] trace = sealed(new SampleLines(Seeds.generator(1)).trace(20));
        String text = new String(trace, StandardCharsets.UTF_8);
        int closing = text.lastIndexOf("\n{", text.length() - 2) + 1;
        byte[] before = text.substring(0, closing).getBytes(StandardCharsets.UTF_8);

        // Computed here anew by the JDK's own SHA-256, as a person would with sha256sum.
        String hash = HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(before));
        assertEquals(
                "{\"at\":99,\"end\":\"measured\",\"reason\":\"The catch was measured and "
                        + "compared.\",\"lines\":20,"
                        + "\"sha256\":\""
                        + hash
                        + "\"}\n",
                text.substring(closing));
        TraceSeal.Sealed seal = assertInstanceOf(TraceSeal.Sealed.class, read(trace).seal());
        assertEquals(
                HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(trace)),
                seal.sha256());
    }

    @Test
    void truncatedAtAnyByteItIsNeverSealed() throws IOException {
        byte[] trace = sealed(new SampleLines(Seeds.generator(2)).trace(25));
        int refused = 0;
        int unsealed = 0;
        for (int length = 0; length < trace.length; length++) {
            try {
                assertInstanceOf(
                        TraceSeal.Unsealed.class, read(Arrays.copyOf(trace, length)).seal());
                unsealed++;
            } catch (DocumentException sentence) {
                assertTrue(sentence.getMessage().startsWith("trace "), sentence.getMessage());
                refused++;
            }
        }
        // Cut at the end of a line, with or without its line feed, there is nothing to refuse: but
        // no seal either.
        assertEquals(trace.length, refused + unsealed);
        assertEquals(2 * 25 + 1, unsealed);
    }

    @Test
    void aTraceInWhichAnyByteChangedIsNeverSealed() {
        byte[] trace = sealed(new SampleLines(Seeds.generator(3)).trace(10));
        Seeds.forSeeds(
                4_000,
                random -> {
                    byte[] changed = trace.clone();
                    int at = random.nextInt(changed.length);
                    changed[at] ^= (byte) (1 << random.nextInt(8));
                    try {
                        TraceSeal seal = read(changed).seal();
                        // The closing line's own stamp and words are not hashed by itself; all
                        // before it is.
                        boolean inClosing =
                                at
                                        > new String(trace, StandardCharsets.ISO_8859_1)
                                                        .indexOf("\"end\":\"")
                                                - 30;
                        assertTrue(
                                inClosing || !(seal instanceof TraceSeal.Sealed),
                                "changed at " + at);
                    } catch (DocumentException refused) {
                        assertTrue(refused.getMessage().startsWith("trace"), refused.getMessage());
                    }
                });
    }

    @Test
    void noMutationMakesAnythingButARefusal() {
        List<byte[]> traces = new ArrayList<>();
        Seeds.forSeeds(50, random -> traces.add(sealed(new SampleLines(random).trace(6))));
        Seeds.forSeeds(
                5_000,
                random -> {
                    byte[] trace = traces.get(random.nextInt(traces.size()));
                    for (int i = 1 + random.nextInt(4); i > 0; i--) {
                        trace = mutated(trace, random);
                    }
                    try {
                        read(trace);
                    } catch (DocumentException refused) {
                        assertTrue(refused.getMessage().startsWith("trace"), refused.getMessage());
                        assertTrue(
                                refused.getMessage().length() < 6_000, () -> refused.getMessage());
                    }
                });
    }

    private static byte[] mutated(byte[] trace, RandomGenerator random) {
        String[] pieces = {
            "\"",
            "{",
            "}",
            "[",
            "]",
            ",",
            ":",
            "\n",
            "null",
            "-1",
            "1e999",
            "0.5",
            "9223372036854775808",
            "\\u0000",
            "true",
            "NaN",
            "\"at\":1,",
            "{}",
            "[[[[[[[[[[[[[[[[[[[[[[",
            "00",
            "\u00FF",
            "\r"
        };
        int at = trace.length == 0 ? 0 : random.nextInt(trace.length);
        int cut = random.nextBoolean() ? 0 : Math.min(trace.length - at, random.nextInt(30));
        byte[] piece =
                random.nextInt(3) == 0
                        ? new byte[] {(byte) random.nextInt()}
                        : pieces[random.nextInt(pieces.length)].getBytes(
                                StandardCharsets.ISO_8859_1);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(trace, 0, at);
        out.writeBytes(piece);
        out.write(trace, at + cut, trace.length - at - cut);
        return out.toByteArray();
    }

    /** The short way of reading frequent lines says the same as the long way, or nothing. */
    @Test
    void frequentLinesAreReadAlikeInBothWays() {
        FrequentLine frequent = new FrequentLine();
        int[] short_ = new int[1];
        Seeds.forSeeds(
                20_000,
                random -> {
                    RunInput input = new SampleLines(random).input();
                    byte[] line = bytes(List.of(new TraceLine.Input(input)));
                    line = Arrays.copyOf(line, line.length - 1);
                    if (random.nextInt(3) > 0) {
                        line = mutated(line, random);
                    }
                    Optional<RunInput> read = frequent.read(line, 0, line.length);
                    if (read.isPresent()) {
                        short_[0]++;
                        assertEquals(
                                new TraceLine.Input(read.get()),
                                LineText.line(
                                        Json.read(line, 0, line.length, "line"),
                                        "line",
                                        TraceLine.Turns.RECORDED));
                    } else if (input instanceof RunInput.Turn(long at)
                            && at < 1_000_000_000_000_000_000L) {
                        assertTrue(
                                !Arrays.equals(
                                        line,
                                        ("{\"at\":" + at + ",\"turn\":1}")
                                                .getBytes(StandardCharsets.UTF_8)));
                    }
                });
        assertTrue(short_[0] > 300, "turns and edges were really read the short way: " + short_[0]);
    }

    @Test
    void aBatchTooLongForALineBecomesSeveral() throws IOException {
        long[] stamps = new long[2 * TraceText.LINE_EDGES_MAX + 5];
        for (int i = 0; i < stamps.length; i++) {
            // The widest gaps there are, in both directions.
            stamps[i] = i % 2 == 0 ? 0 : TraceLine.STAMP_NANOS_MAX;
        }
        TraceText text = new TraceText();
        text.input(new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(7, stamps)));
        String lines = new String(text.bytes(), 0, text.length(), StandardCharsets.UTF_8);
        List<TraceLine> read = read(HEADER + lines).lines();

        assertEquals(4, read.size());
        long sequence = 7;
        int edges = 0;
        for (TraceLine line : read.subList(1, 4)) {
            EdgeBatch batch = ((RunInput.Edges) ((TraceLine.Input) line).input()).batch();
            assertEquals(sequence, batch.firstSequence());
            for (int i = 0; i < batch.size(); i++) {
                assertEquals(stamps[edges++], batch.stampNanos(i));
            }
            sequence = batch.lastSequence() + 1;
        }
        assertEquals(stamps.length, edges);
    }

    @Test
    void edgesAreWrittenAsTheFormatSays() {
        TraceText text = new TraceText();
        text.input(
                new RunInput.Edges(PulseLine.REFERENCE, EdgeBatch.of(12, 1000, 3000, 2500, 2500)));
        text.command(5, new BayCommand.Divert(BayCommand.Way.TANK));
        assertEquals(
                "{\"at\":1000,\"edges\":\"reference\",\"first_seq\":12,\"gaps_ns\":[2000,-500,0]}\n"
                        + "{\"at\":5,\"command\":\"divert\",\"way\":\"tank\"}\n",
                new String(text.bytes(), 0, text.length(), StandardCharsets.UTF_8));
        text.clear();
        assertEquals(0, text.length());
    }

    /** A line whose name begins as another's does is read as itself, and as fast. */
    @Test
    void edgesOfEveryLineAreReadAsFrequentOnes() {
        for (PulseLine line : PulseLine.values()) {
            RunInput edges = new RunInput.Edges(line, EdgeBatch.of(12, 1000, 3000));
            TraceText text = new TraceText();
            text.input(edges);
            assertEquals(
                    Optional.of(edges),
                    new FrequentLine().read(text.bytes(), 0, text.length() - 1),
                    line.key());
        }
    }

    @Test
    void aTextThatNoLineHoldsIsABugOfItsDoor() {
        TraceText text = new TraceText();
        assertThrows(
                IllegalArgumentException.class,
                () ->
                        text.input(
                                new RunInput.StopPressed(1, "x".repeat(TraceText.LINE_BYTES_MAX))));
        assertEquals(0, text.length(), "and no part of it is left");
    }

    // What a person may write
    // -----------------------------------------------------------------------------------------------------------

    @Test
    void unitsAndKeyOrderAreFreeInALineByHand() throws IOException {
        assertEquals(
                new RunInput.ControllerTotal(5, Volume.ofUsGallons(2.5)),
                input("{ \"total_us_gal\": 2.5, \"at\": 5 }"));
        assertEquals(
                new RunInput.TotalTyped(
                        5, Volume.of(2, catchbay.quantity.VolumeUnit.IMPERIAL_GALLON)),
                input("{\"at\":5,\"typed_imperial_gal\":2}"));
        assertEquals(
                new RunInput.SaltTyped(5, Mass.of(0.5, catchbay.quantity.MassUnit.SHORT_TON)),
                input("{\"at\":5,\"typed_salt_tons\":0.5}"));
        assertEquals(
                new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(9, 5)),
                input("{\"seq\":9,\"edge\":\"truck\",\"at\":5}"));
        assertEquals(
                new RunInput.Edges(PulseLine.TRUCK, EdgeBatch.of(9, 5, 8)),
                input("{\"gaps_ns\":[3],\"first_seq\":9,\"edges\":\"truck\",\"at\":5}"));
        assertEquals(new RunInput.Turn(5), input("{\"turn\":1,\"at\":5}\r"));
    }

    @Test
    void aTrainIsEvenlySpaced() throws IOException {
        TraceLine.Train train =
                assertInstanceOf(
                        TraceLine.Train.class,
                        line(
                                "{\"at\":1000,\"train\":\"reference\","
                                        + "\"first_seq\":3,\"count\":1251,\"hertz\":125.05}"));
        // 1/125.05 s = 7 996 801.279… ns; the 1250th period ends 9.996 001 599… s after the first
        // edge.
        assertEquals(1000, train.stampNanos(0));
        assertEquals(1000 + 7_996_801, train.stampNanos(1));
        assertEquals(1000 + 9_996_001_599L, train.stampNanos(1250));
        assertEquals(EdgeBatch.of(5, 1000 + 15_993_603, 1000 + 23_990_404), train.part(2, 2));

        TraceLine.Train period =
                assertInstanceOf(
                        TraceLine.Train.class,
                        line(
                                "{\"at\":7,\"train\":\"truck\",\"first_seq\":0,\"count\":3,\"period_ns\":20}"));
        assertEquals(EdgeBatch.of(0, 7, 27, 47), period.part(0, 3));
        assertEquals(
                period,
                read(HEADER + new String(bytes(List.of(period)), StandardCharsets.UTF_8))
                        .lines()
                        .get(1));
        assertEquals(
                train,
                read(HEADER + new String(bytes(List.of(train)), StandardCharsets.UTF_8))
                        .lines()
                        .get(1));
    }

    @Test
    void aTraceByHandIsReadAndUnsealed() throws IOException {
        Read read = read(HEADER + "{\"at\":1,\"turn\":1}");
        assertEquals(2, read.lines().size());
        TraceSeal.Unsealed seal = assertInstanceOf(TraceSeal.Unsealed.class, read.seal());
        assertEquals(
                "trace has no closing line: its run was not ended, or it was written by hand",
                seal.reason());
        TraceLine.Header header = assertInstanceOf(TraceLine.Header.class, read.lines().getFirst());
        assertEquals(TraceLine.Origin.WRITTEN, header.origin());
        assertEquals(TraceLine.Turns.IMPLIED, header.turns());
    }

    @Test
    void evenWithARightHashATraceWithImpliedTurnsIsUnsealed() throws IOException {
        byte[] text =
                (HEADER + "{\"at\":1,\"checklist\":\"M\"}\n").getBytes(StandardCharsets.UTF_8);
        TraceDigest digest = new TraceDigest();
        digest.take(text, 0, text.length);
        String closing =
                new String(
                        bytes(List.of(digest.closing(2, "measured", ""))), StandardCharsets.UTF_8);

        assertInstanceOf(
                TraceSeal.Unsealed.class,
                read(new String(text, StandardCharsets.UTF_8) + closing).seal());
    }

    @Test
    void aMiscountIsDamage() throws IOException {
        List<TraceLine> lines = new SampleLines(Seeds.generator(4)).trace(5);
        String trace = new String(sealed(lines), StandardCharsets.UTF_8);

        TraceSeal.Damaged count =
                assertInstanceOf(
                        TraceSeal.Damaged.class,
                        read(trace.replace("\"lines\":5", "\"lines\":6")).seal());
        assertEquals(
                "trace has 5 lines before its closing line, which counts 6; restore it from a copy",
                count.reason());
        TraceSeal.Damaged hash =
                assertInstanceOf(
                        TraceSeal.Damaged.class,
                        read(trace.replaceFirst("\"program\":\"0.1.0\"", "\"program\":\"0.1.1\""))
                                .seal());
        assertTrue(hash.reason().startsWith("trace has SHA-256 "), hash.reason());
    }

    @Test
    void compressedTracesAreReadAlike() throws IOException {
        byte[] trace = sealed(new SampleLines(Seeds.generator(5)).trace(200));
        ByteArrayOutputStream compressed = new ByteArrayOutputStream();
        String sha256 = TraceArchive.compress(new ByteArrayInputStream(trace), compressed);

        assertEquals(read(trace), read(compressed.toByteArray()));
        assertEquals(sha256, assertInstanceOf(TraceSeal.Sealed.class, read(trace).seal()).sha256());
        assertEquals(
                sha256, TraceArchive.sha256(new ByteArrayInputStream(compressed.toByteArray())));
        assertEquals(sha256, TraceArchive.sha256(new ByteArrayInputStream(trace)));
        for (int length = 0; length < compressed.size(); length += 7) {
            byte[] cut = Arrays.copyOf(compressed.toByteArray(), length);
            assertThrows(DocumentException.class, () -> read(cut));
        }
    }

    @ParameterizedTest
    @CsvFileSource(
            resources = "/catchbay/record/bad-lines.txt",
            delimiter = '|',
            quoteCharacter = '`')
    void aBadLineIsRefusedByItsNumber(String line, String sentence) {
        DocumentException refused =
                assertThrows(
                        DocumentException.class,
                        () -> read(HEADER + "{\"at\":0,\"turn\":1}\n" + line + "\n"));
        assertTrue(
                refused.getMessage()
                        .startsWith(
                                "trace line 3" + (sentence.startsWith(":") ? "" : " ") + sentence),
                refused.getMessage());
    }

    @ParameterizedTest
    @CsvFileSource(
            resources = "/catchbay/record/bad-headers.txt",
            delimiter = '|',
            quoteCharacter = '`')
    void aBadHeaderIsRefusedAsLineOne(String part, String instead, String sentence) {
        assertTrue(HEADER.contains(part), part);
        String header = HEADER.replace(part, instead == null ? "" : instead);
        DocumentException refused = assertThrows(DocumentException.class, () -> read(header));
        assertTrue(
                refused.getMessage().startsWith("trace line 1" + sentence), refused.getMessage());
    }

    @Test
    void whatIsNoTraceAtAllIsRefused() {
        assertEquals(
                "trace is empty; a trace begins with a line that has catchbay_trace and setup",
                assertThrows(DocumentException.class, () -> read("")).getMessage());
        assertEquals(
                "trace line 1 is empty; delete it",
                assertThrows(DocumentException.class, () -> read("\n")).getMessage());
        assertEquals(
                "trace line 2 breaks off before its end; delete it to evaluate what came before",
                assertThrows(DocumentException.class, () -> read(HEADER + "{\"at\":1,\"tu"))
                        .getMessage());
        assertEquals(
                "trace line 2 is longer than 131072 bytes; split its edges over several lines",
                assertThrows(DocumentException.class, () -> read(HEADER + " ".repeat(200_000)))
                        .getMessage());
    }

    @Test
    void nothingMayFollowTheClosingLine() {
        String trace =
                new String(
                        sealed(new SampleLines(Seeds.generator(6)).trace(3)),
                        StandardCharsets.UTF_8);
        assertEquals(
                "trace line 5 comes after the closing line; delete it",
                assertThrows(DocumentException.class, () -> read(trace + "{\"at\":1,\"turn\":1}\n"))
                        .getMessage());
    }

    @Test
    void theSealIsNotKnownBeforeTheEnd() throws IOException {
        byte[] trace = sealed(new SampleLines(Seeds.generator(7)).trace(3));
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(trace), "trace")) {
            assertThrows(IllegalStateException.class, reader::seal);
        }
    }
}
