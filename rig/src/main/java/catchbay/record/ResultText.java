package catchbay.record;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Estimate;
import catchbay.metrology.TruckConstant;
import catchbay.metrology.Verdict;
import catchbay.quantity.Density;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.BayComputer;
import catchbay.run.CatchResult;
import catchbay.run.FlowRise;
import catchbay.run.Judgement;
import catchbay.run.Outcome;
import catchbay.run.Repeats;
import catchbay.run.RunSetup;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseCount;
import catchbay.signal.StepMeasures;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;

/**
 * A run's result as a JSON object: the same keys in the same order for every outcome, each ending
 * with its unit, each number with a fixed count of decimals, {@code null} where there is nothing to
 * say. A function of the trace alone, so that it is the same on every machine.
 */
public final class ResultText {

    private static final int VOLUME_DECIMALS = 5;
    private static final int PERCENT_DECIMALS = 4;
    private static final int PULSE_DECIMALS = 4;
    private static final int FACTOR_DECIMALS = 4;
    private static final int SECOND_DECIMALS = 6;
    private static final int MASS_DECIMALS = 4;
    private static final int PRESSURE_DECIMALS = 2;
    private static final int SPEED_DECIMALS = 4;
    private static final int TEMPERATURE_DECIMALS = 2;

    /**
     * What a result says of the trace that it comes from.
     *
     * @param run the run's id; empty in a trace written by hand without one
     * @param origin simulated, or bay
     * @param seal how whole the trace is
     * @param methodVersion the method under which the result was computed
     * @param recorded what it came to when it was recorded, where that was under an earlier method
     * @param computer what the bay's computer said of itself; {@link BayComputer#UNKNOWN} where the
     *     trace does not say
     */
    public record Provenance(
            String run,
            String origin,
            Seal seal,
            int methodVersion,
            Optional<Recorded> recorded,
            BayComputer computer) {

        /** Of a run under the method of today. */
        public Provenance(String run, String origin, Seal seal, int methodVersion) {
            this(run, origin, seal, methodVersion, Optional.empty(), BayComputer.UNKNOWN);
        }

        /** The same, on a computer that said this. */
        public Provenance on(BayComputer other) {
            return new Provenance(run, origin, seal, methodVersion, recorded, other);
        }

        /** The same, with the result that was recorded under the earlier method. */
        public Provenance with(String resultJson) {
            return new Provenance(
                    run,
                    origin,
                    seal,
                    methodVersion,
                    recorded.map(then -> then.with(resultJson)),
                    computer);
        }
    }

    /**
     * What a run came to under an earlier method.
     *
     * @param methodVersion that method
     * @param end the outcome's key in its closing line
     * @param reason the reason there
     * @param changes what has changed since, in words
     * @param resultJson its recorded result; empty where no record is at hand
     */
    public record Recorded(
            int methodVersion,
            String end,
            String reason,
            String changes,
            Optional<String> resultJson) {

        /** The same, with its recorded result. */
        public Recorded with(String found) {
            return new Recorded(methodVersion, end, reason, changes, Optional.of(found));
        }
    }

    /** How whole a trace is. */
    public enum Seal {
        /** Its closing line stands and agrees with everything before it. */
        SEALED("sealed"),
        /** It has no closing line: written by hand, or broken off. */
        UNSEALED("unsealed"),
        /** Something in it contradicts itself. */
        DAMAGED("damaged");

        private final String key;

        Seal(String key) {
            this.key = key;
        }

        /** How documents call it. */
        public String key() {
            return key;
        }
    }

    private final ObjectNode json = JsonNodeFactory.instance.objectNode();

    ResultText() {}

    /** What is written so far. */
    ObjectNode json() {
        return json;
    }

    /** The result of a run, one line without its end. */
    public static String of(Provenance provenance, RunSetup setup, Outcome outcome) {
        ResultText text = new ResultText();
        text.head(provenance, setup, outcome);
        CatchResult result =
                outcome instanceof Outcome.Measured measured ? measured.result() : null;
        text.amounts(result, setup);
        boolean ofTruck = !(setup.reported() instanceof RunSetup.Reported.Nothing);
        text.errors(result == null || !ofTruck ? null : result.comparison().budget());
        text.counts(result);
        text.instruments(result);
        text.verdict(result == null ? Optional.empty() : result.verdict(), setup);
        text.advice(result == null ? null : result.advice(), setup);
        text.notes(result == null ? List.of() : result.notes());
        text.coupler(result);
        text.rise(result);
        text.computer(provenance.computer);
        provenance.recorded.ifPresent(text::recorded);
        return new String(Json.write(text.json), StandardCharsets.UTF_8);
    }

