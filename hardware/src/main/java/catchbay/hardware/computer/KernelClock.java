package catchbay.hardware.computer;

import catchbay.port.PortException;

import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.ValueLayout;
import java.lang.invoke.MethodHandle;

/**
 * Whether the kernel's calendar clock follows a time server, whichever program sets it.
 *
 * <p>Source: the Linux manual page adjtimex(2): with no mode set it changes nothing, and answers
 * TIME_ERROR while the clock is not synchronised.
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
final class KernelClock {

    private static final int TIME_ERROR = 5;

    /** Larger than struct timex (208 bytes on 64 bits); all zero asks and sets nothing. */
    private static final long TIMEX_BYTES = 256;

    private final MethodHandle call;

    private KernelClock(MethodHandle call) {
        this.call = call;
    }

    /**
     * Finds the call.
     *
     * @throws PortException when the system has none
     */
    static KernelClock open() throws PortException {
        Linker linker = Linker.nativeLinker();
        MemorySegment found = linker.defaultLookup().find("adjtimex").orElse(null);
        if (found == null) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "This system does not tell whether its clock is set; run on Linux, or set"
                            + " provider = \"none\" in [port.computer].");
        }
        return new KernelClock(
                linker.downcallHandle(
                        found, FunctionDescriptor.of(ValueLayout.JAVA_INT, ValueLayout.ADDRESS)));
    }

    /** Whether it is known to be; a kernel that refuses to say does not know. */
    boolean isSynchronised() {
        try (Arena arena = Arena.ofConfined()) {
            int state = (int) call.invokeExact(arena.allocate(TIMEX_BYTES, Long.BYTES));
            return state >= 0 && state != TIME_ERROR;
        } catch (Throwable failure) {
            throw new IllegalStateException("the kernel's clock cannot be asked", failure);
        }
    }
}
