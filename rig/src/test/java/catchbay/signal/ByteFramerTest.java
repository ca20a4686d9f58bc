package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Supplier;

class ByteFramerTest {

    private static final String GOOD = "\n 1G      1234.5lb_\r";
    private static final String OTHER = "\n 1G       999.0lb_\r";

    private static List<Supplier<ByteFramer>> framers() {
        return List.of(() -> ByteFramer.lineFeedToReturn(20), () -> ByteFramer.lines(20));
    }

    /**
     * However a stream is cut into pieces, frames and counts are the same; garbage, stubs and long
     * runs included.
     */
    @ParameterizedTest
    @MethodSource("framers")
    void everySplitGivesTheSameFrames(Supplier<ByteFramer> framers) {
        for (int seed = 0; seed < 300; seed++) {
            byte[] stream = stream(new SplittableRandom(seed));
            ByteFramer whole = framers.get();
            List<String> expected = take(whole, stream);
            for (int cut = 0; cut <= stream.length; cut++) {
                ByteFramer framer = framers.get();
                List<String> frames = take(framer, Arrays.copyOfRange(stream, 0, cut));
                frames.addAll(take(framer, Arrays.copyOfRange(stream, cut, stream.length)));
                assertEquals(expected, frames, "seed " + seed + " cut at " + cut);
                assertEquals(whole.counts(), framer.counts(), "seed " + seed + " cut at " + cut);
            }
            ByteFramer byByte = framers.get();
            List<String> frames = new ArrayList<>();
            for (byte each : stream) {
                frames.addAll(take(byByte, new byte[] {each}));
            }
            assertEquals(expected, frames, "seed " + seed + " byte by byte");
        }
    }

    /**
     * Every byte of a stream of whole frames and garbage is either handed over or counted as thrown
     * away.
     */
    @Test
    void everyByteIsAccountedFor() {
        for (int seed = 0; seed < 1000; seed++) {
            byte[] stream = stream(new SplittableRandom(seed));
            ByteFramer framer = ByteFramer.lineFeedToReturn(20);
            int handedOver = take(framer, stream).stream().mapToInt(String::length).sum();
            framer.lose();
            assertEquals(
                    stream.length, handedOver + framer.counts().bytesDiscarded(), "seed " + seed);
        }
    }

    /**
     * A frame cut short anywhere, then a good one: the good one comes through alone, and nothing
     * mixed.
     */
    @Test
    void aFrameCutShortIsNeverMixedWithTheNext() {
        for (int kept = 1; kept < GOOD.length(); kept++) {
            ByteFramer framer = ByteFramer.lineFeedToReturn(20);
            assertEquals(List.of(OTHER), take(framer, bytes(GOOD.substring(0, kept) + OTHER)));
            assertEquals(new Framer.Counts(1, kept, 1), framer.counts(), "kept " + kept);
        }
        for (int lost = 1; lost < GOOD.length(); lost++) {
            ByteFramer framer = ByteFramer.lineFeedToReturn(20);
            assertEquals(List.of(OTHER), take(framer, bytes(GOOD.substring(lost) + OTHER)));
            assertEquals(
                    new Framer.Counts(1, GOOD.length() - lost, 0), framer.counts(), "lost " + lost);
        }
    }

    @Test
    void mergedAndDuplicatedFramesComeOneByOne() {
        ByteFramer framer = ByteFramer.lineFeedToReturn(20);
        assertEquals(
                List.of(GOOD, OTHER, OTHER, GOOD),
                take(framer, bytes(GOOD + OTHER + OTHER + GOOD)));
        assertEquals(new Framer.Counts(4, 0, 0), framer.counts());
    }

    @Test
    void aFrameOverTheLimitIsGivenUpAndTheNextOneRead() {
        ByteFramer framer = ByteFramer.lineFeedToReturn(20);
        assertEquals(List.of(GOOD), take(framer, bytes("\n" + "7".repeat(1000) + "\r" + GOOD)));
        assertEquals(new Framer.Counts(1, 1002, 1), framer.counts());
    }

    @Test
    void aBrokenLineGivesUpTheFrameBegun() {
        ByteFramer framer = ByteFramer.lineFeedToReturn(20);
        take(framer, bytes(GOOD.substring(0, 9)));
        framer.lose();
        assertEquals(List.of(), take(framer, bytes(GOOD.substring(9))));
        assertEquals(new Framer.Counts(0, 20, 1), framer.counts());
    }

    @Test
    void linesEndWithReturnLineFeedOrBoth() {
        ByteFramer framer = ByteFramer.lines(20);
        assertEquals(
                List.of("one", "two", "three", "four"),
                take(framer, bytes("\rone\rtwo\nthree\r\nfour\n\r\n\n")));
        assertEquals(new Framer.Counts(4, 0, 0), framer.counts());
    }

    /**
     * Joined in the middle of "1234.5 gal" a line would read "34.5 gal": a wrong number in the
     * right form.
     */
    @Test
    void theTailOfALineJoinedLateIsThrownAway() {
        ByteFramer framer = ByteFramer.lines(20);
        assertEquals(List.of("1234.6 gal"), take(framer, bytes("34.5 gal\r\n1234.6 gal\r\n")));
        framer.lose();
        assertEquals(List.of("1234.8 gal"), take(framer, bytes("34.7 gal\r\n1234.8 gal\r\n")));
        assertEquals(new Framer.Counts(2, 16, 0), framer.counts());
    }

    @Test
    void aLineOverTheLimitIsGivenUpToItsEnd() {
        ByteFramer framer = ByteFramer.lines(20);
        assertEquals(List.of("good"), take(framer, bytes("\n" + "7".repeat(35) + " gal\ngood\n")));
        assertEquals(new Framer.Counts(1, 39, 1), framer.counts());
    }

    @Test
    void aLimitBelowTwoBytesIsRefused() {
        assertTrue(
                assertThrows(IllegalArgumentException.class, () -> ByteFramer.lines(1))
                        .getMessage()
                        .contains("at least 2 bytes"));
    }

    private static byte[] stream(SplittableRandom random) {
        StringBuilder stream = new StringBuilder();
        for (int i = 0; i < 6; i++) {
            switch (random.nextInt(5)) {
                case 0 -> stream.append(GOOD);
                case 1 -> stream.append(OTHER, 0, random.nextInt(OTHER.length()));
                case 2 -> stream.append("7".repeat(random.nextInt(45)));
                case 3 -> stream.append(random.nextBoolean() ? '\n' : '\r');
                default -> {
                    for (int k = random.nextInt(12); k > 0; k--) {
                        stream.append((char) random.nextInt(256));
                    }
                }
            }
        }
        return bytes(stream.toString());
    }

    private static List<String> take(ByteFramer framer, byte[] bytes) {
        List<String> frames = new ArrayList<>();
        framer.take(bytes, bytes.length, frames::add);
        return frames;
    }

    private static byte[] bytes(String text) {
        byte[] bytes = new byte[text.length()];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = (byte) text.charAt(i);
        }
        return bytes;
    }
}
