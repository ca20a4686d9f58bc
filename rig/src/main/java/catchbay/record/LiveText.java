package catchbay.record;

import catchbay.run.LiveView;
import catchbay.run.LiveWait;
import catchbay.run.Part;

import com.fasterxml.jackson.databind.node.ObjectNode;

/** A run at one moment as a line of JSON, for whoever looks on from another program. */
public final class LiveText {

    private static final String AT_MOST = "left_at_most";

    private LiveText() {}

    /**
     * The view as one JSON object: what is not known has no key.
     *
     * @param run the run's name
     * @param words what the run is doing, for a person
     * @param next what comes next, likewise
     */
    public static String of(String run, LiveView view, String words, String next) {
        ResultText figures = new ResultText();
        ObjectNode json = figures.json();
        view.part().ifPresent(part -> part(json, part));
        json.put("run", run).put("state", view.state()).put("words", words).put("next", next);
        json.put("run_seconds", seconds(view.runNanos()))
                .put("state_seconds", seconds(view.stateNanos()));
        view.left()
                .ifPresent(left ->
                        json.put("left_seconds", seconds(left.nanos()))
                                .put(AT_MOST, left.atMost()));
        json.put("run_left_least_seconds", seconds(view.leastNanos()));
        view.flow()
                .ifPresent(flow -> {
                    figures.flow("flow_us_gal_per_min", flow.rate());
                    json.put("flow_by", Fields.spelt(flow.by()))
                            .put("flow_certified", flow.certified());
                });
        view.measured().ifPresent(volume -> figures.gallons("measured_us_gal", volume));
        view.reported().ifPresent(volume -> figures.gallons("reported_us_gal", volume));
        view.tank().ifPresent(mass -> figures.mass("tank_kg", mass));
        view.scaleShare().ifPresent(share -> figures.percent("scale_percent", share));
        view.filled().ifPresent(share -> figures.percent("tank_filled_percent", share));
        view.liquid().ifPresent(liquid -> figures.celsius("liquid_celsius", liquid));
        json.put("awaits_person", view.awaitsPerson());
        return json.toString();
    }

    /** A wait between two runs as such an object, with the same keys as far as they apply. */
    public static String of(LiveWait wait) {
        ObjectNode json = new ResultText().json();
        wait.sweep().ifPresent(sweep -> json.put("sweep", sweep));
        wait.leg().ifPresent(leg -> json.put("leg", leg));
        json.put("state", LiveWait.STATE).put("words", wait.words());
        wait.next().ifPresent(next -> json.put("next", next));
        json.put("state_seconds", seconds(wait.stateNanos()));
        wait.leftNanos()
                .ifPresent(left -> json.put("left_seconds", seconds(left)).put(AT_MOST, true));
        json.put("awaits_person", wait.awaitsPerson());
        return json.toString();
    }

    private static void part(ObjectNode json, Part part) {
        json.put("sweep", part.sweep()).put("leg", part.leg());
    }

    private static double seconds(long nanos) {
        return Math.rint(nanos / 1e8) / 10;
    }
}
