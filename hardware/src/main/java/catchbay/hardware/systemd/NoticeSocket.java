package catchbay.hardware.systemd;

import catchbay.port.PortException;

import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemoryLayout;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.ValueLayout;
import java.lang.invoke.MethodHandle;
import java.nio.charset.StandardCharsets;

/**
 * A datagram socket to another program of this machine, of which Java has none. For one thread.
 *
 * <p>Source of calls, constants and layout: the Linux manual pages socket(2), sendto(2) and
 * unix(7).
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
final class NoticeSocket implements AutoCloseable {

    private static final int AF_UNIX = 1;
    private static final int SOCK_DGRAM = 2;
    private static final int SOCK_CLOEXEC = 0x80000;
    private static final int MSG_DONTWAIT = 0x40;
    private static final int MSG_NOSIGNAL = 0x4000;

    /** struct sockaddr_un: a short for the family, then the path. */
    private static final int PATH_AT = 2;

    private static final int PATH_BYTES_MAX = 108;

    private static final ValueLayout.OfInt INT = ValueLayout.JAVA_INT;
    private static final ValueLayout.OfLong LONG = ValueLayout.JAVA_LONG;
    private static final ValueLayout POINTER = ValueLayout.ADDRESS;
    private static final MethodHandle SOCKET = call("socket", INT, INT, INT, INT);
    private static final MethodHandle SENDTO =
            call("sendto", LONG, INT, POINTER, LONG, INT, POINTER, INT);
    private static final MethodHandle CLOSE = call("close", INT, INT);

    private final Arena arena = Arena.ofShared();
    private final MemorySegment address;
    private final int handle;

    private NoticeSocket(byte[] path, int handle) {
        this.handle = handle;
        // A path of the file system ends with a zero byte; an abstract name only with its length.
        boolean isAbstract = path[0] == 0;
        address = arena.allocate(PATH_AT + path.length + (isAbstract ? 0L : 1L), Short.BYTES);
        address.set(ValueLayout.JAVA_SHORT, 0, (short) AF_UNIX);
        MemorySegment.copy(path, 0, address, ValueLayout.JAVA_BYTE, PATH_AT, path.length);
    }

    /**
     * Opens a socket towards an address.
     *
     * @param address a path, or an abstract name with {@code @} before it
     * @throws PortException when the address is none, or the system gives no socket
     */
    static NoticeSocket to(String address) throws PortException {
        byte[] path = address.getBytes(StandardCharsets.UTF_8);
        boolean isAbstract = path[0] == '@';
        if (!isAbstract && path[0] != '/' || path.length < 2 || path.length >= PATH_BYTES_MAX) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "NOTIFY_SOCKET is '"
                            + address
                            + "', which names no socket; unset it, or let systemd set it"
                            + " (Type=notify).");
        }
        if (isAbstract) {
            path[0] = 0;
        }
        int handle;
        try {
            handle = (int) SOCKET.invokeExact(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
        } catch (Throwable failure) {
            throw new IllegalStateException("a socket cannot be opened", failure);
        }
        if (handle < 0) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The system gives no socket to "
                            + address
                            + "; set provider = \"none\" in [port.supervisor].");
        }
        return new NoticeSocket(path, handle);
    }

    /** Sends one message; false when nobody took it. Never waits. */
    boolean tell(String message) {
        byte[] bytes = message.getBytes(StandardCharsets.UTF_8);
        try (Arena once = Arena.ofConfined()) {
            MemorySegment text = once.allocateFrom(ValueLayout.JAVA_BYTE, bytes);
            long sent =
                    (long)
                            SENDTO.invokeExact(
                                    handle,
                                    text,
                                    (long) bytes.length,
                                    MSG_DONTWAIT | MSG_NOSIGNAL,
                                    address,
                                    (int) address.byteSize());
            return sent == bytes.length;
        } catch (Throwable failure) {
            throw new IllegalStateException("news cannot be sent", failure);
        }
    }

    @Override
    public void close() {
        try {
            int done = (int) CLOSE.invokeExact(handle);
            if (done != 0) {
                throw new IllegalStateException("a socket cannot be closed");
            }
        } catch (Throwable failure) {
            throw new IllegalStateException("a socket cannot be closed", failure);
        } finally {
            arena.close();
        }
    }

    private static MethodHandle call(String name, MemoryLayout result, MemoryLayout... arguments) {
        Linker linker = Linker.nativeLinker();
        return linker.downcallHandle(
                linker.defaultLookup().findOrThrow(name), FunctionDescriptor.of(result, arguments));
    }
}
