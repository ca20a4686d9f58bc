package catchbay.record;

import catchbay.metrology.Certificate;
import catchbay.metrology.ReferenceCurve;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTests;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;

/** Writes a setup in its canonical text form. */
final class SetupWriter {

    private SetupWriter() {}

    static ObjectNode write(RunSetup setup) {
        ObjectNode document = JsonNodeFactory.instance.objectNode();
        document.putObject("bay").put("name", setup.bay()).put("day", setup.day().toString());
        setup.reference()
                .ifPresent(reference -> {
                    ObjectNode to = document.putObject("reference");
                    reference(to, reference);
                    DoubtsText.writeReference(to, setup.doubts().reference());
                });
        setup.scale()
                .ifPresent(scale -> {
                    ObjectNode to = document.putObject("scale");
                    scale(to, scale);
                    DoubtsText.writeScale(to, setup.doubts().scale());
                });
        setup.diverter()
                .ifPresent(diverter -> {
                    ObjectNode to = document.putObject("diverter");
                    diverter(to, diverter);
                    DoubtsText.writeDiverter(to, setup.doubts().diverter());
                });
        LiquidText.write(document.putObject("liquid"), setup.liquid());
        truck(document.putObject("truck"), setup.truck());
        ObjectNode asked = document.putObject("asked");
        asked(asked, setup.asked());
        DoubtsText.writeAsked(asked, setup.doubts());
        reported(document.putObject("reported"), setup.reported());
        plan(document.putObject("catch"), setup.plan());
        DoubtsText.writeOwnSections(document, setup.doubts());
        SessionText.write(document.putObject("verdict"), setup.judgement());
        SessionText.write(document.putObject("session"), setup.session());
        RepeatsText.write(document.putObject("repeats"), setup.repeats());
        setup.guard().ifPresent(guard -> GuardText.write(document.putObject("guard"), guard));
        setup.part().ifPresent(part -> GuardText.write(document.putObject("part"), part));
        return document;
    }

    /** How the key of a constant in pulses per volume ends. */
    static String pulsesPer(VolumeUnit unit) {
        return "pulses_per_" + (unit == VolumeUnit.LITRE ? "litre" : unit.suffix());
    }

    /** How the key of a constant in volume per pulse ends. */
    static String perPulse(VolumeUnit unit) {
        return unit.suffix() + "_per_pulse";
    }

    private static void certificate(ObjectNode to, Certificate certificate) {
        to.put("serial", certificate.serial())
                .put("date", certificate.date().toString())
                .put("expiry", certificate.expiry().toString())
                .put("uncertainty_ratio", certificate.relativeExpandedUncertainty());
        Certificate.Conditions conditions = certificate.conditions();
        conditions.laboratory().ifPresent(by -> to.put("laboratory", by));
        conditions.liquid().ifPresent(liquid -> to.put("liquid", liquid));
        conditions.temperature().ifPresent(t -> to.put("calibrated_celsius", t.celsius()));
    }

    private static void reference(ObjectNode to, RunSetup.Reference reference) {
        certificate(to, reference.certificate());
        ArrayNode points = to.putArray("points");
        for (ReferenceCurve.Point point : reference.curve().points()) {
            ObjectNode written =
                    points.addObject()
                            .put("flow_litres_per_second", point.flow().litresPerSecond())
                            .put("pulses_per_litre", point.constant().pulsesPerLitre());
            point.expanded().ifPresent(u -> written.put("uncertainty_ratio", u.value()));
        }
        micros(to, "debounce", reference.debounceNanos());
        to.put("rate_max_hertz", reference.pulsesPerSecondMax())
                .put("leap_ratio", reference.leapRatio())
                .put("even_ratio", reference.evenRatioMax());
        if (reference.twoChannels()) {
            to.put("channels", 2);
        }
    }

    private static void scale(ObjectNode to, RunSetup.Scale scale) {
        certificate(to, scale.certificate());
        to.put("unit", scale.unit().symbol())
                .put("resolution_kg", scale.resolution().kilograms())
                .put("capacity_kg", scale.capacity().kilograms())
                .put("rest_band_kg", scale.restBand().kilograms());
        seconds(to, "rest", scale.restNanos());
        seconds(to, "silent", scale.silentNanosMax());
        ScaleTests tests = scale.tests();
        tests.withinDays().ifPresent(days -> to.put("weights_within_days", days));
        tests.weights()
                .ifPresent(weights ->
                        to.put("weights_test", weights.test())
                                .put("weights_day", weights.day().toString())
                                .put("weights_passed", weights.passed())
                                .put("weights_heaviest_kg", weights.heaviest().kilograms()));
        tests.shunt()
                .ifPresent(shunt ->
                        to.put("shunt_test", shunt.test())
                                .put("shunt_day", shunt.day().toString())
                                .put("shunt_passed", shunt.passed()));
    }

