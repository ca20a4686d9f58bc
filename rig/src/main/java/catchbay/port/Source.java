package catchbay.port;

import catchbay.run.RunInput;

import java.util.function.Consumer;

/**
 * Something that tells a run what happens. A source may read on a thread of its own, but only into
 * a bounded buffer; {@link #drain} empties it on the loop's thread.
 */
public interface Source extends AutoCloseable {

    /**
     * Hands over what has come since the last drain, in the order in which it came, and returns at
     * once. What one call hands over is bounded by the source's buffer. A full buffer must show
     * itself: as missing numbers for edges, as a {@link PortException} for everything else.
     */
    void drain(Consumer<RunInput> into) throws PortException;

    /** One that never has anything to tell. */
    Source NOTHING =
            new Source() {
                @Override
                public void drain(Consumer<RunInput> into) {}

                @Override
                public void close() {}
            };

    @Override
    void close();
}
