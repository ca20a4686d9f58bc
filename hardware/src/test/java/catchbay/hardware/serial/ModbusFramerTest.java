package catchbay.hardware.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.signal.Framer;

import org.junit.jupiter.api.Test;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Source of the bytes: the example of Modbus Application Protocol V1.1b3 (2012), 6.3, read holding
 * registers 108 to 110: 022B 0000 0064; and the worked check of 11 03 00 6B 00 03, which is 76 87;
 * both from memory.
 */
class ModbusFramerTest {

    private static final HexFormat HEX = HexFormat.of().withUpperCase();
    private static final byte[] ANSWER = checked("1103" + "06022B00000064");
    private static final byte[] REFUSAL = checked("118302");

    @Test
    void theCheckIsThePublishedOne() {
        assertEquals("1103006B00037687", HEX.formatHex(checked("1103006B0003")));
    }

    @Test
    void answersAndRefusalsAreFoundHoweverTheyAreCut() {
        byte[] stream = joined(ANSWER, REFUSAL, ANSWER, ANSWER);
        List<String> whole = List.of("110306022B00000064", "118302");
        for (int cut = 0; cut <= stream.length; cut++) {
            Framer framer = framer();
            List<String> frames = take(framer, Arrays.copyOf(stream, cut));
            frames.addAll(take(framer, Arrays.copyOfRange(stream, cut, stream.length)));
            assertEquals(
                    List.of(whole.get(0), whole.get(1), whole.get(0), whole.get(0)),
                    frames,
                    "cut at " + cut);
            assertEquals(new Framer.Counts(4, 0, 0), framer.counts());
        }
    }

    /** Among them the question itself, which an adapter with two wires may hear again. */
    @Test
    void anAnswerIsFoundBehindBytesOfAnyKind() {
        List<byte[]> before = new ArrayList<>();
        before.add(checked("1103006B0003"));
        for (int length = 1; length < ANSWER.length; length++) {
            before.add(Arrays.copyOf(ANSWER, length));
        }
        SplittableRandom random = new SplittableRandom(1);
        for (int i = 0; i < 2000; i++) {
            byte[] noise = new byte[random.nextInt(40)];
            random.nextBytes(noise);
            before.add(noise);
        }
        for (byte[] noise : before) {
            Framer framer = framer();
            List<String> frames = take(framer, joined(noise, ANSWER));
            assertEquals(List.of("110306022B00000064"), frames, HEX.formatHex(noise));
            assertEquals(noise.length, framer.counts().bytesDiscarded(), HEX.formatHex(noise));
        }
    }

    @Test
    void whatAnotherStationAnswersIsNotOurs() {
        assertEquals(List.of(), take(framer(), checked("1203" + "06022B00000064")));
        assertEquals(List.of(), take(framer(), checked("1104" + "06022B00000064")));
        assertEquals(List.of(), take(framer(), checked("1103" + "04022B0000")));
    }

    @Test
    void aBrokenLineLeavesNothingOver() {
        Framer framer = framer();
        take(framer, Arrays.copyOf(ANSWER, 4));
        framer.lose();
        assertEquals(new Framer.Counts(0, 4, 1), framer.counts());
        assertEquals(1, take(framer, ANSWER).size());
    }

    /** That this check finds every change of up to three bits is well known; here it is tried. */
    @Test
    void noChangeOfUpToThreeBitsBecomesAnotherAnswer() {
        int bits = 8 * ANSWER.length;
        for (int first = 0; first < bits; first++) {
            for (int second = first; second < bits; second++) {
                for (int third = second; third < bits; third++) {
                    byte[] wire = ANSWER.clone();
                    for (int bit : new int[] {first, second, third}) {
                        wire[bit / 8] ^= (byte) (1 << bit % 8);
                    }
                    // Two alike cancel: then the answer may be the right one.
                    boolean unchanged = Arrays.equals(wire, ANSWER);
                    assertEquals(
                            unchanged ? 1 : 0,
                            take(framer(), wire).size(),
                            first + ", " + second + ", " + third);
                }
            }
        }
    }

    /**
     * Two in a hundred of all bits changed, on a wire that no shop would keep: of 200,000 answers
     * 0.98^88, one in six, come through whole, and two as other answers, by changes of four bits
     * and more that a check of 16 bits cannot see. The bound is there so that a looser framer is
     * noticed.
     */
    @Test
    void changedBitsNextToNeverBecomeAnotherAnswer() {
        SplittableRandom random = new SplittableRandom(7);
        Framer framer = framer();
        int right = 0;
        int wrong = 0;
        for (int i = 0; i < 200_000; i++) {
            byte[] wire = ANSWER.clone();
            for (int bit = 0; bit < 8 * wire.length; bit++) {
                if (random.nextInt(100) < 2) {
                    wire[bit / 8] ^= (byte) (1 << bit % 8);
                }
            }
            for (String frame : take(framer, wire)) {
                right += frame.equals("110306022B00000064") ? 1 : 0;
                wrong += frame.equals("110306022B00000064") ? 0 : 1;
            }
        }
        assertTrue(right > 30_000, right + " right");
        assertTrue(wrong <= 5, wrong + " wrong");
    }

    private static Framer framer() {
        return new ModbusFramer(0x11, 3, 6);
    }

    private static List<String> take(Framer framer, byte[] bytes) {
        List<String> frames = new ArrayList<>();
        framer.take(
                bytes,
                bytes.length,
                frame -> frames.add(HEX.formatHex(frame.getBytes(StandardCharsets.ISO_8859_1))));
        return frames;
    }

    private static byte[] checked(String hex) {
        byte[] bytes = HEX.parseHex(hex);
        int check = ModbusFramer.check(bytes, bytes.length);
        return joined(bytes, new byte[] {(byte) check, (byte) (check >>> 8)});
    }

    private static byte[] joined(byte[]... parts) {
        int length = Arrays.stream(parts).mapToInt(part -> part.length).sum();
        byte[] whole = new byte[length];
        int at = 0;
        for (byte[] part : parts) {
            System.arraycopy(part, 0, whole, at, part.length);
            at += part.length;
        }
        return whole;
    }
}