    private static void diverter(ObjectNode to, RunSetup.Diverter diverter) {
        to.put("feedback", Fields.spelt(diverter.feedback()));
        seconds(to, "travel_limit", diverter.travelNanosMax());
    }

    private static void truck(ObjectNode to, RunSetup.Truck truck) {
        TruckConstant constant = truck.constant();
        to.put("asset", truck.asset());
        to.put(constantKey(constant), constant.value());
        if (constant.form() == TruckConstant.Form.PERCENT_OF_READING) {
            to.put("base_unit", constant.unit().suffix());
        }
        constant.base().ifPresent(base -> to.put("base_pulses_per_litre", base.pulsesPerLitre()));
        to.put("step", constant.step())
                .put("least", constant.least())
                .put("most", constant.most())
                .put("control", truck.control().key());
        micros(to, "debounce", truck.debounceNanos());
        if (truck.speedSource() != RunSetup.SpeedSource.PULSES) {
            to.put("speed_source", Fields.spelt(truck.speedSource()));
        }
    }

    static String constantKey(TruckConstant constant) {
        return "constant_"
                + switch (constant.form()) {
                    case PULSES_PER_VOLUME -> pulsesPer(constant.unit());
                    case VOLUME_PER_PULSE -> perPulse(constant.unit());
                    case PERCENT_OF_READING -> "percent";
                };
    }

    private static void asked(ObjectNode to, RunSetup.Asked asked) {
        switch (asked.application()) {
            case RunSetup.Application.Direct direct ->
                    to.put("rate_litres_per_lane_km", direct.rate().litresPerLaneKilometre())
                            .put("lanes", direct.lanes());
            case RunSetup.Application.PreWet preWet -> {
                to.put("rate_litres_per_tonne", preWet.rate().litresPerTonne())
                        .put("salt_kg_per_km", preWet.salt().kilogramsPerKilometre())
                        .put("salt_reported", preWet.saltReported());
                preWet.saltPerFeederPulse()
                        .ifPresent(mass -> to.put("feeder_kg_per_pulse", mass.kilograms()));
            }
        }
        to.put("speed_metres_per_second", asked.speed().metresPerSecond());
        asked.pulsesPerMile().ifPresent(pulses -> to.put("pulses_per_mile", pulses));
        if (asked.sendsFeeder()) {
            to.put("send_feeder", true);
        }
    }

    private static void reported(ObjectNode to, RunSetup.Reported reported) {
        switch (reported) {
            case RunSetup.Reported.Display display -> {
                to.put("source", Fields.spelt(SetupReader.Source.DISPLAY))
                        .put("step_litres", display.step().litres());
                seconds(to, "lag", display.lagNanos());
                to.put("band_ratio", display.band().value());
            }
            case RunSetup.Reported.RunningLine line -> {
                to.put("source", Fields.spelt(SetupReader.Source.LINE))
                        .put("step_litres", line.step().litres());
                seconds(to, "lag", line.lagNanos());
                seconds(to, "fresh", line.freshNanosMax());
            }
            case RunSetup.Reported.MeterPulses _ ->
                    to.put("source", Fields.spelt(SetupReader.Source.PULSES));
            case RunSetup.Reported.Nothing _ ->
                    to.put("source", Fields.spelt(SetupReader.Source.NOTHING));
        }
    }

    private static void plan(ObjectNode to, RunSetup.Plan plan) {
        to.put("window", Fields.spelt(plan.window()))
                .put("flow_by", Fields.spelt(plan.flowBy()))
                .put("measure_by", Fields.spelt(plan.measureBy()));
        seconds(to, "purge", plan.purgeNanos());
        seconds(to, "settle_slot", plan.settleSlotNanos());
        to.put("settle_slots", plan.settleSlots()).put("settle_ratio", plan.settleSpreadMax());
        seconds(to, "settle_limit", plan.settleNanosMax());
        to.put("seconds", shifted(plan.catchNanos(), 9));
        seconds(to, "silence", plan.silenceNanos());
        seconds(to, "drip", plan.dripNanos());
        seconds(to, "rest_limit", plan.restNanosMax());
        seconds(to, "drain", plan.drainNanos());
        to.put("cross_check_ratio", plan.crossCheckMax().value())
                .put("unsteady_ratio", plan.unsteadyMax())
                .put("ramp_error_ratio", plan.rampErrorRatio())
                .put("ramp_share_ratio", plan.rampShareMax());
        seconds(to, "answer_limit", plan.answerNanosMax());
    }

    static void seconds(ObjectNode to, String stem, long nanos) {
        to.put(stem + "_seconds", shifted(nanos, 9));
    }

    private static void micros(ObjectNode to, String stem, long nanos) {
        to.put(stem + "_us", shifted(nanos, 3));
    }

    /** Exact: no duration of a setup has more digits than a reader of floating point keeps. */
    private static BigDecimal shifted(long nanos, int digits) {
        BigDecimal number = BigDecimal.valueOf(nanos, digits).stripTrailingZeros();
        return number.scale() < 0 ? number.setScale(0) : number;
    }
}
