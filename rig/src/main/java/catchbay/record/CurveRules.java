package catchbay.record;

import catchbay.metrology.Diagnosis.Limits;
import catchbay.metrology.FlowMix;
import catchbay.metrology.FlowMix.Duty;
import catchbay.quantity.Distance;
import catchbay.quantity.FlowRate;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.LiquidPerSalt;
import catchbay.quantity.Numeral;
import catchbay.quantity.Pressure;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.run.RunSetup.Application;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How a truck's curve is judged: the section {@code curve} of the settings. It is no part of a
 * run's setup, because no run's result depends on it. Every default is a row of {@code
 * src/docs/settings.md}.
 *
 * @param mix the shop's own work
 * @param limits up to where something is sound
 */
public record CurveRules(FlowMix mix, Limits limits) {

    /** Where a shop has set nothing. */
    public static final CurveRules USUAL = new CurveRules(FlowMix.EVEN, Limits.USUAL);

    private static final long SECOND_NANOS = 1_000_000_000L;

    private static final double WEIGHT_MAX = 1e9;

    private static final Measure<FlowRate> FLOW_ABOVE_ZERO =
            Measure.FLOW.within("above zero", flow -> flow.litresPerSecond() > 0);

    /** Reads the section; its keys are then known, and {@link Fields#finish} refuses others. */
    public static CurveRules read(Fields from) {
        Limits usual = Limits.USUAL;
        Optional<Pressure> couplerMin = from.optionalQuantity("coupler_min", Measure.PRESSURE);
        Optional<Pressure> couplerMax = from.optionalQuantity("coupler_max", Measure.PRESSURE);
        if (couplerMin.isPresent()
                && couplerMax.isPresent()
                && couplerMin.get().compareTo(couplerMax.get()) > 0) {
            throw from.refused(
                    String.format(
                            Locale.ROOT,
                            "coupler_min of %.1f psi is above coupler_max of %.1f psi; exchange"
                                    + " them",
                            couplerMin.get().psi(),
                            couplerMax.get().psi()));
        }
        Limits limits =
                new Limits(
                        from.quantity("linearity_max", Measure.SHARE, usual.linearity()),
                        from.quantity("control_error_max", Measure.SHARE, usual.follow()),
                        from.quantity("scatter_max", Measure.SHARE, usual.scatter()),
                        from.quantity("speed_error_max", Measure.SHARE, usual.speed()),
                        from.quantity(
                                "shown_speed_step",
                                SetupReader.SPEED_ABOVE_ZERO,
                                usual.speedStep()),
                        couplerMin,
                        couplerMax,
                        from.optionalQuantity("strainer_max", Measure.PRESSURE));
        FlowMix.Fit fit = from.named("fit", FlowMix.Fit::ofKey, FlowMix.EVEN.fit());
        List<Duty> duties = new ArrayList<>();
        if (from.has("mix")) {
            from.sections("mix").forEach(item -> duties.add(duty(item)));
        }
        return new CurveRules(new FlowMix(fit, duties), limits);
    }

    private static Duty duty(Fields from) {
        double weight = from.number("weight", Double.MIN_VALUE, WEIGHT_MAX, 1);
        Optional<String> name = from.optionalText("name");
        Optional<FlowRate> flow = from.optionalQuantity("flow", FLOW_ABOVE_ZERO);
        if (flow.isPresent()) {
            return new Duty(name.orElse("flow as given"), flow.get(), weight);
        }
        Application application = SetupReader.application(from);
        Speed speed = from.quantity("speed", SetupReader.SPEED_ABOVE_ZERO);
        Distance inASecond = speed.during(SECOND_NANOS);
        FlowRate needed =
                new FlowRate(
                        switch (application) {
                            case Application.Direct direct ->
                                    direct.rate().over(inASecond, direct.lanes()).litres();
                            case Application.PreWet preWet ->
                                    preWet.rate().on(preWet.salt().over(inASecond)).litres();
                        });
        return from.made(() -> new Duty(name.orElse(label(application, speed)), needed, weight));
    }

    private static String label(Application application, Speed speed) {
        String what =
                switch (application) {
                    case Application.Direct direct ->
                            String.format(
                                    Locale.ROOT,
                                    "%s gal/lane-mile, %s lane%s",
                                    shown(
                                            direct.rate().litresPerLaneKilometre()
                                                    / LiquidPerLane.ofUsGallonsPerLaneMile(1)
                                                            .litresPerLaneKilometre()),
                                    shown(direct.lanes()),
                                    direct.lanes() == 1 ? "" : "s");
                    case Application.PreWet preWet ->
                            String.format(
                                    Locale.ROOT,
                                    "%s gal/ton, %s lb/mile",
                                    shown(
                                            preWet.rate().litresPerTonne()
                                                    / LiquidPerSalt.ofUsGallonsPerTon(1)
                                                            .litresPerTonne()),
                                    shown(
                                            preWet.salt().kilogramsPerKilometre()
                                                    / SaltPerDistance.ofPoundsPerLaneMile(1, 1)
                                                            .kilogramsPerKilometre()));
                };
        return what + ", " + shown(speed.milesPerHour()) + " mph";
    }

    /** Four digits, without zeros that say nothing. */
    private static String shown(double number) {
        return Numeral.of(new BigDecimal(number), 4);
    }
}