    /** Left out where no gauge told it throughout, as in every trace of earlier programs. */
    private void coupler(CatchResult result) {
        if (result == null || result.coupler().isEmpty()) {
            return;
        }
        PressureSense.InWindow pressure = result.coupler().get();
        number("coupler_psi", pressure.mean().psi(), PRESSURE_DECIMALS);
        number("coupler_psi_least", pressure.least().psi(), PRESSURE_DECIMALS);
        number("coupler_psi_most", pressure.most().psi(), PRESSURE_DECIMALS);
        number("coupler_kpa", pressure.mean().kilopascals(), PRESSURE_DECIMALS);
    }

    /** Left out where it was not watched, as in every trace of earlier programs. */
    private void rise(CatchResult result) {
        if (result == null || result.rise().isEmpty()) {
            return;
        }
        FlowRise rise = result.rise().get();
        json.put("rise_by", rise.by().key());
        switch (rise.judged()) {
            case StepMeasures.Judged.Untold(String reason) -> json.put("rise_untold", reason);
            case StepMeasures.Judged.Measured(StepMeasures measures) -> rise(rise, measures);
        }
    }

    private void rise(FlowRise rise, StepMeasures measures) {
        Optional<StepMeasures.Overshoot> over = measures.overshoot();
        seconds("rise_dead_seconds", measures.deadNanos());
        seconds("rise_delay_seconds", OptionalLong.of(measures.delayNanos()));
        seconds("rise_seconds", OptionalLong.of(measures.riseNanos()));
        percent("rise_overshoot_percent", over.map(o -> o.above()).orElse(null));
        seconds(
                "rise_peak_seconds",
                over.map(o -> OptionalLong.of(o.peakNanos())).orElse(OptionalLong.empty()));
        seconds("rise_settling_seconds", measures.settlingNanos());
        percent("rise_steady_spread_percent", measures.steadySpread());
        number("rise_final_pulses_per_second", measures.finalPulsesPerSecond(), PULSE_DECIMALS);
        percent("rise_of_asked_percent", rise.ofAsked().orElse(null));
        json.put("rise_followed", rise.followed().orElse(null));
        seconds("rise_resolution_seconds", OptionalLong.of(measures.resolutionNanos()));
    }

    private void seconds(String key, OptionalLong nanos) {
        number(key, nanos.isPresent() ? nanos.getAsLong() / 1e9 : null, SECOND_DECIMALS);
    }

    /** Left out where the trace does not say, as every trace of earlier programs. */
    private void computer(BayComputer computer) {
        if (computer.equals(BayComputer.UNKNOWN)) {
            return;
        }
        ObjectNode node = json.putObject("bay_computer");
        node.put(
                "power_flags",
                computer.powerFlags().isPresent() ? computer.powerFlags().getAsInt() : null);
        node.put("clock_trusted", computer.clockTrusted().orElse(null));
        ArrayNode doubts = node.putArray("clock_doubts");
        computer.clockDoubts().orElse(Set.of()).stream()
                .sorted()
                .forEach(doubt -> doubts.add(Fields.spelt(doubt)));
        node.put(
                "free_bytes_least",
                computer.freeBytes().isPresent() ? computer.freeBytes().getAsLong() : null);
        ArrayNode notes = node.putArray("notes");
        computer.notes().forEach(notes::add);
    }

    private void head(Provenance provenance, RunSetup setup, Outcome outcome) {
        json.put("run", provenance.run);
        json.put("origin", provenance.origin);
        json.put("bay", setup.bay());
        json.put("asset", setup.truck().asset());
        json.put("day", setup.day().toString());
        json.put("stage", Fields.spelt(setup.session().stage()));
        json.put("by", setup.session().by().orElse(null));
        json.put("override", setup.session().override().orElse(null));
        Optional<Repeats.Place> place = setup.repeats().place();
        json.put("series", place.map(Repeats.Place::series).orElse(null));
        json.put("series_run", place.map(Repeats.Place::number).orElse(null));
        json.put("method_version", provenance.methodVersion);
        json.put("trace", provenance.seal.key());
        json.put("accepted", provenance.seal == Seal.SEALED && outcome instanceof Outcome.Measured);
        json.put("outcome", outcome.key());
        json.put("reason", outcome.reason());
    }

    private void amounts(CatchResult result, RunSetup setup) {
        estimate("asked", result == null ? null : result.comparison().asked());
        json.put("asked_basis", result == null ? null : result.askedBasis());
        estimate(
                "reported",
                result == null || setup.reported() instanceof RunSetup.Reported.Nothing
                        ? null
                        : result.comparison().reported());
        json.put("reported_basis", result == null ? null : result.reportedBasis());
        estimate("measured", result == null ? null : result.comparison().measured());
        json.put("measured_by", Fields.spelt(setup.plan().measureBy()));
    }

