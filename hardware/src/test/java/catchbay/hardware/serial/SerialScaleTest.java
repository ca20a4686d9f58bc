package catchbay.hardware.serial;

import static catchbay.hardware.serial.SerialBench.await;
import static catchbay.hardware.serial.SerialBench.drain;
import static catchbay.hardware.serial.SerialBench.open;
import static catchbay.hardware.serial.SerialBench.scale;
import static catchbay.hardware.serial.SerialBench.weight;
import static catchbay.hardware.serial.SerialBench.weights;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.run.RunInput;
import catchbay.signal.ScaleFrame;
import catchbay.sim.device.LineFault;
import catchbay.sim.device.StandInScale;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.FileInputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;

/** The shipped serial code on real pseudo-terminals, with a stand-in scale at the other end. */
@Timeout(60)
class SerialScaleTest {

    private final AtomicReference<Mass> load =
            new AtomicReference<>(Mass.of(12.34, MassUnit.KILOGRAM));

    @TempDir private Path folder;

    @Test
    void aPolledScaleIsAskedAndAnswers() throws Exception {
        MonotonicClock clock = MonotonicClock.open();
        try (StandInScale device = new StandInScale(StandInScale.Setting.polled(), load::get);
                SerialSource source =
                        open(
                                PortKind.SCALE,
                                scale(device.path(), "sma-poll").with("poll_hertz", 25))) {
            long before = clock.nanos();
            List<RunInput> inputs = drain(source, 5, SerialBench.UNDERSTOOD);
            assertEquals(
                    new ScaleFrame.Weight(12.34, MassUnit.KILOGRAM, false, false),
                    weight(inputs.getFirst()));
            long last = Long.MIN_VALUE;
            for (RunInput input : inputs) {
                assertTrue(input.atNanos() > last, "stamps rise");
                last = input.atNanos();
            }
            assertTrue(
                    last >= before && last <= clock.nanos(), "stamps are of the monotonic clock");
            load.set(Mass.of(13, MassUnit.KILOGRAM));
            drain(source, 1, input -> amount(input) == 13);
            assertEquals(0, source.counts().pollsUnanswered());
            assertEquals(0, source.counts().bytesDiscarded());
        }
    }

    /** Its other end is a program, whatever the line's own code is. */
    @Test
    void aLineThatEndsInAPseudoTerminalMarksTheRun() throws Exception {
        try (StandInScale device = new StandInScale(StandInScale.Setting.polled(), load::get)) {
            assertTrue(SerialBench.marks(PortKind.SCALE, scale(device.path(), "sma-poll")));
        }
    }

    @Test
    void aStreamingScaleIsListenedTo() throws Exception {
        try (StandInScale device = new StandInScale(StandInScale.Setting.streaming(50), load::get);
                SerialSource source = open(PortKind.SCALE, scale(device.path(), "sma-stream"))) {
            assertEquals(List.of(12.34, 12.34, 12.34), weights(source, 3));
            device.fault(LineFault.MOTION);
            drain(source, 1, input -> weight(input) != null && weight(input).inMotion());
            device.show(MassUnit.POUND);
            drain(
                    source,
                    1,
                    input -> weight(input) != null && weight(input).unit() == MassUnit.POUND);
        }
    }

    @Test
    void otherFormsAreReadByAPattern() throws Exception {
        // The stand-in's frames, read as text lines that end with CR and LF.
        BenchSettings settings =
                new BenchSettings(
                        java.util.Map.of(
                                "protocol", "pattern",
                                "pattern",
                                        "[ Z]1[GN](?<motion>[M ])"
                                                + " +(?<weight>[0-9.]+)(?<unit>kg|lb)_",
                                "unit", "kg"));
        try (StandInScale device = new StandInScale(StandInScale.Setting.streaming(50), load::get);
                SerialSource source =
                        open(PortKind.SCALE, settings.with("port", device.path().toString()))) {
            assertEquals(List.of(12.34, 12.34), weights(source, 2));
            device.show(MassUnit.POUND);
            await(
                    () -> source.counts().lastRefusal().contains("set up as kg"),
                    () -> source.counts().toString());
        }
    }

