package catchbay.app;

import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.LiveView;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Window;
import catchbay.run.RunState;
import catchbay.signal.PulseLine;
import catchbay.signal.Tally;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** How a run stands, in words for a person who looks on. */
final class LiveWords {

    private LiveWords() {}

    /**
     * One thing a row, the figure first within twenty columns of it: so much is left of a row on
     * the narrowest terminal.
     */
    static List<String> rows(String state, String next, LiveView view) {
        List<String> rows = new ArrayList<>();
        rows.add(state);
        view.part().ifPresent(part -> rows.add("leg " + part.leg() + " of " + part.sweep()));
        rows.add(time(view));
        rows.add(
                "run "
                        + minutes(view.runNanos())
                        + ", "
                        + minutes(view.leastNanos())
                        + " more at least");
        rows.addAll(figures(view));
        rows.add("then " + next);
        return rows;
    }

    /** All that is known in one line, for where nothing is drawn anew. */
    static String line(LiveView view) {
        List<String> parts = new ArrayList<>();
        parts.add(time(view));
        parts.addAll(figures(view));
        return String.join("; ", parts);
    }

    private static String time(LiveView view) {
        String gone = minutes(view.stateNanos()) + " gone";
        return view.left()
                .map(left ->
                        minutes(left.nanos())
                                + (left.atMost() ? " left at most, " : " left, ")
                                + gone)
                .orElse(gone);
    }

    private static List<String> figures(LiveView view) {
        List<String> figures = new ArrayList<>();
        view.flow().ifPresent(flow -> figures.add(flow(flow)));
        view.measured().ifPresent(volume -> figures.add("measured " + gallons(volume)));
        view.reported().ifPresent(volume -> figures.add("reported " + gallons(volume)));
        view.tank()
                .ifPresent(mass ->
                        figures.add(
                                String.format(
                                        Locale.ROOT,
                                        "tank %.1f kg, %.0f %% of scale",
                                        mass.kilograms(),
                                        view.scaleShare().orElseThrow().percent())));
        view.filled()
                .ifPresent(share ->
                        figures.add(
                                String.format(Locale.ROOT, "tank %.0f %% full", share.percent())));
        view.liquid()
                .ifPresent(
                        t -> figures.add(String.format(Locale.ROOT, "liquid %.1f C", t.celsius())));
        return figures;
    }

    private static String flow(LiveView.Flow flow) {
        String rate =
                String.format(
                        Locale.ROOT,
                        "flow %.2f US gal/min",
                        flow.rate().perMinute(VolumeUnit.US_GALLON));
        String whose =
                flow.by() == PulseLine.TRUCK
                        ? " by the truck's meter"
                        : flow.certified() ? "" : " (reference not certified there)";
        return rate + whose;
    }

    private static String gallons(Volume volume) {
        return String.format(Locale.ROOT, "%.2f US gal", volume.usGallons());
    }

    private static String minutes(long nanos) {
        long seconds = nanos / 1_000_000_000;
        return String.format(Locale.ROOT, "%d:%02d", seconds / 60, seconds % 60);
    }

    /** What comes after a state while all goes well. */
    static String next(RunState state) {
        RunSetup setup = state.sensed().setup();
        boolean flying = setup.plan().window() == Window.FLYING;
        boolean display = setup.reported() instanceof RunSetup.Reported.Display;
        return switch (state) {
            case RunState.Idle s -> "the checklist";
            case RunState.Confirming s -> flying ? "liquid flows" : "nothing may flow";
            case RunState.Emptying s -> flying ? "liquid flows" : "nothing may flow";
            case RunState.Starting s -> "liquid flows";
            case RunState.Purging s -> flying ? "the flow must be steady" : "nothing may flow";
            case RunState.Settling s -> "the catch";
            case RunState.Resting s ->
                    display && s.sensed().ledger().totalBefore().isEmpty()
                            ? "the truck's display"
                            : "the catch";
            case RunState.Opening s -> "the catch";
            case RunState.Catching s -> flying ? "back to the bypass" : "the flow stops";
            case RunState.Closing s -> "the flow stops";
            case RunState.Trailing s -> "the flow stops";
            case RunState.Stilling s -> "the tank drips";
            case RunState.Dripping s ->
                    setup.scale().isPresent() ? "the scale is read" : afterScale(display);
            case RunState.Weighing s -> afterScale(display);
            case RunState.Reading s ->
                    s.sensed().lines().reference().openNanos() == Tally.NONE
                            ? "the catch"
                            : "the comparison";
            case RunState.Comparing s ->
                    setup.plan().drainNanos() > 0 ? "the tank drains" : "the end";
            case RunState.Draining s -> "the end";
            case RunState.Ended s -> "the result";
        };
    }

    private static String afterScale(boolean display) {
        return display ? "the truck's display" : "the comparison";
    }
}
