package catchbay.hardware.systemd;

import java.lang.foreign.Arena;
import java.lang.foreign.FunctionDescriptor;
import java.lang.foreign.Linker;
import java.lang.foreign.MemoryLayout;
import java.lang.foreign.MemorySegment;
import java.lang.foreign.ValueLayout;
import java.lang.invoke.MethodHandle;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/**
 * The service manager's end of a real datagram socket: what a service tells arrives here. Calls and
 * constants: the Linux manual pages socket(2), bind(2), recv(2) and unix(7).
 */
@SuppressWarnings("restricted") // the foreign-function API is the point of this class
public final class NoticeBox implements AutoCloseable {

    private static final int AF_UNIX = 1;
    private static final int SOCK_DGRAM_CLOEXEC = 0x80002;
    private static final int MSG_DONTWAIT = 0x40;
    private static final int BYTES_MAX = 4096;
    private static final long PATIENCE_NANOS = 30_000_000_000L;
    private static final ValueLayout.OfInt INT = ValueLayout.JAVA_INT;
    private static final ValueLayout.OfLong LONG = ValueLayout.JAVA_LONG;
    private static final ValueLayout POINTER = ValueLayout.ADDRESS;

    private final Arena arena = Arena.ofShared();
    private final MemorySegment buffer = arena.allocate(BYTES_MAX);
    private final List<String> all = new ArrayList<>();
    private final int handle;

    /**
     * Opens a box at an address.
     *
     * @param address a path, or an abstract name with @ before it
     */
    public NoticeBox(String address) throws Throwable {
        byte[] path = address.getBytes(StandardCharsets.UTF_8);
        boolean isAbstract = path[0] == '@';
        MemorySegment name = arena.allocate(2 + path.length + (isAbstract ? 0 : 1), 2);
        name.set(ValueLayout.JAVA_SHORT, 0, (short) AF_UNIX);
        MemorySegment.copy(path, 0, name, ValueLayout.JAVA_BYTE, 2, path.length);
        if (isAbstract) {
            name.set(ValueLayout.JAVA_BYTE, 2, (byte) 0);
        }
        handle =
                (int)
                        call("socket", INT, INT, INT, INT)
                                .invokeExact(AF_UNIX, SOCK_DGRAM_CLOEXEC, 0);
        int bound =
                (int)
                        call("bind", INT, INT, POINTER, INT)
                                .invokeExact(handle, name, (int) name.byteSize());
        if (handle < 0 || bound != 0) {
            throw new AssertionError("no box at " + address);
        }
    }

    /** Waits for news that please; answers all that came so far. */
    public List<String> await(Predicate<String> pleasing) throws Throwable {
        long deadline = System.nanoTime() + PATIENCE_NANOS;
        while (all.stream().noneMatch(pleasing)) {
            if (System.nanoTime() > deadline) {
                throw new AssertionError("only " + all);
            }
            Thread.sleep(5);
            take();
        }
        return List.copyOf(all);
    }

    /** Everything that comes within a time, and nothing that came before. */
    public List<String> within(long millis) throws Throwable {
        take();
        int before = all.size();
        Thread.sleep(millis);
        take();
        return List.copyOf(all.subList(before, all.size()));
    }

    private void take() throws Throwable {
        MethodHandle receive = call("recv", LONG, INT, POINTER, LONG, INT);
        while (true) {
            long got = (long) receive.invokeExact(handle, buffer, (long) BYTES_MAX, MSG_DONTWAIT);
            if (got < 0) {
                return;
            }
            byte[] bytes = buffer.asSlice(0, got).toArray(ValueLayout.JAVA_BYTE);
            all.add(new String(bytes, StandardCharsets.UTF_8));
        }
    }

    @Override
    public void close() {
        try {
            int done = (int) call("close", INT, INT).invokeExact(handle);
            if (done != 0) {
                throw new AssertionError("the box cannot be closed");
            }
        } catch (Throwable failure) {
            throw new AssertionError(failure);
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
