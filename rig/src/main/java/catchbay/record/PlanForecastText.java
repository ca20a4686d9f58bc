package catchbay.record;

import catchbay.plan.PlanForecast;
import catchbay.plan.PointForecast;
import catchbay.plan.Step;
import catchbay.plan.TestPlan;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Optional;

/**
 * A plan's forecast as a JSON object: the same keys in the same order always, each ending with its
 * unit, {@code null} where there is nothing to say.
 */
public final class PlanForecastText {

    private PlanForecastText() {}

    /** The forecast as an object. */
    public static ObjectNode of(PlanForecast forecast) {
        ObjectNode to = JsonNodeFactory.instance.objectNode();
        to.put("truck", forecast.plan().truck());
        to.put("can_start", forecast.allRefusals().isEmpty());
        to.put("wanted_percent", decimals(forecast.plan().wanted().percent(), 4));
        to.put("worst_percent", percent(forecast.worst()));
        to.put("catches", forecast.catches());
        to.put("minutes", minutes(forecast.nanos()));
        to.put("minutes_most", minutes(forecast.nanosMost()));
        to.put("drawn_us_gal", gallons(forecast.drawn()));
        to.put("refilled_us_gal", gallons(forecast.refilled()));
        to.put(
                "warmed_kelvin",
                forecast.warmedKelvin().map(kelvin -> decimals(kelvin, 3)).orElse(null));
        to.put("tank_room_us_gal", forecast.tankRoom().map(PlanForecastText::gallons).orElse(null));
        granular(to.putObject("granular"), forecast.plan().granular());
        ArrayNode visits = to.putArray("visits");
        forecast.visits().forEach(index -> visits.add(index + 1));
        points(to.putArray("points"), forecast.points());
        points(to.putArray("verification"), forecast.verification());
        ArrayNode steps = to.putArray("steps");
        forecast.steps().forEach(step -> step(steps.addObject(), step));
        sentences(to.putArray("refusals"), forecast.allRefusals());
        sentences(to.putArray("warnings"), forecast.allWarnings());
        return to;
    }

    static void granular(ObjectNode to, Optional<TestPlan.Granular> granular) {
        to.put("on", granular.map(TestPlan.Granular::on).orElse(null));
        to.put("gate", granular.flatMap(TestPlan.Granular::gate).orElse(null));
        to.put("hopper", granular.flatMap(TestPlan.Granular::hopper).orElse(null));
    }

    private static void points(ArrayNode to, List<PointForecast> points) {
        for (PointForecast point : points) {
            PointForecast.CatchTime time = point.time();
            to.addObject()
                    .put("flow_us_gal_per_min", flow(point))
                    .put("speed_mph", decimals(point.speed().milesPerHour(), 3))
                    .put("measured_by", point.way().name())
                    .put("outlet", point.point().outlet().orElse(null))
                    .put("catch_seconds", seconds(time.catchNanos()))
                    .put("caught_us_gal", gallons(point.caught()))
                    .put("drawn_us_gal", gallons(point.drawn()))
                    .put(
                            "reference_pulses",
                            point.pulses().map(pulses -> decimals(pulses, 1)).orElse(null))
                    .put("single_percent", percent(point.single()))
                    .put("mean_percent", percent(point.mean()))
                    .put("repeats", point.repeats())
                    .put("wanted_met", point.met())
                    .put("purge_seconds", seconds(time.purgeNanos()))
                    .put("settle_seconds", seconds(time.settleNanos()))
                    .put("travel_seconds", seconds(time.travelNanos()))
                    .put("drip_seconds", seconds(time.dripNanos()))
                    .put("rest_seconds", seconds(time.restNanos()))
                    .put("answer_seconds", seconds(time.answerNanos()))
                    .put("whole_seconds", seconds(time.nanos()));
        }
    }

    private static void step(ObjectNode to, Step step) {
        switch (step) {
            case Step.Caught caught ->
                    to.put("step", caught.verifying() ? "verify" : "catch")
                            .put("flow_us_gal_per_min", flow(caught.point()))
                            .put("repeat", caught.repeat())
                            .put("in_tank_us_gal", gallons(caught.inTank()))
                            .put(
                                    "on_truck_us_gal",
                                    caught.onTruck().map(PlanForecastText::gallons).orElse(null));
            case Step.Drained drained ->
                    to.put("step", drained.byHand() ? "empty-by-hand" : "drain")
                            .put(
                                    "volume_us_gal",
                                    drained.volume().map(PlanForecastText::gallons).orElse(null));
            case Step.Refilled refilled ->
                    to.put("step", "refill").put("volume_us_gal", gallons(refilled.volume()));
            case Step.PointSet set ->
                    to.put("step", "set-controller")
                            .put("flow_us_gal_per_min", flow(set.point()))
                            .put("speed_mph", decimals(set.point().speed().milesPerHour(), 3));
            case Step.OutletSet set ->
                    to.put("step", "set-outlet").put("outlet", set.outlet().orElse(null));
            case Step.ConstantEntered _ -> to.put("step", "enter-constant");
        }
        to.put("seconds", seconds(step.nanos()));
    }

    private static void sentences(ArrayNode to, List<String> sentences) {
        sentences.forEach(to::add);
    }

    private static BigDecimal flow(PointForecast point) {
        return decimals(point.flow().perMinute(VolumeUnit.US_GALLON), 5);
    }

    private static BigDecimal percent(Optional<Ratio> ratio) {
        return ratio.map(known -> decimals(known.percent(), 4)).orElse(null);
    }

    private static BigDecimal gallons(Volume volume) {
        return decimals(volume.usGallons(), 4);
    }

    private static BigDecimal seconds(long nanos) {
        return decimals(nanos / 1e9, 3);
    }

    private static BigDecimal minutes(long nanos) {
        return decimals(nanos / 60e9, 2);
    }

    private static BigDecimal decimals(double value, int decimals) {
        return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN);
    }
}
