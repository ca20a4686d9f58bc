package catchbay.signal;

import java.util.function.Consumer;

/**
 * Cuts a stream of bytes into frames, however the bytes are broken up on their way. A frame is
 * handed over as a text of one character (0 to 255) a byte. What does not belong to a frame is
 * thrown away and counted, byte by byte. Not for several threads at once.
 */
public interface Framer {

    /**
     * What has been seen so far.
     *
     * @param frames frames handed over
     * @param bytesDiscarded bytes that belong to no frame handed over; line ends are not counted
     * @param framesRefused frames begun and given up: cut off by the next one, or too long
     */
    record Counts(long frames, long bytesDiscarded, long framesRefused) {}

    /**
     * Takes the first {@code count} bytes and hands over every frame that they complete, in order.
     */
    void take(byte[] bytes, int count, Consumer<String> into);

    /**
     * The line broke: a frame begun is given up, and reading starts afresh with the next whole one.
     */
    void lose();

    /** What has been seen so far. */
    Counts counts();
}