    /** The three errors of a catch or a mean; null where there is none. */
    void errors(Budget budget) {
        for (String error :
                List.of(
                        Comparison.METER_ERROR,
                        Comparison.CONTROL_ERROR,
                        Comparison.APPLICATION_ERROR)) {
            String stem = error.replace(' ', '_');
            Budget.Output output = budget == null ? null : budget.output(error);
            percent(stem + "_percent", output == null ? null : new Ratio(output.value()));
            percent(
                    stem + "_expanded_percent",
                    output == null ? null : new Ratio(output.expanded()));
            number(
                    stem + "_coverage_factor",
                    output == null ? null : output.coverageFactor(),
                    FACTOR_DECIMALS);
        }
    }

    private void counts(CatchResult result) {
        Long counted = null;
        Double interpolated = null;
        Double bracketed = null;
        String method = null;
        Optional<PulseCount> count = result == null ? Optional.empty() : result.count();
        if (count.isPresent() && count.get() instanceof PulseCount.DoubleTimed timed) {
            counted = timed.counted();
            interpolated = timed.pulses();
            bracketed = timed.bracketed();
            method = "double-timing";
        } else if (count.isPresent() && count.get() instanceof PulseCount.Whole whole) {
            counted = whole.counted();
            method = "whole-pulses";
        }
        json.put("pulses_counted", counted);
        number("pulses_interpolated", interpolated, PULSE_DECIMALS);
        number("pulses_bracketed", bracketed, PULSE_DECIMALS);
        json.put("count_method", method);
        number(
                "window_seconds",
                result == null ? null : result.windowNanos() / 1e9,
                SECOND_DECIMALS);
    }

    private void instruments(CatchResult result) {
        number(
                "flow_us_gal_per_min",
                result == null ? null : result.flow().perMinute(VolumeUnit.US_GALLON),
                VOLUME_DECIMALS);
        number(
                "flow_litres_per_min",
                result == null ? null : result.flow().perMinute(VolumeUnit.LITRE),
                VOLUME_DECIMALS);
        estimate("reference", result == null ? null : result.byReference().orElse(null));
        estimate("scale", result == null ? null : result.byScale().orElse(null));
        percent("disagreement_percent", result == null ? null : result.disagreement().orElse(null));
        mass("scale_net_kg", result == null ? null : result.netReading().orElse(null));
        Optional<CatchResult.Travel> travel = result == null ? Optional.empty() : result.travel();
        number(
                "travel_open_seconds",
                travel.map(t -> t.openNanos() / 1e9).orElse(null),
                SECOND_DECIMALS);
        number(
                "travel_close_seconds",
                travel.map(t -> t.closeNanos() / 1e9).orElse(null),
                SECOND_DECIMALS);
    }

    /** Whether the truck passes; null where there is no verdict. */
    void verdict(Optional<Verdict> verdict, RunSetup setup) {
        Verdict.Decided decided =
                verdict.isPresent() && verdict.get() instanceof Verdict.Decided known
                        ? known
                        : null;
        judgement(setup.judgement());
        json.put(
                "verdict",
                verdict.isEmpty() ? null : decided == null ? "no room" : decided.grade().words());
        percent("guard_band_percent", decided == null ? null : decided.guardBand());
        number(
                "conformity_probability",
                decided == null ? null : decided.conformity(),
                FACTOR_DECIMALS);
    }

    /** How an error is spelt. */
    static String error(Judgement.On which) {
        return Fields.spelt(which) + "-error";
    }

    /** Which error is judged, and what it may be. */
    void judgement(Judgement judgement) {
        json.put("verdict_on", error(judgement.on()));
        percent("tolerance_percent", judgement.tolerance().upper().orElseThrow());
    }

    /** What the controller is set to; salt is that of all lanes together. */
    void rates(RunSetup.Application application) {
        switch (application) {
            case RunSetup.Application.Direct direct -> {
                rate("rate_us_gal_per_lane_mile", direct.rate().usGallonsPerLaneMile());
                json.put("lanes", direct.lanes());
            }
            case RunSetup.Application.PreWet wet -> {
                rate("rate_us_gal_per_ton", wet.rate().usGallonsPerTon());
                rate("salt_lb_per_mile", wet.salt().poundsPerMile());
            }
        }
    }

    private void rate(String key, double rate) {
        number(key, rate, FACTOR_DECIMALS);
    }

