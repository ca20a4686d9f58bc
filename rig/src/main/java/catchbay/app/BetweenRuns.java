package catchbay.app;

import catchbay.port.PortException;
import catchbay.run.Question;
import catchbay.run.RunInput;

import java.util.Optional;
import java.util.function.Predicate;

/** Waits for a person between two runs. What the instruments say meanwhile belongs to neither. */
final class BetweenRuns {

    /** Why there is no answer when the time is over. */
    static final String NOBODY = "nobody answered";

    private final OpenBay bay;
    private final StopSignal stop;

    /** What ended a wait; null while an answer is awaited. */
    private String ended;

    private boolean answered;
    private Optional<String> name = Optional.empty();
    private Optional<String> unanswered = Optional.empty();

    /**
     * @param stop ends a wait from outside
     */
    BetweenRuns(OpenBay bay, StopSignal stop) {
        this.bay = bay;
        this.stop = stop;
    }

    /**
     * Waits for an answer to what was asked. Whoever stops means it, whatever else was pressed.
     *
     * @param nanosMost how long at most
     * @param answer whether an input is the answer
     * @return why there is none, as a sentence's part; empty once there is
     */
    Optional<String> awaited(long nanosMost, Predicate<RunInput> answer) {
        ended = null;
        answered = false;
        long until = bay.time().monotonicNanos() + nanosMost;
        while (!answered && ended == null) {
            long now = bay.time().monotonicNanos();
            if (now >= until) {
                return Optional.of(NOBODY);
            }
            drain(answer);
            bay.time().sleepUntil(now + RunLoop.TURN_NANOS);
        }
        return Optional.ofNullable(ended);
    }

    /**
     * Asks for the name of whoever has made sure of something.
     *
     * @param question one that is answered by a name
     * @param nanosMost how long at most
     * @return empty where nobody gave one, as {@link #unanswered()} tells
     */
    Optional<String> named(Question question, long nanosMost) {
        name = Optional.empty();
        bay.ports().operator().ask(question);
        unanswered =
                awaited(
                        nanosMost,
                        input -> {
                            Optional<String> given = nameIn(input);
                            name = given.or(() -> name);
                            return given.isPresent();
                        });
        return unanswered.isEmpty() ? name : Optional.empty();
    }

    /** Why nobody gave a name when it was last asked for, as a sentence's part. */
    Optional<String> unanswered() {
        return unanswered;
    }

    private static Optional<String> nameIn(RunInput input) {
        if (input instanceof RunInput.ChecklistConfirmed confirmed) {
            return Optional.of(confirmed.by());
        }
        return input instanceof RunInput.SpeedConfirmed confirmed
                ? Optional.of(confirmed.by())
                : Optional.empty();
    }

    private void drain(Predicate<RunInput> answer) {
        try {
            stop.drain(input -> take(input, answer));
            bay.ports().drain(input -> take(input, answer));
        } catch (PortException e) {
            ended = "a port failed (" + e.getMessage() + ")";
        }
    }

    private void take(RunInput input, Predicate<RunInput> answer) {
        if (input instanceof RunInput.StopPressed pressed) {
            ended = "ended by " + pressed.by();
        } else if (answer.test(input)) {
            answered = true;
        }
    }
}
