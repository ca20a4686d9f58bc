package catchbay.app;

import catchbay.app.WaitProgress.Awaited;
import catchbay.port.Operator;
import catchbay.port.PortException;
import catchbay.run.BayContact;
import catchbay.run.CheckTask;
import catchbay.run.Part;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.SweepTask;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Predicate;

/**
 * Asks and waits for a person between two runs, and knows when one was last there. What the
 * instruments say meanwhile belongs to neither run.
 */
final class BetweenRuns {

    /**
     * Who has confirmed a list of cautions, and, where speed is sent, what is to be known of it.
     */
    record Confirmed(String by, Optional<String> speedBy) {}

    /** Why there is no answer when the time is over. */
    static final String NOBODY = "nobody answered";

    private final OpenBay bay;
    private final StopSignal stop;
    private final WaitProgress progress;

    /** What ended a wait; null while an answer is awaited. */
    private String ended;

    private boolean answered;
    private Optional<String> name = Optional.empty();
    private Optional<String> unanswered = Optional.empty();
    private long presentNanos;

    /**
     * @param stop ends a wait from outside
     */
    BetweenRuns(OpenBay bay, StopSignal stop) {
        this.bay = bay;
        this.stop = stop;
        this.progress = new WaitProgress(bay.events());
    }

    /** Whoever looks on is told that what is awaited from now on belongs to this sweep. */
    void ofSweep(String name) {
        progress.sweep(name);
    }

    /** Likewise, that it is awaited before a catch of this leg; until that has run. */
    void beforeLeg(int number) {
        progress.leg(OptionalInt.of(number));
    }

    /**
     * Waits for an answer to what was asked. Whoever stops means it, whatever else was pressed.
     *
     * @param what what was asked, for whoever looks on
     * @param nanosMost how long at most
     * @param answer whether an input is the answer
     * @return why there is none, as a sentence's part; empty once there is
     */
    Optional<String> awaited(Awaited what, long nanosMost, Predicate<RunInput> answer) {
        unanswered = waited(what, nanosMost, answer);
        if (unanswered.isEmpty()) {
            presentNanos = bay.time().monotonicNanos();
        }
        return unanswered;
    }

    private Optional<String> waited(Awaited what, long nanosMost, Predicate<RunInput> answer) {
        progress.begun(what, bay.time().monotonicNanos(), nanosMost);
        Optional<String> none = waited(nanosMost, answer);
        progress.over(none, bay.time().monotonicNanos());
        return none;
    }

    private Optional<String> waited(long nanosMost, Predicate<RunInput> answer) {
        ended = null;
        answered = false;
        long until = bay.time().monotonicNanos() + nanosMost;
        while (!answered && ended == null) {
            long now = bay.time().monotonicNanos();
            if (now >= until) {
                return Optional.of(NOBODY);
            }
            progress.after(now);
            drain(answer);
            bay.time().sleepUntil(now + RunLoop.TURN_NANOS);
        }
        return Optional.ofNullable(ended);
    }

    /** Why there was no answer when one was last awaited, as a sentence's part. */
    Optional<String> unanswered() {
        return unanswered;
    }

    /**
     * Waits until no contact is active any more that would end the next run as it begins; what was
     * confirmed before that would be worth nothing.
     *
     * @param nanosMost how long at most
     * @return false where one stays so, as {@link #unanswered()} tells
     */
    boolean cleared(long nanosMost) {
        Optional<BayContact> held = bay.held();
        if (held.isEmpty()) {
            return true;
        }
        // Another one may be active by the time that the first no longer is.
        unanswered =
                waited(
                        new Awaited(() -> heldWords(bay.held().or(() -> held)), "the checklist"),
                        nanosMost,
                        _ -> bay.held().isEmpty());
        if (unanswered.equals(Optional.of(NOBODY))) {
            unanswered = Optional.of("contact " + held.get().key() + " is still active");
        }
        return unanswered.isEmpty();
    }

    private static String heldWords(Optional<BayContact> held) {
        return "Contact " + held.orElseThrow().key() + " is still active.";
    }

    /**
     * Has cautions confirmed by name, and, where speed is sent, what is to be known of that.
     *
     * @param nanosMost how long each name is awaited
     * @return empty where somebody did not, as {@link #unanswered()} tells
     */
    Optional<Confirmed> confirmed(List<String> cautions, boolean sendsSpeed, long nanosMost) {
        Operator operator = bay.ports().operator();
        CheckTask list = new CheckTask.Cautions(cautions);
        String next = sendsSpeed ? "the checklist for speed" : Awaited.CATCH;
        operator.ask(list);
        Optional<String> by = named(new Awaited(list::words, next), nanosMost);
        if (by.isEmpty() || !sendsSpeed) {
            return by.map(one -> new Confirmed(one, Optional.empty()));
        }
        operator.ask(Question.SPEED_CHECKLIST);
        return named(Awaited.beforeCatch(Question.SPEED_CHECKLIST::words), nanosMost)
                .map(speed -> new Confirmed(by.get(), Optional.of(speed)));
    }

    private Optional<String> named(Awaited what, long nanosMost) {
        name = Optional.empty();
        awaited(
                what,
                nanosMost,
                input -> {
                    Optional<String> given = nameIn(input);
                    name = given.or(() -> name);
                    return given.isPresent();
                });
        return unanswered.isEmpty() ? name : Optional.empty();
    }

    /** Has a person do something; false where nobody did, as {@link #unanswered()} tells. */
    boolean done(SweepTask task, long nanosMost) {
        bay.ports().operator().ask(task);
        return awaited(
                        Awaited.beforeCatch(task::words),
                        nanosMost,
                        input ->
                                input instanceof RunInput.Done(long _, Question question)
                                        && question == Question.SWEEP_STEP)
                .isEmpty();
    }

    /**
     * Whether somebody is known to be there long enough for a run to begin: whoever would be
     * reminded as soon as it has begun is asked before it, while nothing moves.
     *
     * @param presence the interval within which somebody must show to be there
     * @return false where nobody did, as {@link #unanswered()} tells
     */
    boolean present(Part.Presence presence) {
        return !presence.reminds(presenceLeftNanos(presence.intervalNanos()))
                || shown(presence.noticeNanos());
    }

    /** Has whoever is there show it; false where nobody did, as {@link #unanswered()} tells. */
    private boolean shown(long nanosMost) {
        bay.ports().operator().ask(Question.PRESENCE);
        Awaited what = Awaited.beforeCatch(Question.PRESENCE::words);
        return awaited(what, nanosMost, BetweenRuns::shows).isEmpty();
    }

    private static boolean shows(RunInput input) {
        return input instanceof RunInput.Done(long _, Question question)
                        && question == Question.PRESENCE
                || input instanceof RunInput.Contact(long _, BayContact contact, boolean active)
                        && contact == BayContact.ATTENDANT
                        && active;
    }

    /** A run has ended, in which somebody may have shown to be there. */
    void ran() {
        presentNanos = Math.max(presentNanos, bay.presentNanos());
        progress.leg(OptionalInt.empty());
    }

    /** How much is left of an interval within which somebody must show to be there, ns. */
    long presenceLeftNanos(long intervalNanos) {
        return presentNanos + intervalNanos - bay.time().monotonicNanos();
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
            ended = e.getMessage().replaceFirst("\\.$", "");
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
