package catchbay.signal;

import java.util.function.Consumer;

/**
 * Cuts text protocols into frames by the bytes with which their frames begin and end. Not for
 * several threads at once.
 */
public final class ByteFramer implements Framer {

    /** Marks a framer of lines, whose frames begin wherever the one before has ended. */
    private static final int NO_START = -1;

    private static final char LF = '\n';
    private static final char CR = '\r';

    private final int start;
    private final char[] frame;
    private int length;
    private boolean inFrame;
    private long frames;
    private long bytesDiscarded;
    private long framesRefused;

    private ByteFramer(int start, int lengthMax) {
        if (lengthMax < 2) {
            throw new IllegalArgumentException(
                    "a frame must be allowed at least 2 bytes, was " + lengthMax);
        }
        this.start = start;
        this.frame = new char[lengthMax];
    }

    /**
     * Frames that begin with a line feed and end with a carriage return; both belong to the frame.
     * A line feed inside a frame begins the next one, so that the rest of a frame cut short is
     * never taken for part of another.
     *
     * @param lengthMax the longest frame, bytes with both ends, >= 2
     */
    public static ByteFramer lineFeedToReturn(int lengthMax) {
        return new ByteFramer(LF, lengthMax);
    }

    /**
     * Lines that end with carriage return, line feed, or both, which are left off; empty lines are
     * skipped. What comes before the first line end may be the tail of a line, and is thrown away.
     *
     * @param lengthMax the longest line, bytes without its end, >= 2
     */
    public static ByteFramer lines(int lengthMax) {
        return new ByteFramer(NO_START, lengthMax);
    }

    @Override
    public void take(byte[] bytes, int count, Consumer<String> into) {
        for (int i = 0; i < count; i++) {
            char next = (char) (bytes[i] & 0xff);
            if (start == NO_START) {
                takeOfLine(next, into);
            } else {
                takeOfFrame(next, into);
            }
        }
    }

    @Override
    public void lose() {
        giveUp();
        inFrame = false;
    }

    @Override
    public Counts counts() {
        return new Counts(frames, bytesDiscarded, framesRefused);
    }

    private void takeOfFrame(char next, Consumer<String> into) {
        if (next == start) {
            giveUp();
            inFrame = true;
        }
        if (append(next) && next == CR) {
            handOver(into);
            inFrame = false;
        }
    }

    private void takeOfLine(char next, Consumer<String> into) {
        if (next != CR && next != LF) {
            append(next);
            return;
        }
        if (length > 0) {
            handOver(into);
        }
        inFrame = true;
    }

    private boolean append(char next) {
        if (!inFrame) {
            bytesDiscarded++;
            return false;
        }
        if (length == frame.length) {
            giveUp();
            inFrame = false;
            bytesDiscarded++;
            return false;
        }
        frame[length++] = next;
        return true;
    }

    private void handOver(Consumer<String> into) {
        String whole = new String(frame, 0, length);
        length = 0;
        frames++;
        into.accept(whole);
    }

    private void giveUp() {
        if (length > 0) {
            bytesDiscarded += length;
            framesRefused++;
            length = 0;
        }
    }
}
