package catchbay.app;

import catchbay.quantity.VolumeUnit;
import catchbay.run.HuntPhase;
import catchbay.run.HuntReading;
import catchbay.run.HuntState;
import catchbay.run.LiveView;

import java.util.List;
import java.util.Locale;

/**
 * Tells a person how a hunt goes: what it waits for, what flows now while a valve is set by it, and
 * each step as it ends.
 */
final class HuntProgress implements HuntLoop.Watcher {

    /** How often the flow is told while somebody sets it, ns. */
    private static final long FLOW_NANOS = 2_000_000_000L;

    private final Screen screen;
    private final boolean lively;
    private int told;
    private String doing = "";
    private long flowNanos;

    /**
     * @param screen where to tell
     * @param lively whether a person can follow: not in virtual time
     */
    HuntProgress(Screen screen, boolean lively) {
        this.screen = screen;
        this.lively = lively;
    }

    @Override
    public void after(HuntState state, long nowNanos) {
        List<HuntReading> readings = state.readings();
        for (; told < readings.size(); told++) {
            HuntReading reading = readings.get(told);
            screen.tell(() -> HuntWords.step(reading));
        }
        String now = HuntWords.doing(state.phase());
        if (!now.equals(doing)) {
            doing = now;
            flowNanos = nowNanos;
            screen.tell(() -> now);
        } else if (lively
                && state.phase() instanceof HuntPhase.Setting
                && nowNanos - flowNanos >= FLOW_NANOS) {
            flowNanos = nowNanos;
            screen.tell(() -> flow(state, nowNanos));
        }
    }

    private static String flow(HuntState state, long nowNanos) {
        return LiveView.of(state.run(), nowNanos, nowNanos, nowNanos)
                .flow()
                .map(flow ->
                        String.format(
                                Locale.ROOT,
                                "   %.3g US gal/min flow now",
                                flow.rate().perMinute(VolumeUnit.US_GALLON)))
                .orElse("   nothing flows that the bay could see");
    }
}