    /** In kg/m3. */
    void density(String key, Density density) {
        number(key, density.kilogramsPerCubicMetre(), FACTOR_DECIMALS);
    }

    /** What to do with the constant; null where there is no advice. */
    void advice(ConstantAdvice advice, RunSetup setup) {
        TruckConstant old = setup.truck().constant();
        json.put("constant_form", old.form().key());
        json.put("constant_unit", old.symbol());
        json.put("old_constant", old.value());
        ConstantAdvice.Enter enter =
                advice instanceof ConstantAdvice.Enter proposed ? proposed : null;
        json.put("new_constant", enter == null ? null : enter.constant().value());
        number(
                "new_constant_pulses_per_us_gal",
                enter == null
                        ? null
                        : enter.constant()
                                .pulses()
                                .map(p -> p.per(VolumeUnit.US_GALLON))
                                .orElse(null),
                VOLUME_DECIMALS);
        amount("next_measured", enter == null ? null : enter.nextMeasured());
        amount("next_reported", enter == null ? null : enter.nextReported());
        percent("next_meter_error_percent", enter == null ? null : enter.nextMeterError());
        percent("next_meter_error_within_percent", enter == null ? null : enter.nextWithin());
        json.put(
                "advice",
                advice == null
                        ? null
                        : switch (advice) {
                            case ConstantAdvice.Enter proposed -> proposed.note();
                            case ConstantAdvice.Keep keep -> keep.reason();
                        });
    }

    void notes(List<String> sentences) {
        ArrayNode notes = json.putArray("notes");
        sentences.forEach(notes::add);
    }

    private void recorded(Recorded recorded) {
        ObjectNode earlier =
                json.putObject("recorded")
                        .put("method_version", recorded.methodVersion)
                        .put("outcome", recorded.end)
                        .put("reason", recorded.reason)
                        .put("changes", recorded.changes);
        JsonNode result = null;
        if (recorded.resultJson.isPresent()) {
            byte[] bytes = recorded.resultJson.get().getBytes(StandardCharsets.UTF_8);
            result = Json.read(bytes, 0, bytes.length, "result");
        }
        earlier.set("result", result);
    }

    void estimate(String stem, Estimate estimate) {
        amount(stem, estimate == null ? null : estimate.volume());
        number(
                stem + "_expanded_us_gal",
                estimate == null ? null : estimate.expanded().usGallons(),
                VOLUME_DECIMALS);
    }

    void amount(String stem, Volume volume) {
        gallons(stem + "_us_gal", volume);
        number(stem + "_litres", volume == null ? null : volume.litres(), VOLUME_DECIMALS);
    }

    /** In US gallons. */
    void gallons(String key, Volume volume) {
        number(key, volume == null ? null : volume.usGallons(), VOLUME_DECIMALS);
    }

    /** Of a test, without a unit. */
    void statistic(String key, double statistic) {
        number(key, statistic, FACTOR_DECIMALS);
    }

    void celsius(String key, Temperature temperature) {
        number(key, temperature.celsius(), TEMPERATURE_DECIMALS);
    }

    void percent(String key, Ratio ratio) {
        number(key, ratio == null ? null : ratio.percent(), PERCENT_DECIMALS);
    }

    /** In US gallons a minute. */
    void flow(String key, FlowRate flow) {
        number(key, flow == null ? null : flow.perMinute(VolumeUnit.US_GALLON), VOLUME_DECIMALS);
    }

    void mass(String key, Mass mass) {
        number(key, mass == null ? null : mass.kilograms(), MASS_DECIMALS);
    }

    /** In miles an hour. */
    void speed(String key, Speed speed) {
        number(key, speed.milesPerHour(), SPEED_DECIMALS);
    }

    private void number(String key, Double value, int decimals) {
        json.put(
                key,
                value == null
                        ? null
                        : BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN));
    }

    /** Whether a manager had a certificate that was out of date used for it. */
    public static boolean overridden(String result) {
        byte[] bytes = result.getBytes(StandardCharsets.UTF_8);
        return Json.read(bytes, 0, bytes.length, "result").hasNonNull("override");
    }

    /**
     * One number of a result's text for a person, with so many decimals; empty where there is none.
     */
    public static String shown(String result, String key, int decimals) {
        byte[] bytes = result.getBytes(StandardCharsets.UTF_8);
        JsonNode found = Json.read(bytes, 0, bytes.length, "result").get(key);
        return found == null || !found.isNumber()
                ? ""
                : found.decimalValue().setScale(decimals, RoundingMode.HALF_EVEN).toPlainString();
    }
}
