package catchbay.hardware.clock;

import catchbay.port.PortException;
import catchbay.port.Timekeeper;

import java.io.IOException;
import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.ValueLayout;
import java.lang.invoke.MethodHandle;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The kernel's CLOCK_MONOTONIC, which also stamps the edges of pulse lines. May be used by any
 * thread.
 *
 * <p>It is read by the kernel's own call and not by {@code System.nanoTime}, whose origin the Java
 * platform leaves open: every stamp of a run then comes from the one clock by definition, and there
 * are no two clocks to compare at start.
 *
 * <p>Source: the Linux manual pages clock_gettime(2) and random(4).
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
public final class MonotonicClock {

    private static final int CLOCK_MONOTONIC = 1;
    private static final long NANOS_PER_SECOND = 1_000_000_000;

    /** struct timespec of a 64-bit system: seconds, nanoseconds. */
    private static final long TIMESPEC_BYTES = 16;

    private static final Path BOOT_ID = Path.of("/proc/sys/kernel/random/boot_id");

    private final ThreadLocal<MemorySegment> timespecs =
            ThreadLocal.withInitial(() -> Arena.ofAuto().allocate(TIMESPEC_BYTES, Long.BYTES));

    private final MethodHandle read;
    private final String bootId;

    private MonotonicClock(MethodHandle read, String bootId) {
        this.read = read;
        this.bootId = bootId;
    }

    /**
     * Finds the clock.
     *
     * @throws PortException when this is no Linux with 64 bits, the only system on which it is
     *     known
     */
    public static MonotonicClock open() throws PortException {
        Linker linker = Linker.nativeLinker();
        MemorySegment call = linker.defaultLookup().find("clock_gettime").orElse(null);
        if (call == null
                || !Files.isReadable(BOOT_ID)
                || ValueLayout.ADDRESS.byteSize() != Long.BYTES) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The clock of edge stamps is only known on Linux with 64 bits; run there.");
        }
        MethodHandle read =
                linker.downcallHandle(
                        call,
                        FunctionDescriptor.of(
                                ValueLayout.JAVA_INT, ValueLayout.JAVA_INT, ValueLayout.ADDRESS),
                        Linker.Option.critical(false));
        try {
            return new MonotonicClock(read, Files.readString(BOOT_ID).strip());
        } catch (IOException failure) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The name of this boot cannot be read from " + BOOT_ID + ".",
                    failure);
        }
    }

    /**
     * Nanoseconds since an origin that is the same for every program of this boot; never goes back.
     */
    public long nanos() {
        MemorySegment timespec = timespecs.get();
        try {
            int result = (int) read.invokeExact(CLOCK_MONOTONIC, timespec);
            if (result != 0) {
                throw new IllegalStateException("clock_gettime refused CLOCK_MONOTONIC");
            }
        } catch (Throwable failure) {
            throw new IllegalStateException("the clock cannot be read", failure);
        }
        return timespec.get(ValueLayout.JAVA_LONG, 0) * NANOS_PER_SECOND
                + timespec.get(ValueLayout.JAVA_LONG, Long.BYTES);
    }

    /** Names the boot within which stamps can be compared. */
    public String bootId() {
        return bootId;
    }

    /**
     * Whether the timekeeper tells this very clock's time, as one that plays virtual time does not.
     */
    public boolean isBehind(Timekeeper time) {
        long before = nanos();
        long told = time.monotonicNanos();
        return before <= told && told <= nanos();
    }
}
