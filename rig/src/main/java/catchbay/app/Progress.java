package catchbay.app;

import catchbay.run.Ledger;
import catchbay.run.RunState;

import me.tongfei.progressbar.ConsoleProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;

import java.io.PrintStream;
import java.util.Locale;

/**
 * Tells a person how far a run is, on standard error: a line for each thing awaited, and a bar
 * while liquid is caught.
 */
final class Progress implements RunLoop.Watcher, AutoCloseable {

    private static final int BAR_COLUMNS = 70;

    /**
     * So long before the catch ends the bar gives its row free, for the question that may come
     * then.
     */
    private static final long ROW_FREE_NANOS = 3 * RunLoop.TURN_NANOS;

    private static final long SECOND = 1_000_000_000;

    private final PrintStream out;
    private final boolean bars;
    private String told = "";
    private long beganNanos = Ledger.NONE;
    private ProgressBar bar;

    /**
     * @param out where to tell
     * @param bars whether it is a terminal on which a bar can be redrawn in real time
     */
    Progress(PrintStream out, boolean bars) {
        this.out = out;
        this.bars = bars;
    }

    @Override
    public void after(RunState state, long nowNanos) {
        if (beganNanos == Ledger.NONE) {
            beganNanos = nowNanos;
        }
        String words = Words.of(state);
        if (!words.equals(told)) {
            endBar();
            told = words;
            out.println(
                    String.format(
                            Locale.ROOT, "%7.1f s  %s", (nowNanos - beganNanos) / 1e9, words));
        }
        if (bars
                && state instanceof RunState.Catching catching
                && catching.untilNanos() < Long.MAX_VALUE) {
            showBar(catching, nowNanos);
        }
    }

    private void showBar(RunState.Catching catching, long nowNanos) {
        long wholeNanos = catching.sensed().plan().catchNanos();
        long leftNanos = catching.untilNanos() - nowNanos;
        if (leftNanos <= ROW_FREE_NANOS) {
            endBar();
            return;
        }
        if (bar == null) {
            bar =
                    new ProgressBarBuilder()
                            .setTaskName("  catching")
                            .setInitialMax(wholeNanos / SECOND)
                            .setUnit(" s", 1)
                            .setStyle(ProgressBarStyle.ASCII)
                            .hideEta()
                            .setMaxRenderedLength(BAR_COLUMNS)
                            .setConsumer(new ConsoleProgressBarConsumer(out))
                            .build();
        }
        bar.stepTo((wholeNanos - leftNanos) / SECOND);
    }

    private void endBar() {
        if (bar != null) {
            bar.close();
            bar = null;
        }
    }

    @Override
    public void close() {
        endBar();
    }
}
