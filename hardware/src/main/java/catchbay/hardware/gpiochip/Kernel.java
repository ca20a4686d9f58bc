package catchbay.hardware.gpiochip;

import static java.lang.foreign.ValueLayout.ADDRESS;
import static java.lang.foreign.ValueLayout.JAVA_INT;
import static java.lang.foreign.ValueLayout.JAVA_LONG;
import static java.lang.foreign.ValueLayout.JAVA_SHORT;

import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.StructLayout;
import java.lang.invoke.MethodHandle;
import java.lang.invoke.VarHandle;

/**
 * The kernel's calls on a descriptor. A call that fails answers minus its error number. One
 * instance belongs to one thread at a time, since its error number and its poll record are reused;
 * in steady state no call allocates.
 *
 * <p>Source: the Linux manual pages open(2), close(2), read(2), poll(2), ioctl(2), errno(3).
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
final class Kernel {

    static final int FORBIDDEN_FOR_ROOT = 1;
    static final int NO_ENTRY = 2;
    static final int INTERRUPTED = 4;
    static final int IO_FAILED = 5;
    static final int FORBIDDEN = 13;
    static final int BUSY = 16;
    static final int NO_DEVICE = 19;
    static final int NOT_THIS_DEVICE = 25;

    static final int READY = 0x001;
    static final int READY_WITH_ERROR = 0x008;
    static final int HUNG_UP = 0x010;
    static final int NOT_OPEN = 0x020;

    private static final int OPEN_READ_WRITE = 2;
    private static final int OPEN_CLOSE_ON_EXEC = 0x80000;

    /** struct pollfd: descriptor, events wanted, events found. */
    private static final int POLL_BYTES = 8;

    private static final int POLL_WANTED = 4;
    private static final int POLL_FOUND = 6;

    private static final Linker LINKER = Linker.nativeLinker();
    private static final StructLayout CALL_STATE = Linker.Option.captureStateLayout();
    private static final VarHandle ERROR_NUMBER =
            CALL_STATE.varHandle(StructLayout.PathElement.groupElement("errno"));

    private static final MethodHandle OPEN =
            call("open", FunctionDescriptor.of(JAVA_INT, ADDRESS, JAVA_INT), 2);
    private static final MethodHandle CLOSE =
            call("close", FunctionDescriptor.of(JAVA_INT, JAVA_INT));
    private static final MethodHandle READ =
            call("read", FunctionDescriptor.of(JAVA_LONG, JAVA_INT, ADDRESS, JAVA_LONG));
    private static final MethodHandle POLL =
            call("poll", FunctionDescriptor.of(JAVA_INT, ADDRESS, JAVA_LONG, JAVA_INT));
    private static final MethodHandle IOCTL =
            call("ioctl", FunctionDescriptor.of(JAVA_INT, JAVA_INT, JAVA_LONG, ADDRESS), 2);

    private final MemorySegment state = Arena.ofAuto().allocate(CALL_STATE);
    private final MemorySegment poll = Arena.ofAuto().allocate(POLL_BYTES, Integer.BYTES);

    private static MethodHandle call(String name, FunctionDescriptor descriptor) {
        return LINKER.downcallHandle(
                LINKER.defaultLookup().findOrThrow(name),
                descriptor,
                Linker.Option.captureCallState("errno"));
    }

    /** Of a function with a variable number of arguments, from the one with this index on. */
    private static MethodHandle call(
            String name, FunctionDescriptor descriptor, int firstVariadic) {
        return LINKER.downcallHandle(
                LINKER.defaultLookup().findOrThrow(name),
                descriptor,
                Linker.Option.captureCallState("errno"),
                Linker.Option.firstVariadicArg(firstVariadic));
    }

    /** Opens a device to read and write; its descriptor. */
    int open(String path) {
        try (Arena arena = Arena.ofConfined()) {
            int flags = OPEN_READ_WRITE | OPEN_CLOSE_ON_EXEC;
            return answer((int) OPEN.invokeExact(state, arena.allocateFrom(path), flags));
        } catch (Throwable bug) {
            throw failed("open", bug);
        }
    }

    void close(int descriptor) {
        try {
            int ignored = (int) CLOSE.invokeExact(state, descriptor);
        } catch (Throwable bug) {
            throw failed("close", bug);
        }
    }

    /** Reads into the segment; how many bytes. */
    int read(int descriptor, MemorySegment into) {
        try {
            return answer((int) (long) READ.invokeExact(state, descriptor, into, into.byteSize()));
        } catch (Throwable bug) {
            throw failed("read", bug);
        }
    }

    /** Waits until there is something to read; what was found, 0 when the time was up. */
    int poll(int descriptor, int waitMillis) {
        poll.set(JAVA_INT, 0, descriptor);
        poll.set(JAVA_SHORT, POLL_WANTED, (short) READY);
        poll.set(JAVA_SHORT, POLL_FOUND, (short) 0);
        try {
            int ready = answer((int) POLL.invokeExact(state, poll, 1L, waitMillis));
            return ready > 0 ? poll.get(JAVA_SHORT, POLL_FOUND) : ready;
        } catch (Throwable bug) {
            throw failed("poll", bug);
        }
    }

    /** Puts one of {@link Uapi}'s requests; at least 0 where it was granted. */
    int ioctl(int descriptor, long request, MemorySegment argument) {
        try {
            return answer((int) IOCTL.invokeExact(state, descriptor, request, argument));
        } catch (Throwable bug) {
            throw failed("ioctl", bug);
        }
    }

    private int answer(int result) {
        return result < 0 ? -(int) ERROR_NUMBER.get(state, 0L) : result;
    }

    private static IllegalStateException failed(String call, Throwable bug) {
        return new IllegalStateException("the call " + call + " cannot be made", bug);
    }
}
