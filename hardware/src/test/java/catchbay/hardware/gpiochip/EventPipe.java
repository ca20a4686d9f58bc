package catchbay.hardware.gpiochip;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * A named pipe that stands in for a line request: events go in at one end as the kernel writes
 * them.
 */
final class EventPipe implements AutoCloseable {

    private final OutputStream in;
    final LineRequest request;

    EventPipe(Path folder) throws IOException, InterruptedException {
        Path path = folder.resolve("events");
        if (new ProcessBuilder("mkfifo", path.toString()).start().waitFor() != 0) {
            throw new IOException("no pipe can be made");
        }
        Kernel kernel = new Kernel();
        // Opened to read and write, so that neither end waits for the other.
        request = new LineRequest("line 4 of a pipe", kernel.open(path.toString()), kernel);
        in = Files.newOutputStream(path);
    }

    static ByteBuffer events(int count) {
        return ByteBuffer.allocate(count * Uapi.EVENT_BYTES).order(ByteOrder.LITTLE_ENDIAN);
    }

    static void put(ByteBuffer events, long stampNanos, int sequence, int lineSequence) {
        int at = events.position();
        events.putLong(at, stampNanos)
                .putInt(at + Uapi.EVENT_ID, Uapi.EVENT_RISING)
                .putInt(at + Uapi.EVENT_OFFSET, 4)
                .putInt(at + Uapi.EVENT_SEQUENCE, sequence)
                .putInt(at + Uapi.EVENT_LINE_SEQUENCE, lineSequence)
                .position(at + Uapi.EVENT_BYTES);
    }

    void write(ByteBuffer events) throws IOException {
        in.write(events.array(), 0, events.position());
        in.flush();
    }

    /** One event in one write. */
    void write(long stampNanos, int sequence, int lineSequence) throws IOException {
        ByteBuffer event = events(1);
        put(event, stampNanos, sequence, lineSequence);
        write(event);
    }

    @Override
    public void close() throws IOException {
        in.close();
        request.close();
    }
}
