package catchbay.app;

import catchbay.port.Computer;
import catchbay.record.TraceText;
import catchbay.run.BayComputer;
import catchbay.run.RunState;

/**
 * Writes into a run's trace what the bay's computer says of itself: as the run begins, whenever it
 * changes, and as the run ends. Used by the loop's thread alone.
 */
final class ComputerWatch implements RunLoop.Watcher {

    private final Computer computer;
    private final TraceLog log;
    private final TraceText text = new TraceText();
    private BayComputer last = BayComputer.UNKNOWN;
    private BayComputer all = BayComputer.UNKNOWN;

    ComputerWatch(Computer computer, TraceLog log) {
        this.computer = computer;
        this.log = log;
    }

    /** Writes what was found out besides, with what the computer says now. */
    void tell(BayComputer besides, long nowNanos) {
        last = computer.state();
        write(last.and(besides), nowNanos);
    }

    @Override
    public void after(RunState state, long nowNanos) {
        BayComputer now = computer.state();
        if (!now.equals(last)) {
            last = now;
            write(now, nowNanos);
        }
    }

    /** All that was written so far, taken together. */
    BayComputer all() {
        return all;
    }

    private void write(BayComputer told, long nowNanos) {
        if (told.equals(BayComputer.UNKNOWN)) {
            return;
        }
        all = all.and(told);
        text.clear();
        text.computer(nowNanos, told);
        log.append(text.bytes(), 0, text.length(), nowNanos);
    }
}
