package catchbay.record;

import catchbay.metrology.ConstantFit;
import catchbay.metrology.ConstantFit.Errors;
import catchbay.metrology.CutOff;
import catchbay.metrology.Diagnosis;
import catchbay.metrology.Finding;
import catchbay.metrology.FlowMix;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.TruckCurve;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A truck's curve and diagnosis as a JSON object: the same keys in the same order always, each
 * ending with its unit, {@code null} where there is nothing to say.
 */
public final class CurveText {

    private static final int FLOW_DECIMALS = 5;
    private static final int PERCENT_DECIMALS = 4;

    /**
     * Everything that is told of a truck over its flow range.
     *
     * @param asset its number in the fleet
     * @param origin simulated, bay or written, of all its catches
     * @param catches its measured catches
     * @param constant as it is entered now
     * @param curve empty where the steady catches make none
     * @param fit the best constant, with a curve
     * @param mix the shop's own work
     * @param cutOff between which flows its pulses stop
     * @param diagnosis what is wrong and what to do
     * @param outletsShutBy who has seen that no liquid can go elsewhere
     * @param notes what a reader must know, each a sentence
     */
    public record Told(
            String asset,
            String origin,
            List<Caught> catches,
            TruckConstant constant,
            Optional<TruckCurve> curve,
            Optional<ConstantFit> fit,
            FlowMix mix,
            CutOff cutOff,
            Diagnosis diagnosis,
            Optional<String> outletsShutBy,
            List<String> notes) {
        /** The best constant, where there is one. */
        public Optional<ConstantFit.Fitted> fitted() {
            return fit.filter(ConstantFit.Fitted.class::isInstance)
                    .map(ConstantFit.Fitted.class::cast);
        }
    }

    /**
     * One catch that has a part in it.
     *
     * @param run its name
     * @param day its calendar day
     * @param flow its measured flow
     * @param inCurve whether it is a point of the curve
     */
    public record Caught(String run, LocalDate day, FlowRate flow, boolean inCurve) {}

    private final ObjectNode json = JsonNodeFactory.instance.objectNode();

    private CurveText() {}

    /** One line without its end. */
    public static String of(Told told) {
        CurveText text = new CurveText();
        text.head(told);
        text.points(told);
        text.shape(told);
        text.constants(told);
        text.work(told);
        text.diagnosis(told);
        return new String(Json.write(text.json), StandardCharsets.UTF_8);
    }

    private void head(Told told) {
        json.put("asset", told.asset);
        json.put("origin", told.origin);
        ArrayNode catches = json.putArray("catches");
        for (Caught caught : told.catches) {
            ObjectNode one = catches.addObject();
            one.put("run", caught.run);
            one.put("day", caught.day.toString());
            flow(one, "flow", Optional.of(caught.flow));
            one.put("in_curve", caught.inCurve);
        }
        json.put("constant_form", told.constant.form().key());
        json.put("constant_unit", told.constant.symbol());
        json.put("old_constant", told.constant.value());
    }

    private void points(Told told) {
        ArrayNode points = json.putArray("points");
        if (told.curve.isEmpty()) {
            return;
        }
        TruckCurve curve = told.curve.get();
        TruckConstant constant = told.constant;
        for (TruckCurve.Station station : curve.stations()) {
            TruckCurve.Reading reading = curve.at(station);
            ObjectNode one = points.addObject();
            flow(one, "flow", Optional.of(station.flow()));
            one.put("catches", station.catches());
            one.put("right_constant", number(constant, reading.number()));
            one.put(
                    "right_constant_expanded",
                    number(constant, reading.number() * reading.expanded().value()));
            percent(
                    one,
                    "meter_error_percent",
                    Optional.of(constant.errorWith(constant.value(), reading.number())));
            percent(
                    one,
                    "meter_error_with_best_percent",
                    told.fitted()
                            .map(fit -> constant.errorWith(fit.best().value(), reading.number())));
        }
    }

