package catchbay.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.signal.Decoded;
import catchbay.signal.ScaleFrame;
import catchbay.signal.SmaScale;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;

@Timeout(value = 30, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
class StandInDeviceTest {

    private static final int FRAME = SmaScale.FRAME_BYTES;

    private final AtomicReference<Mass> load =
            new AtomicReference<>(Mass.of(12.34, MassUnit.KILOGRAM));

    @TempDir private Path folder;

    @Test
    void aScaleAnswersTheCommandsItKnows() throws IOException {
        try (StandInScale scale = new StandInScale(StandInScale.Setting.polled(), load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            assertEquals("\n 1G       12.34kg_\r", ask(end, "\nW\r", FRAME));
            assertEquals("\n 1g      12.340kg_\r", ask(end, "\nH\r", FRAME));
            assertEquals("\n?\r", ask(end, "\nB\r", 3));
            assertEquals("\n 1N        0.00kg_\r", ask(end, "\nT\r", FRAME));
            load.set(Mass.of(20, MassUnit.KILOGRAM));
            assertEquals("\n 1N        7.66kg_\r", ask(end, "\nP\r", FRAME));
            assertEquals("\n 1T       12.34kg_\r", ask(end, "\nM\r", FRAME));
            assertEquals("\n 1G       20.00kg_\r", ask(end, "\nC\r", FRAME));
            assertEquals("\nZ1G        0.00kg_\r", ask(end, "\nZ\r", FRAME));
            scale.show(MassUnit.POUND);
            load.set(Mass.of(30, MassUnit.KILOGRAM));
            assertEquals("\n 1G       22.05lb_\r", ask(end, "\nW\r", FRAME));
            load.set(Mass.of(6000, MassUnit.KILOGRAM));
            assertEquals("\nO1G    13183.64lb_\r", ask(end, "\nW\r", FRAME));
        }
    }

    @Test
    void aScaleRepeatsItsWeightUntilTheNextCommandOrEscape() throws IOException {
        try (StandInScale scale = new StandInScale(StandInScale.Setting.polled(), load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            assertEquals(
                    "\n 1G       12.34kg_\r\n 1G       12.34kg_\r", ask(end, "\nR\r", 2 * FRAME));
            assertEquals("\n?\r", ask(end, "\nB\r", 3));
            assertEquals("\n 1g      12.340kg_\r", ask(end, "\nS\r", FRAME));
            assertEquals("\n?\r", ask(end, "\u001b\nB\r", 3));
        }
    }

    /**
     * The request 01 03 00 00 00 01 84 0A is the one that manuals show for the first register of
     * station 1. 12.34 kg is 1234 steps, 04D2; as a single it is 414570A4 (IEEE 754).
     */
    @Test
    void aScaleAnswersModbusQuestions() throws IOException {
        StandInScale.Setting setting = StandInScale.Setting.polled().ofRegisters();
        try (StandInScale scale = new StandInScale(setting, load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            assertEquals("01 03 02 00 00 B8 44", registers(end, "01 03 00 00 00 01 84 0A", 7));
            assertEquals(
                    "01 03 0C 00 00 04 D2 00 00 00 00 70 A4 41 45",
                    registers(end, "FF 01 03 00 00 00 06 C5 C8", 17).substring(0, 44));
            assertEquals("01 83 02 C0 F1", registers(end, "01 03 00 05 00 02 D4 0A", 5));
            scale.fault(LineFault.MOTION);
            scale.show(MassUnit.POUND);
            assertEquals(
                    "01 04 04 00 01 00 01",
                    registers(end, "01 04 00 02 00 02 D0 0B", 9).substring(0, 20));
        }
    }

    private static String registers(OtherEnd end, String question, int bytes) throws IOException {
        HexFormat hex = HexFormat.ofDelimiter(" ").withUpperCase();
        String asked = new String(hex.parseHex(question), StandardCharsets.ISO_8859_1);
        return hex.formatHex(ask(end, asked, bytes).getBytes(StandardCharsets.ISO_8859_1));
    }

    @Test
    void aScaleInMotionRefusesItsZeroAndItsTare() throws IOException {
        try (StandInScale scale = new StandInScale(StandInScale.Setting.polled(), load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            scale.fault(LineFault.MOTION);
            assertEquals("\nE1GM ----------kg_\r", ask(end, "\nZ\r", FRAME));
            assertEquals("\nT1GM ----------kg_\r", ask(end, "\nT\r", FRAME));
            assertEquals("\n 1GM      12.34kg_\r", ask(end, "\nW\r", FRAME));
        }
    }

    @Test
    void noiseBeforeACommandAndABrokenOneAreForgotten() throws IOException {
        try (StandInScale scale = new StandInScale(StandInScale.Setting.polled(), load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            assertEquals("\n 1G       12.34kg_\r", ask(end, "xx\r\nQQ\u001b\nW\nW\r", FRAME));
        }
    }

    /**
     * What garbling changes must be such that a reader can tell: no weight but the true one ever
     * comes through.
     */
    @Test
    void aGarbledStreamHoldsNoOtherWeight() throws IOException {
        try (StandInScale scale =
                        new StandInScale(StandInScale.Setting.streaming(1000), load::get);
                OtherEnd end = new OtherEnd(scale.path())) {
            scale.fault(LineFault.GARBLE);
            List<Double> weights = new ArrayList<>();
            int[] refused = new int[1];
            var framer = SmaScale.framer();
            byte[] heard = end.hear(4000).getBytes(StandardCharsets.ISO_8859_1);
            framer.take(
                    heard,
                    heard.length,
                    frame -> {
                        switch (SmaScale.decode(frame)) {
                            case Decoded.Value<ScaleFrame>(ScaleFrame value) ->
                                    weights.add(
                                            assertInstanceOf(ScaleFrame.Weight.class, value)
                                                    .amount());
                            case Decoded.Refused<ScaleFrame> wrong -> refused[0]++;
                        }
                    });
            assertEquals(List.of(12.34), weights.stream().distinct().toList());
            assertTrue(weights.size() > 20, weights.size() + " whole frames");
            assertTrue(
                    refused[0] + framer.counts().framesRefused() > 20,
                    refused[0] + " " + framer.counts());
        }
    }

    @Test
    void aControllerSendsItsTotalCutOffAtItsStep() throws IOException {
        StandInController.Setting setting = StandInController.Setting.plain(100);
        try (StandInController controller =
                        new StandInController(setting, () -> Volume.ofUsGallons(7.899999));
                OtherEnd end = new OtherEnd(controller.path())) {
            assertTrue(end.hear(100).contains("\r\nTOTAL 7.89 US gal\r\n"));
        }
    }

    @Test
    void theLinkComesAndGoesWithThePlug() throws IOException {
        Path link = folder.resolve("scale");
        List<PseudoTerminal> others = new ArrayList<>();
        try (StandInScale scale =
                new StandInScale(StandInScale.Setting.polled().linkedAt(link), load::get)) {
            assertEquals(link, scale.path());
            Path before = Files.readSymbolicLink(link);
            while (!Files.isSymbolicLink(link) || Files.readSymbolicLink(link).equals(before)) {
                scale.unplug();
                assertFalse(Files.isSymbolicLink(link));
                // Another one takes the number that has become free, so that ours must change.
                others.add(new PseudoTerminal());
                scale.replug();
            }
            try (OtherEnd end = new OtherEnd(scale.path())) {
                assertEquals("\n 1G       12.34kg_\r", ask(end, "\nW\r", FRAME));
            }
        } finally {
            others.forEach(PseudoTerminal::close);
        }
        assertFalse(Files.isSymbolicLink(link));
    }

    @Test
    void aFileInTheLinksPlaceIsLeftAlone() throws IOException {
        Path file = Files.writeString(folder.resolve("scale"), "kept");
        assertTrue(
                assertThrows(
                                IOException.class,
                                () ->
                                        new StandInScale(
                                                StandInScale.Setting.polled().linkedAt(file),
                                                load::get))
                        .getMessage()
                        .contains("choose another place"));
        assertEquals("kept", Files.readString(file));
    }

    @Test
    void aLinkInAFolderThatIsNotThereIsRefused() {
        Path link = folder.resolve("nowhere").resolve("scale");
        assertTrue(
                assertThrows(
                                IOException.class,
                                () ->
                                        new StandInScale(
                                                StandInScale.Setting.polled().linkedAt(link),
                                                load::get))
                        .getMessage()
                        .contains("make it first"));
    }

    @Test
    void aConsoleObeysItsOrders() throws IOException {
        List<String> done = new ArrayList<>();
        String orders =
                """
                mass 12.5
                flow x
                fault fragment
                fault smoke
                fly
                show

                unplug
                replug
                quit
                mass 99
                """;
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code =
                new DeviceConsole(
                                () -> Path.of("line"),
                                fault -> done.add("fault " + fault),
                                () -> done.add("unplug"),
                                () -> done.add("replug"))
                        .number("mass", mass -> done.add("mass " + mass))
                        .number("flow", flow -> done.add("flow " + flow))
                        .shows(() -> "mass " + done.size() + " kg")
                        .obey(
                                new ByteArrayInputStream(orders.getBytes(StandardCharsets.UTF_8)),
                                new PrintWriter(out),
                                new PrintWriter(err));
        assertEquals(0, code);
        assertEquals(List.of("mass 12.5", "fault FRAGMENT", "unplug", "replug"), done);
        assertEquals(
                List.of("ready line", "mass 2 kg", "unplugged", "ready line"),
                out.toString().lines().toList());
        assertEquals(
                List.of(
                        "flow must be followed by a number up to 1000000.0, was 'x'",
                        "unknown fault 'smoke'; use none, silent, garble, noise, flip, fragment,"
                                + " split, merge, motion",
                        "unknown order 'fly'; use fault, mass, flow, show, unplug, replug or quit"),
                err.toString().lines().toList());
    }

    @Test
    void anAmountGrowsWithTime() {
        long[] nanos = {5};
        GrowingAmount amount = new GrowingAmount(() -> nanos[0]);
        amount.set(10);
        amount.flow(0.5);
        nanos[0] += 4_000_000_000L;
        assertEquals(12, amount.now(), 1e-12);
        amount.flow(0);
        nanos[0] += 4_000_000_000L;
        assertEquals(12, amount.now(), 1e-12);
    }

    private static String ask(OtherEnd end, String command, int bytes) throws IOException {
        end.say(command);
        return end.hear(bytes);
    }
}
