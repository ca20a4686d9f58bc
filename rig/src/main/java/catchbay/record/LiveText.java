package catchbay.record;

import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.VolumeUnit;
import catchbay.run.LiveView;
import catchbay.run.Part;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

/** A run at one moment as a line of JSON, for whoever looks on from another program. */
public final class LiveText {

    private LiveText() {}

    /**
     * The view as one JSON object: what is not known has no key.
     *
     * @param words what the run is doing, for a person
     * @param next what comes next, likewise
     */
    public static String of(LiveView view, String words, String next) {
        ObjectNode json = JsonNodeFactory.instance.objectNode();
        view.part().ifPresent(part -> part(json, part));
        json.put("state", view.state()).put("words", words).put("next", next);
        json.put("run_seconds", seconds(view.runNanos()))
                .put("state_seconds", seconds(view.stateNanos()));
        view.left()
                .ifPresent(left ->
                        json.put("left_seconds", seconds(left.nanos()))
                                .put("left_at_most", left.atMost()));
        json.put("run_left_least_seconds", seconds(view.leastNanos()));
        view.flow()
                .ifPresent(flow ->
                        json.put("flow_us_gal_per_min", flow.rate().perMinute(VolumeUnit.US_GALLON))
                                .put("flow_by", Fields.spelt(flow.by()))
                                .put("flow_certified", flow.certified()));
        view.measured().ifPresent(v -> json.put("measured_us_gal", v.usGallons()));
        view.reported().ifPresent(v -> json.put("reported_us_gal", v.usGallons()));
        view.tank().map(Mass::kilograms).ifPresent(kg -> json.put("tank_kg", kg));
        view.scaleShare().map(Ratio::percent).ifPresent(p -> json.put("scale_percent", p));
        view.filled().map(Ratio::percent).ifPresent(p -> json.put("tank_filled_percent", p));
        view.liquid().map(Temperature::celsius).ifPresent(c -> json.put("liquid_celsius", c));
        json.put("awaits_person", view.awaitsPerson());
        return json.toString();
    }

    private static void part(ObjectNode json, Part part) {
        json.put("sweep", part.sweep()).put("leg", part.leg());
    }

    private static double seconds(long nanos) {
        return Math.rint(nanos / 1e8) / 10;
    }
}