    private void shape(Told told) {
        Optional<TruckCurve.Linearity> linearity = told.curve.map(TruckCurve::linearity);
        percent(json, "linearity_percent", linearity.map(TruckCurve.Linearity::halfWidth));
        percent(json, "linearity_expanded_percent", linearity.map(TruckCurve.Linearity::expanded));
        Optional<TruckCurve.Scatter> scatter =
                told.curve.map(TruckCurve::scatter).filter(s -> s.degreesOfFreedom() > 0);
        percent(json, "scatter_percent", scatter.map(s -> new Ratio(s.relativeObserved())));
        json.put(
                "scatter_degrees_of_freedom",
                scatter.map(TruckCurve.Scatter::degreesOfFreedom).orElse(null));
        flow(json, "silent_up_to", told.cutOff.silentUpTo());
        flow(json, "counted_from", told.cutOff.countedFrom());
    }

    private void constants(Told told) {
        Optional<ConstantFit.Fitted> fit = told.fitted();
        json.put("fit", told.mix.fit().key());
        json.put("best_constant", fit.map(f -> f.best().value()).orElse(null));
        json.put(
                "best_constant_unrounded",
                fit.map(f -> number(told.constant, f.unrounded())).orElse(null));
        Optional<ConstantFit.Table> table = fit.flatMap(ConstantFit.Fitted::table);
        flow(json, "table_low_flow", table.map(ConstantFit.Table::lowFlow));
        json.put("table_low_constant", table.map(ConstantFit.Table::lowNumber).orElse(null));
        flow(json, "table_high_flow", table.map(ConstantFit.Table::highFlow));
        json.put("table_high_constant", table.map(ConstantFit.Table::highNumber).orElse(null));
    }

    private void work(Told told) {
        ArrayNode work = json.putArray("mix");
        told.fitted()
                .ifPresent(fit ->
                        fit.leftovers()
                                .forEach(leftover -> {
                                    ObjectNode one = work.addObject();
                                    one.put("work", leftover.duty().label());
                                    flow(one, "flow", Optional.of(leftover.duty().flow()));
                                    one.put("weight", leftover.duty().weight());
                                    one.put("tested", leftover.errors().isPresent());
                                    Optional<Errors> errors = leftover.errors();
                                    percent(one, "meter_error_percent", errors.map(Errors::now));
                                    percent(
                                            one,
                                            "meter_error_with_best_percent",
                                            errors.map(Errors::best));
                                    percent(
                                            one,
                                            "meter_error_with_table_percent",
                                            errors.flatMap(Errors::table));
                                    percent(
                                            one,
                                            "expanded_percent",
                                            errors.map(e -> e.reading().expanded()));
                                }));
    }

    private void diagnosis(Told told) {
        ArrayNode findings = json.putArray("findings");
        for (Finding finding : told.diagnosis.findings()) {
            ObjectNode one = findings.addObject();
            one.put("finding", finding.key());
            one.put("sentence", finding.sentence());
        }
        json.put(
                "new_constant",
                told.diagnosis.offer() instanceof Diagnosis.Offer.Enter enter
                        ? enter.fitted().best().value()
                        : null);
        json.put(
                "advice",
                switch (told.diagnosis.offer()) {
                    case Diagnosis.Offer.Enter enter -> null;
                    case Diagnosis.Offer.Keep(String reason) -> reason;
                    case Diagnosis.Offer.Withheld(String reason) -> reason;
                });
        json.put("outlets_shut_by", told.outletsShutBy.orElse(null));
        ArrayNode notes = json.putArray("notes");
        told.notes.forEach(notes::add);
    }

    private static void flow(ObjectNode to, String stem, Optional<FlowRate> flow) {
        for (VolumeUnit unit : new VolumeUnit[] {VolumeUnit.US_GALLON, VolumeUnit.LITRE}) {
            to.put(
                    stem + "_" + unit.suffix() + "_per_min",
                    flow.map(f -> decimals(f.perMinute(unit), FLOW_DECIMALS)).orElse(null));
        }
    }

    private static void percent(ObjectNode to, String key, Optional<Ratio> ratio) {
        to.put(key, ratio.map(r -> decimals(r.percent(), PERCENT_DECIMALS)).orElse(null));
    }

    private static BigDecimal decimals(double value, int decimals) {
        return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN);
    }

    /** A constant to a thousandth of what can be entered. */
    private static BigDecimal number(TruckConstant constant, double number) {
        return decimals(number, constant.decimals() + 3);
    }
}
