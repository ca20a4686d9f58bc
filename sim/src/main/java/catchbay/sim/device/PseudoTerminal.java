package catchbay.sim.device;

import java.io.IOException;
import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemoryLayout;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.StructLayout;
import java.lang.foreign.ValueLayout;
import java.lang.invoke.MethodHandle;
import java.lang.invoke.VarHandle;
import java.nio.file.Path;

/**
 * A pseudo-terminal of the Linux kernel, held at its master end: what is written here arrives at
 * {@link #path()} as if it had come over a serial line, and the other way round. Raw: no echo, no
 * line editing, no byte changed. Not for several threads at once.
 *
 * <p>Source of calls, constants and layouts: the Linux manual pages posix_openpt(3), ptsname_r(3),
 * termios(3), poll(2) and the generic headers of the kernel's user interface, which x86-64 and
 * aarch64 share.
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
final class PseudoTerminal implements AutoCloseable {

    private static final int O_RDWR = 2;
    private static final int O_NOCTTY = 0x100;
    private static final int O_NONBLOCK = 0x800;
    private static final int O_CLOEXEC = 0x80000;
    private static final int TCSANOW = 0;
    private static final short POLLIN = 1;
    private static final short POLLHUP = 16;
    private static final int EINTR = 4;
    private static final int EIO = 5;
    private static final int EAGAIN = 11;

    /** Larger than struct termios (60 bytes with the generic headers). */
    private static final int TERMIOS_BYTES = 128;

    private static final int PATH_BYTES = 64;
    private static final int BUFFER_BYTES = 4096;

    // struct pollfd: int fd, short events, short revents.
    private static final long POLL_BYTES = 8;
    private static final long FD_AT = 0;
    private static final long EVENTS_AT = 4;
    private static final long REVENTS_AT = 6;

    private static final Linker LINKER = Linker.nativeLinker();
    private static final Linker.Option ERRNO = Linker.Option.captureCallState("errno");
    private static final StructLayout CALL_STATE = Linker.Option.captureStateLayout();
    private static final VarHandle ERRNO_OF =
            CALL_STATE.varHandle(MemoryLayout.PathElement.groupElement("errno"));

    private static final ValueLayout.OfInt INT = ValueLayout.JAVA_INT;
    private static final ValueLayout.OfLong LONG = ValueLayout.JAVA_LONG;
    private static final ValueLayout POINTER = ValueLayout.ADDRESS;

    private static final MethodHandle OPENPT = call("posix_openpt", INT, INT);
    private static final MethodHandle GRANTPT = call("grantpt", INT, INT);
    private static final MethodHandle UNLOCKPT = call("unlockpt", INT, INT);
    private static final MethodHandle PTSNAME = call("ptsname_r", INT, INT, POINTER, LONG);
    private static final MethodHandle TCGETATTR = call("tcgetattr", INT, INT, POINTER);
    private static final MethodHandle TCSETATTR = call("tcsetattr", INT, INT, INT, POINTER);
    private static final MethodHandle READ = call("read", LONG, INT, POINTER, LONG);
    private static final MethodHandle WRITE = call("write", LONG, INT, POINTER, LONG);
    private static final MethodHandle POLL_CALL = call("poll", INT, POINTER, LONG, INT);
    private static final MethodHandle CLOSE = call("close", INT, INT);
    private static final MethodHandle CFMAKERAW =
            LINKER.downcallHandle(
                    LINKER.defaultLookup().findOrThrow("cfmakeraw"),
                    FunctionDescriptor.ofVoid(POINTER));
    private static final MethodHandle OPEN =
            LINKER.downcallHandle(
                    LINKER.defaultLookup().findOrThrow("open"),
                    FunctionDescriptor.of(INT, POINTER, INT),
                    Linker.Option.firstVariadicArg(2),
                    ERRNO);

    private final Arena arena = Arena.ofShared();
    private final MemorySegment callState = arena.allocate(CALL_STATE);
    private final MemorySegment poll = arena.allocate(POLL_BYTES, Integer.BYTES);
    private final MemorySegment buffer = arena.allocate(BUFFER_BYTES);
    private final int master;
    private final Path path;
    private boolean closed;

    /**
     * Opens a new pseudo-terminal.
     *
     * @throws IOException when the kernel gives none
     */
    PseudoTerminal() throws IOException {
        int opened = -1;
        try {
            int flags = O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC;
            opened = check("posix_openpt", (int) OPENPT.invoke(callState, flags));
            check("grantpt", (int) GRANTPT.invoke(callState, opened));
            check("unlockpt", (int) UNLOCKPT.invoke(callState, opened));
            MemorySegment name = arena.allocate(PATH_BYTES);
            // This call alone answers with a positive error number.
            check("ptsname_r", -(int) PTSNAME.invoke(callState, opened, name, (long) PATH_BYTES));
            makeRaw(opened);
            path = Path.of(name.getString(0));
            openAndCloseOnce(name);
        } catch (Throwable failure) {
            release(opened);
            throw rethrown(failure);
        }
        master = opened;
    }

    /** What a program opens to talk to us, as in {@code /dev/pts/4}. */
    Path path() {
        return path;
    }

    /** Whether a program has the line open. */
    boolean isListenedTo() throws IOException {
        return (events(0) & POLLHUP) == 0;
    }

    /**
     * Reads what the program has written.
     *
     * @param into where the bytes go
     * @param waitMillis how long to wait for the first byte
     * @return how many bytes came; 0 when none came in time; -1 when no program has the line open
     */
    int read(byte[] into, int waitMillis) throws IOException {
        int events = events(waitMillis);
        if ((events & POLLIN) == 0) {
            return (events & POLLHUP) != 0 ? -1 : 0;
        }
        try {
            long room = Math.min(into.length, BUFFER_BYTES);
            long got = (long) READ.invoke(callState, master, buffer, room);
            if (got >= 0) {
                MemorySegment.copy(buffer, ValueLayout.JAVA_BYTE, 0, into, 0, (int) got);
                return (int) got;
            }
            return switch (errno()) {
                case EIO -> -1;
                case EAGAIN, EINTR -> 0;
                default -> throw failed("read");
            };
        } catch (Throwable failure) {
            throw rethrown(failure);
        }
    }

    /**
     * Sends bytes to the program. What its side has no room for is lost, as on a line without flow
     * control.
     *
     * @return how many bytes were taken
     */
    int write(byte[] bytes) throws IOException {
        int sent = 0;
        try {
            while (sent < bytes.length) {
                int part = Math.min(bytes.length - sent, BUFFER_BYTES);
                MemorySegment.copy(bytes, sent, buffer, ValueLayout.JAVA_BYTE, 0, part);
                long taken = (long) WRITE.invoke(callState, master, buffer, (long) part);
                if (taken < 0 && errno() == EAGAIN || taken == 0) {
                    return sent;
                }
                if (taken < 0 && errno() != EINTR) {
                    throw failed("write");
                }
                sent += (int) Math.max(taken, 0);
            }
            return sent;
        } catch (Throwable failure) {
            throw rethrown(failure);
        }
    }

    /** Ends the line; a program that has it open sees its device go away. */
    @Override
    public void close() {
        if (!closed) {
            closed = true;
            release(master);
        }
    }

    /** What has happened on the line, after waiting for it; 0 when nothing has. */
    private int events(int waitMillis) throws IOException {
        poll.set(INT, FD_AT, master);
        poll.set(ValueLayout.JAVA_SHORT, EVENTS_AT, POLLIN);
        poll.set(ValueLayout.JAVA_SHORT, REVENTS_AT, (short) 0);
        try {
            int ready = (int) POLL_CALL.invoke(callState, poll, 1L, waitMillis);
            if (ready < 0 && errno() != EINTR) {
                throw failed("poll");
            }
            return ready > 0 ? poll.get(ValueLayout.JAVA_SHORT, REVENTS_AT) : 0;
        } catch (Throwable failure) {
            throw rethrown(failure);
        }
    }

    private void makeRaw(int opened) throws Throwable {
        MemorySegment termios = arena.allocate(TERMIOS_BYTES, Long.BYTES);
        check("tcgetattr", (int) TCGETATTR.invoke(callState, opened, termios));
        CFMAKERAW.invoke(termios);
        check("tcsetattr", (int) TCSETATTR.invoke(callState, opened, TCSANOW, termios));
    }

    /**
     * Until a line was closed for the first time the kernel does not tell that nobody has it open.
     */
    private void openAndCloseOnce(MemorySegment name) throws Throwable {
        int other =
                check("open", (int) OPEN.invoke(callState, name, O_RDWR | O_NOCTTY | O_CLOEXEC));
        check("close", (int) CLOSE.invoke(callState, other));
    }

    private void release(int opened) {
        try {
            if (opened >= 0) {
                check("close", (int) CLOSE.invoke(callState, opened));
            }
        } catch (Throwable failure) {
            throw new IllegalStateException("closing a pseudo-terminal failed", failure);
        } finally {
            arena.close();
        }
    }

    private int check(String what, int result) throws IOException {
        if (result < 0) {
            throw failed(what);
        }
        return result;
    }

    private int errno() {
        return (int) ERRNO_OF.get(callState, 0L);
    }

    private IOException failed(String what) {
        return new IOException(what + " failed on a pseudo-terminal, errno " + errno());
    }

    private static IOException rethrown(Throwable failure) {
        return switch (failure) {
            case IOException io -> io;
            case RuntimeException bug -> throw bug;
            case Error error -> throw error;
            default -> throw new IllegalStateException(failure);
        };
    }

    private static MethodHandle call(String name, MemoryLayout result, MemoryLayout... arguments) {
        return LINKER.downcallHandle(
                LINKER.defaultLookup().findOrThrow(name),
                FunctionDescriptor.of(result, arguments),
                ERRNO);
    }
}
