package catchbay.signal;

import java.util.function.Function;

/**
 * What came of reading one frame or line: a value, or a refusal.
 *
 * @param <T> what a frame of this kind says
 */
public sealed interface Decoded<T> {

    /** The same with the value turned into another; a refusal stays one. */
    default <R> Decoded<R> map(Function<? super T, ? extends R> turn) {
        return switch (this) {
            case Value<T>(T value) -> new Value<>(turn.apply(value));
            case Refused<T>(String reason) -> new Refused<>(reason);
        };
    }

    /** The frame was understood. */
    record Value<T>(T value) implements Decoded<T> {}

    /** The frame is not used; the reason says what is wrong with it. */
    record Refused<T>(String reason) implements Decoded<T> {}
}
