package catchbay.signal;

/**
 * What came of reading one frame or line: a value, or a refusal.
 *
 * @param <T> what a frame of this kind says
 */
public sealed interface Decoded<T> {

    /** The frame was understood. */
    record Value<T>(T value) implements Decoded<T> {}

    /** The frame is not used; the reason says what is wrong with it. */
    record Refused<T>(String reason) implements Decoded<T> {}
}
