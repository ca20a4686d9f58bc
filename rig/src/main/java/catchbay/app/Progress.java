package catchbay.app;

import catchbay.record.LiveText;
import catchbay.run.LiveView;
import catchbay.run.RunState;

import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;

/**
 * Tells a person how a run goes: a line for each thing awaited, and below them, on a terminal, rows
 * with how it stands right now. On anything else those come as a line every ten seconds. Costs the
 * loop no more than handing its state on.
 */
final class Progress implements RunLoop.Watcher, AutoCloseable {

    /** Between two lines while nothing else is told, ns. */
    private static final long LINE_NANOS = 10_000_000_000L;

    /** Between two events while the state stays the same, ns. */
    static final long EVENT_NANOS = 1_000_000_000L;

    /** What the loop hands on: a state, and since when. */
    private record Seen(RunState state, long nowNanos, long begunNanos, long sinceNanos) {
        LiveView view() {
            return LiveView.of(state, nowNanos, begunNanos, sinceNanos);
        }
    }

    private final Screen screen;
    private final boolean lively;
    private final LiveEvents events;
    private final String run;
    private long eventNanos;
    private String told = "";
    private long toldNanos;

    /** The newest; null before the first turn. */
    private volatile Seen seen;

    /**
     * @param screen where to tell
     * @param lively whether a person can follow: not in virtual time, where hours go by in a moment
     */
    Progress(Screen screen, boolean lively) {
        this(screen, lively, LiveEvents.NONE, "");
    }

    /**
     * As {@link #Progress(Screen, boolean)}, with others who look on by these events.
     *
     * @param run the run's name, as they are told it
     */
    Progress(Screen screen, boolean lively, LiveEvents events, String run) {
        this.screen = screen;
        this.lively = lively;
        this.events = events;
        this.run = run;
        if (lively) {
            screen.show(this::rows);
        }
    }

    @Override
    public void after(RunState state, long nowNanos) {
        Seen before = seen;
        long begun = before == null ? nowNanos : before.begunNanos;
        boolean same = before != null && before.state.key().equals(state.key());
        Seen next = new Seen(state, nowNanos, begun, same ? before.sinceNanos : nowNanos);
        seen = next;
        if (!same || nowNanos - eventNanos >= EVENT_NANOS) {
            eventNanos = nowNanos;
            events.tell(
                    () -> LiveText.of(run, next.view(), Words.of(state), LiveWords.next(state)));
        }
        String words = Words.of(state);
        if (!words.equals(told)) {
            told = words;
            tell(next, () -> words);
        } else if (lively && !screen.drawsRows() && nowNanos - toldNanos >= LINE_NANOS) {
            tell(next, () -> LiveWords.line(next.view()));
        }
    }

    private void tell(Seen now, Supplier<String> words) {
        toldNanos = now.nowNanos;
        double seconds = (now.nowNanos - now.begunNanos) / 1e9;
        screen.tell(() -> String.format(Locale.ROOT, "%7.1f s  %s", seconds, words.get()));
    }

    /**
     * Called by the screen's thread. A question has the rows to itself, and what is typed there.
     */
    private List<String> rows() {
        Seen now = seen;
        if (now == null) {
            return List.of();
        }
        LiveView view = now.view();
        return view.awaitsPerson()
                ? List.of()
                : LiveWords.rows(Words.of(now.state), LiveWords.next(now.state), view);
    }

    @Override
    public void close() {
        screen.hide();
    }
}
