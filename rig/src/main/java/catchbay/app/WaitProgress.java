package catchbay.app;

import catchbay.record.LiveText;
import catchbay.run.LiveWait;

import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.function.Supplier;

/**
 * Tells whoever looks on what a person is awaited for between two runs, so that what was told of
 * the run before does not stand there for minutes. As {@link Progress}, it costs the wait no more
 * than handing on.
 */
final class WaitProgress {

    /**
     * What is awaited.
     *
     * @param words as the person is asked; may change while it is awaited
     * @param next what comes next once it is there
     */
    record Awaited(Supplier<String> words, String next) {

        /** What comes after most of it, though something else may be asked on the way there. */
        static final String CATCH = "the next catch";

        /** What is awaited before the next catch. */
        static Awaited beforeCatch(Supplier<String> words) {
            return new Awaited(words, CATCH);
        }
    }

    private static final String DONE = "what was awaited is there";

    private final LiveEvents events;
    private Optional<String> sweep = Optional.empty();
    private OptionalInt leg = OptionalInt.empty();
    private Awaited awaited;
    private long begunNanos;
    private long untilNanos;
    private long toldNanos;

    WaitProgress(LiveEvents events) {
        this.events = events;
    }

    /** The waits to come belong to this sweep. */
    void sweep(String name) {
        sweep = Optional.of(name);
    }

    /** What leg the next catch belongs to; empty while nobody knows. */
    void leg(OptionalInt number) {
        leg = number;
    }

    /**
     * A wait begins.
     *
     * @param nanosMost how long it may last
     */
    void begun(Awaited what, long nowNanos, long nanosMost) {
        awaited = what;
        begunNanos = nowNanos;
        untilNanos = nowNanos + nanosMost;
        told(nowNanos);
    }

    /** The wait goes on. */
    void after(long nowNanos) {
        if (nowNanos - toldNanos >= Progress.EVENT_NANOS) {
            told(nowNanos);
        }
    }

    /**
     * The wait is over. Told as well, since nothing else may come that takes it back.
     *
     * @param unanswered why there is no answer; empty where there is one
     */
    void over(Optional<String> unanswered, long nowNanos) {
        tell(unanswered.orElse(DONE), Optional.empty(), nowNanos, OptionalLong.empty());
    }

    private void told(long nowNanos) {
        toldNanos = nowNanos;
        tell(
                awaited.words.get(),
                Optional.of(awaited.next),
                nowNanos,
                OptionalLong.of(Math.max(0, untilNanos - nowNanos)));
    }

    private void tell(String words, Optional<String> next, long nowNanos, OptionalLong left) {
        LiveWait wait = new LiveWait(sweep, leg, words, next, nowNanos - begunNanos, left);
        events.tell(() -> LiveText.of(wait));
    }
}
