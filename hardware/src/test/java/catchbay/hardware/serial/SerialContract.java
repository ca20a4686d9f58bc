package catchbay.hardware.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.run.RunInput;
import catchbay.sim.device.LineFault;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/**
 * What every way of reading a line must bear, on real pseudo-terminals with a stand-in device at
 * the other end: the shipped port on one side of the kernel's line, and on the other a device that
 * sends what a bad wire makes of its frames.
 */
@Timeout(120)
abstract class SerialContract {

    static final double TRUE_AMOUNT = 12.34;
    static final double LATER_AMOUNT = 56.78;
    static final double OTHER_DEVICES_AMOUNT = 1000;

    /** A device at the other end. */
    interface Device extends AutoCloseable {
        void fault(LineFault fault);

        void unplug() throws IOException;

        void replug() throws IOException;

        @Override
        void close();
    }

    @TempDir private Path folder;
    private Path link;
    private volatile double amount = TRUE_AMOUNT;
    private Device device;
    private SerialSource source;

    /** Plugs a device in that shows the amount, at a link. */
    abstract Device plugged(Path link, java.util.function.DoubleSupplier shown) throws IOException;

    /** The settings that read it. */
    abstract BenchSettings settings(Path port);

    /** The amount that an input carries, in the unit that the device shows. */
    abstract double amount(RunInput input);

    abstract PortKind kind();

    /** How many bytes one frame has, at most. */
    abstract int frameBytes();

    /** Whether a frame is known among bytes of any kind that come right before it. */
    abstract boolean findsFramesInNoise();

    /**
     * The largest share of frames that may show another amount while two in a hundred of all bits
     * are changed; 0 where the protocol has a check.
     */
    abstract double wrongShareMax();

    @BeforeEach
    void plugInAndOpen() throws IOException, PortException {
        link = folder.resolve("device");
        device = plugged(link, () -> amount);
        source = SerialBench.open(kind(), settings(link));
        assertEquals(List.of(TRUE_AMOUNT), next(1));
    }

    @AfterEach
    void unplugForGood() {
        source.close();
        device.close();
    }

    @Test
    void framesCutAtEveryByteAndFramesOfSingleBytesComeWhole() throws PortException {
        device.fault(LineFault.SPLIT);
        assertOnly(TRUE_AMOUNT, next(frameBytes() + 2));
        device.fault(LineFault.FRAGMENT);
        assertOnly(TRUE_AMOUNT, next(3));
        assertEquals(0, source.counts().framesRefused(), source.counts().toString());
    }

    @Test
    void mergedAndRepeatedFramesAreEachRead() throws PortException {
        device.fault(LineFault.MERGE);
        assertOnly(TRUE_AMOUNT, next(9));
        assertEquals(0, source.counts().framesRefused(), source.counts().toString());
    }

    @Test
    void noiseBetweenFramesIsCountedAndNeverAnAmount() throws PortException {
        SerialCounts before = source.counts();
        device.fault(LineFault.NOISE);
        if (findsFramesInNoise()) {
            assertOnly(TRUE_AMOUNT, next(20));
        }
        SerialBench.await(
                () ->
                        source.counts().bytesDiscarded() - before.bytesDiscarded() > 200
                                || source.counts().framesRefused() - before.framesRefused() > 10,
                () -> source.counts().toString());
        device.fault(LineFault.NONE);
        amount = LATER_AMOUNT;
        assertChange(TRUE_AMOUNT, LATER_AMOUNT);
    }

    @Test
    void changedBitsNeverBecomeAnAmountWhereTheProtocolHasACheck() throws PortException {
        SerialCounts before = source.counts();
        device.fault(LineFault.FLIP);
        List<Double> read = new ArrayList<>();
        SerialBench.await(
                () -> {
                    read.addAll(drained());
                    return read.size()
                                    + source.counts().framesRefused()
                                    - before.framesRefused()
                                    + source.counts().pollsUnanswered()
                                    - before.pollsUnanswered()
                            > 100;
                },
                () -> source.counts().toString());
        long wrong = read.stream().filter(shown -> shown != TRUE_AMOUNT).count();
        assertTrue(wrong <= 100 * wrongShareMax(), wrong + " wrong: " + read);
        device.fault(LineFault.NONE);
        amount = LATER_AMOUNT;
        await(shown -> shown == LATER_AMOUNT);
    }

    @Test
    void aSilentDeviceGivesNothing() throws PortException, InterruptedException {
        device.fault(LineFault.SILENT);
        Thread.sleep(100);
        drained();
        Thread.sleep(1500);
        assertEquals(List.of(), drained());
        amount = LATER_AMOUNT;
        device.fault(LineFault.NONE);
        assertChange(TRUE_AMOUNT, LATER_AMOUNT);
    }

    @Test
    void aDeviceThatComesBackUnderAnotherNameIsFoundByItsLink() throws Exception {
        Path before = Files.readSymbolicLink(link);
        List<Device> others = new ArrayList<>();
        try {
            // The lowest number is given out again as soon as it is free: another device takes it,
            // and must never be mistaken for ours.
            while (Files.readSymbolicLink(link).equals(before)) {
                device.unplug();
                others.add(
                        plugged(
                                folder.resolve("other" + others.size()),
                                () -> OTHER_DEVICES_AMOUNT));
                amount = LATER_AMOUNT;
                device.replug();
            }
            assertChange(TRUE_AMOUNT, LATER_AMOUNT);
            assertTrue(source.counts().reconnects() > 0, source.counts().toString());
        } finally {
            others.forEach(Device::close);
        }
    }

    private List<Double> next(int count) throws PortException {
        return SerialBench.drain(source, count, SerialBench.UNDERSTOOD).stream()
                .map(this::amount)
                .toList();
    }

    private List<Double> drained() {
        List<Double> read = new ArrayList<>();
        try {
            source.drain(input -> {
                if (SerialBench.UNDERSTOOD.test(input)) {
                    read.add(amount(input));
                }
            });
        } catch (PortException gone) {
            throw new AssertionError(gone);
        }
        return read;
    }

    private void await(Predicate<Double> wanted) throws PortException {
        SerialBench.drain(
                source, 1, SerialBench.UNDERSTOOD.and(input -> wanted.test(amount(input))));
    }

    /** Nothing but the one amount comes, and then nothing but the other. */
    private void assertChange(double from, double to) throws PortException {
        List<Double> read = new ArrayList<>();
        while (read.isEmpty() || read.getLast() != to) {
            read.addAll(next(1));
            assertTrue(read.getLast() == from || read.getLast() == to, read.toString());
        }
        assertOnly(to, next(3));
    }

    private static void assertOnly(double expected, List<Double> read) {
        assertEquals(List.of(expected), read.stream().distinct().toList());
    }
}
