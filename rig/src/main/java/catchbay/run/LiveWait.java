package catchbay.run;

import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;

/**
 * What is awaited of a person between two runs, at one moment, for whoever looks on; as {@link
 * LiveView} of a run.
 *
 * @param sweep of which sweep, where it is one
 * @param leg before a catch of which leg of it, where that is known yet
 * @param words what is awaited, or how the wait has ended
 * @param next what comes next while all goes well; empty once the wait is over
 * @param stateNanos since it is awaited, ns
 * @param leftNanos how long it is awaited yet at most, ns; empty once the wait is over
 */
public record LiveWait(
        Optional<String> sweep,
        OptionalInt leg,
        String words,
        Optional<String> next,
        long stateNanos,
        OptionalLong leftNanos) {

    /** The state's key, which is none of a run's. */
    public static final String STATE = "between-catches";

    /** Whether the answer is still awaited. */
    public boolean awaitsPerson() {
        return leftNanos.isPresent();
    }
}