    @Test
    void rubbishBetweenFramesIsCountedAndNeverReachesTheRun() throws Exception {
        try (StandInScale device =
                        new StandInScale(StandInScale.Setting.streaming(200), load::get);
                SerialSource source = open(PortKind.SCALE, scale(device.path(), "sma-stream"))) {
            weights(source, 1);
            device.fault(LineFault.GARBLE);
            assertEquals(List.of(12.34), weights(source, 30).stream().distinct().toList());
            SerialCounts counts = source.counts();
            assertTrue(counts.framesRefused() > 10, counts.toString());
            assertTrue(counts.bytesDiscarded() > 100, counts.toString());
            assertFalse(counts.lastRefusal().isEmpty());
            RunInput.Unread told =
                    (RunInput.Unread)
                            drain(source, 1, input -> input instanceof RunInput.Unread).getFirst();
            assertEquals("scale", told.port());
            assertTrue(told.frames() > 0 && told.bytes() > 0, told.toString());
            assertTrue(told.reason().matches("[ -~]+"), told.toString());
        }
    }

    @Test
    void aSilentScaleGivesNothingAndItsUnansweredPollsAreCounted() throws Exception {
        try (StandInScale device = new StandInScale(StandInScale.Setting.polled(), load::get);
                SerialSource source = open(PortKind.SCALE, scale(device.path(), "sma-poll"))) {
            weights(source, 1);
            device.fault(LineFault.SILENT);
            await(() -> source.counts().pollsUnanswered() > 0, () -> source.counts().toString());
            RunInput.Unread told =
                    (RunInput.Unread)
                            drain(source, 1, input -> input instanceof RunInput.Unread).getFirst();
            assertEquals("no answer; is the device set to sma-poll, 9600 baud 8N1?", told.reason());
            assertTrue(told.frames() > 0 && told.bytes() == 0, told.toString());
            load.set(Mass.of(99, MassUnit.KILOGRAM));
            device.fault(LineFault.NONE);
            drain(source, 1, input -> amount(input) == 99);
        }
    }

    @Test
    void aScaleThatStaysAwayIsGone() throws Exception {
        Path link = folder.resolve("scale");
        StandInScale.Setting setting = StandInScale.Setting.streaming(50).linkedAt(link);
        try (StandInScale device = new StandInScale(setting, load::get);
                SerialSource source =
                        open(PortKind.SCALE, scale(link, "sma-stream").with("gone_seconds", 1))) {
            weights(source, 1);
            device.unplug();
            PortException gone =
                    assertThrows(
                            PortException.class, () -> drain(source, 1000, SerialBench.UNDERSTOOD));
            assertEquals(PortException.Kind.GONE, gone.kind());
            assertTrue(
                    gone.getMessage().contains("did not come back within 1 s"), gone.getMessage());
        }
    }

    @Test
    void moreFramesThanTheQueueHoldsAreAnOverflowAndNotASilentLoss() throws Exception {
        try (StandInScale device =
                        new StandInScale(StandInScale.Setting.streaming(1000), load::get);
                SerialSource source = open(PortKind.SCALE, scale(device.path(), "sma-stream"))) {
            device.fault(LineFault.MERGE);
            await(
                    () -> source.counts().inputs() > SerialSource.QUEUE_MAX,
                    () -> source.counts().toString());
            int[] handedOver = new int[1];
            PortException overflow =
                    assertThrows(PortException.class, () -> source.drain(input -> handedOver[0]++));
            assertEquals(PortException.Kind.OVERFLOW, overflow.kind());
            assertEquals(SerialSource.QUEUE_MAX, handedOver[0]);
        }
    }

    @Test
    void whatCameBeforeTheLineWasOpenedIsNotTakenForNew() throws Exception {
        StandInScale.Setting setting = StandInScale.Setting.streaming(100);
        try (StandInScale device = new StandInScale(setting, load::get);
                FileInputStream heldOpen = new FileInputStream(device.path().toFile())) {
            await(() -> waiting(heldOpen) > 200, () -> waiting(heldOpen) + " bytes are waiting");
            load.set(Mass.of(56, MassUnit.KILOGRAM));
            int old = waiting(heldOpen);
            await(
                    () -> waiting(heldOpen) > old + 60,
                    () -> waiting(heldOpen) + " bytes are waiting");
            try (SerialSource source = open(PortKind.SCALE, scale(device.path(), "sma-stream"))) {
                assertEquals(List.of(56.0), weights(source, 1));
            }
        }
    }

    private static double amount(RunInput input) {
        return weight(input) == null ? Double.NaN : weight(input).amount();
    }

    private static int waiting(FileInputStream line) {
        try {
            return line.available();
        } catch (IOException failure) {
            throw new AssertionError(failure);
        }
    }

    @Test
    void closingLetsTheLineGoAtOnce() throws IOException, PortException {
        try (StandInScale device =
                new StandInScale(StandInScale.Setting.streaming(50), load::get)) {
            for (int i = 0; i < 3; i++) {
                try (SerialSource source =
                        open(PortKind.SCALE, scale(device.path(), "sma-stream"))) {
                    weights(source, 1);
                }
            }
        }
    }
}
