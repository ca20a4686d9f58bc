package catchbay.run;

import catchbay.quantity.Distance;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.signal.PulseRule;
import catchbay.signal.TemperaturePlace;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Whether the parts of a setup fit each other. Each value alone has been judged when it was read;
 * here are the pairs of which each is possible and both together are not.
 */
public final class SetupCheck {

    /**
     * Fewest pulses of a window read between its pulses, so that evenness and steadiness can be
     * told. Common practice, no source.
     */
    static final int FLYING_PULSES_MIN = 100;

    /** Fewest pulses of a window read to the whole pulse: one of them is then half a per cent. */
    static final int STANDING_PULSES_MIN = 200;

    /** Fewest scale steps in a catch measured by the scale: one of them is then half a per cent. */
    static final int SCALE_STEPS_MIN = 200;

    /**
     * Fewest steps of a reported total in a catch; coarser says next to nothing. Common practice,
     * no source.
     */
    static final int REPORTED_STEPS_MIN = 10;

    private final RunSetup setup;
    private final RunSetup.Plan plan;
    private final List<String> problems = new ArrayList<>();

    private SetupCheck(RunSetup setup) {
        this.setup = setup;
        this.plan = setup.plan();
    }

    /**
     * What does not fit, each as a sentence with both values and what to change; empty when all
     * fits.
     */
    public static List<String> problems(RunSetup setup) {
        SetupCheck check = new SetupCheck(setup);
        check.instruments();
        check.certificates();
        check.tests();
        check.conditions();
        check.thermometers();
        check.window();
        check.reference();
        check.scale();
        check.truck();
        check.course();
        return List.copyOf(check.problems);
    }

    /** The problems one after another, as text of whole sentences. */
    public static String sentences(List<String> problems) {
        return problems.stream().map(SetupCheck::sentence).collect(Collectors.joining(" "));
    }

    /** With a capital, unless it begins with the name of a setting. */
    private static String sentence(String problem) {
        String first = problem.substring(0, problem.indexOf(' '));
        return first.matches("[a-z]+")
                ? Character.toUpperCase(problem.charAt(0)) + problem.substring(1)
                : problem;
    }

    /** The flow that the truck is asked for. */
    public static FlowRate askedFlow(RunSetup.Asked asked) {
        Distance inOneSecond = asked.speed().during(1e9);
        Volume volume =
                switch (asked.application()) {
                    case RunSetup.Application.Direct direct ->
                            direct.rate().over(inOneSecond, direct.lanes());
                    case RunSetup.Application.PreWet preWet ->
                            preWet.rate().on(preWet.salt().over(inOneSecond));
                };
        return new FlowRate(volume.litres());
    }

    private void instruments() {
        if (setup.reference().isEmpty() && setup.scale().isEmpty()) {
            say(
                    "neither [reference] nor [scale] is fitted, so nothing can be measured; "
                            + "describe at least one of them");
        } else if (plan.measureBy() == RunSetup.MeasureBy.SCALE && setup.scale().isEmpty()) {
            say(
                    "catch.measure_by is scale but no [scale] is fitted; describe the scale or "
                            + "measure by reference");
        } else if (plan.measureBy() == RunSetup.MeasureBy.REFERENCE
                && setup.reference().isEmpty()) {
            say(
                    "catch.measure_by is reference but no [reference] is fitted; describe the "
                            + "meter or measure by scale");
        }
    }

    private void certificates() {
        boolean refused = false;
        for (String refusal : outOfDate(setup)) {
            refused = true;
            if (setup.session().override().isEmpty()) {
                refuse("", refusal);
            }
        }
        if (setup.session().override().isPresent() && !refused) {
            say("session.override is given, but every certificate is in date; leave it out");
        }
    }

    /** Which certificates do not hold on the run's day, and why. */
    static List<String> outOfDate(RunSetup setup) {
        List<String> refusals = new ArrayList<>();
        setup.reference()
                .map(reference -> reference.certificate().refusalOn(setup.day()))
                .ifPresent(refusal -> refusals.add("reference: " + refusal));
        setup.scale()
                .map(scale -> scale.certificate().refusalOn(setup.day()))
                .ifPresent(refusal -> refusals.add("scale: " + refusal));
        setup.scale()
                .map(scale -> scale.tests().refusalOn(setup.day()))
                .ifPresent(refusal -> refusals.add("scale: " + refusal));
        return refusals;
    }

    /**
     * What a manager has taken upon himself in this setup, a sentence for each certificate that is
     * out of date: it stands in everything that is made of the catch.
     */
    public static List<String> decided(RunSetup setup) {
        Session session = setup.session();
        return session.override().stream()
                .flatMap(reason ->
                        outOfDate(setup).stream()
                                .map(refusal ->
                                        "Used by decision of "
                                                + session.by().orElseThrow()
                                                + " ("
                                                + reason
                                                + "), although out of date: "
                                                + refusal.substring(0, refusal.indexOf(';'))
                                                        .replaceFirst(": ", ", ")
                                                + "."))
                .toList();
    }

    private void tests() {
        setup.scale()
                .flatMap(scale -> scale.tests().weights())
                .filter(weights -> !weights.passed())
                .ifPresent(weights ->
                        say(
                                "the scale failed its check with weights on %s (%s); have it"
                                        + " adjusted and run catchbay weights again",
                                weights.day(), weights.test()));
        setup.scale()
                .flatMap(scale -> scale.tests().shunt())
                .filter(shunt -> !shunt.passed())
                .ifPresent(shunt ->
                        say(
                                "the hose carried more than it may in the shunt test of %s (%s);"
                                        + " hang it so that it touches nothing of the tank and run"
                                        + " catchbay shunt again",
                                shunt.day(), shunt.test()));
    }

    /** What the instruments may be used for, beyond their certificates' dates. */
    private void conditions() {
        Doubts.Temperatures warmth = setup.doubts().temperatures();
        Doubts.Reference reference = setup.doubts().reference();
        boolean limited = reference.coldest().isPresent() || reference.warmest().isPresent();
        boolean told = warmth.reference().isPresent() || sensed(TemperaturePlace.REFERENCE);
        if (setup.reference().isPresent() && limited && !told) {
            say(
                    "the reference has limits of temperature but temperature.reference is not"
                            + " given; add how warm the liquid is there");
        }
        warmth.reference()
                .filter(reference::excludes)
                .ifPresent(t ->
                        say(
                                "liquid of %s degrees Celsius is outside what the reference may be"
                                        + " used at; warm or cool it, or use another reference",
                                number(t.celsius())));
        if (setup.scale().isEmpty()) {
            return;
        }
        Doubts.Scale scale = setup.doubts().scale();
        if (!scale.inPlace().orElse(true) && !setup.scale().get().tests().checkedInPlace()) {
            say(
                    "scale.in_place is false: gravity differs by up to half a per cent from place"
                        + " to place, so have the scale adjusted where it stands, or check it there"
                        + " by catchbay weights");
        }
        boolean known =
                setup.scale().get().certificate().conditions().temperature().isPresent()
                        && (warmth.room().isPresent() || sensed(TemperaturePlace.ROOM));
        if (scale.perKelvin().value() > 0 && !known) {
            say(
                    "scale.span_per_kelvin is given but not how warm it was at its calibration and"
                            + " is now; add scale.calibrated and temperature.room");
        }
    }

    private boolean sensed(TemperaturePlace place) {
        return setup.doubts().temperatures().sensors().places().contains(place);
    }

    /** A temperature counts as a difference between two places. */
    private void thermometers() {
        boolean other =
                setup.doubts().temperatures().reference().isPresent()
                        || sensed(TemperaturePlace.REFERENCE)
                        || sensed(TemperaturePlace.TANK);
        if (sensed(TemperaturePlace.TRUCK_METER) && !other) {
            say(
                    "temperature.sensors has truck-meter alone, and it counts only against how warm"
                            + " the liquid is at the bay; fit one at the reference or the tank");
        }
    }

    private void window() {
        boolean flying = plan.window() == RunSetup.Window.FLYING;
        if (flying && setup.diverter().isEmpty()) {
            say(
                    "catch.window is flying but no [diverter] is fitted; describe the diverter "
                            + "or use a standing window");
        }
        if (flying && setup.reported() instanceof RunSetup.Reported.Display) {
            say(
                    "reported.source is display, read at rest, but catch.window is flying, cut "
                            + "out of running flow: the two "
                            + "do not cover the same liquid; use a standing window, or source "
                            + "line or pulses");
        }
        if (flying
                && setup.asked().application() instanceof RunSetup.Application.PreWet preWet
                && preWet.saltReported()) {
            say(
                    "asked.salt_reported is true, read at rest, but catch.window is flying, cut out"
                            + " of running flow: the two do not cover the same salt; use a standing"
                            + " window, or feeder pulses");
        }
        if (plan.flowBy() == RunSetup.FlowBy.GROUND_SPEED
                && setup.asked().pulsesPerMile().isEmpty()) {
            say(
                    "catch.flow_by is ground-speed but asked.pulses_per_mile is not given; add "
                            + "it, or let the operator "
                            + "start the flow");
        }
        speed();
        setup.diverter()
                .ifPresent(diverter -> {
                    if (flying && plan.catchNanos() < 2 * diverter.travelNanosMax()) {
                        say(
                                "a catch of %s is shorter than twice the diverter's travel limit "
                                        + "of %s; lengthen catch.seconds or "
                                        + "shorten diverter.travel_limit_seconds",
                                seconds(plan.catchNanos()), seconds(diverter.travelNanosMax()));
                    }
                });
    }

    private void speed() {
        boolean sent = plan.flowBy() == RunSetup.FlowBy.GROUND_SPEED;
        switch (setup.truck().speedSource()) {
            case PULSES -> {
                // The bay can play them.
            }
            case DATA_BUS -> ownSpeed(sent, "data-bus");
            case SATELLITE -> ownSpeed(sent, "satellite");
            case COIL -> ownSpeed(sent, "coil");
        }
        if (setup.asked().sendsFeeder() && (!sent || setup.asked().feederHertz().isEmpty())) {
            say(
                    "asked.send_feeder is true but %s; "
                            + "add what is lacking, or take send_feeder out",
                    sent
                            ? "the salt of a feeder pulse (asked.feeder) is not given"
                            : "catch.flow_by is not ground-speed");
        }
    }

    private void ownSpeed(boolean sent, String source) {
        if (sent) {
            say(
                    "catch.flow_by is ground-speed but truck.speed_source is %s, which the bay"
                            + " cannot feed; let the operator start the flow, at the controller's"
                            + " own test speed",
                    source);
        }
    }

    private void reference() {
        if (setup.reference().isEmpty()) {
            return;
        }
        RunSetup.Reference reference = setup.reference().get();
        PulseRule rule =
                new PulseRule(
                        reference.debounceNanos(),
                        reference.leapRatio(),
                        reference.evenRatioMax(),
                        Long.MAX_VALUE,
                        0);
        refuse("reference: ", rule.refusalAt(reference.pulsesPerSecondMax()));
        double highest = reference.curve().highestPulsesPerSecond();
        if (reference.pulsesPerSecondMax() < highest) {
            say(
                    "reference.rate_max_hertz of %s is below the %s pulses/s of the curve's "
                            + "highest point; raise it",
                    number(reference.pulsesPerSecondMax()), number(highest));
        }
        double lowest = reference.curve().lowestPulsesPerSecond();
        if (plan.silenceNanos() / 1e9 < 2 / lowest) {
            say(
                    "a silence of %s cannot tell rest from the lowest certified flow of %s "
                            + "pulses/s; lengthen "
                            + "catch.silence_seconds to %s s or more",
                    seconds(plan.silenceNanos()), number(lowest), number(2 / lowest));
        }
        if (plan.measureBy() == RunSetup.MeasureBy.REFERENCE) {
            measuredByReference(reference);
        }
    }

    private void measuredByReference(RunSetup.Reference reference) {
        FlowRate flow = askedFlow(setup.asked());
        FlowRate lowest = reference.curve().lowest();
        FlowRate highest = reference.curve().highest();
        if (flow.compareTo(lowest) < 0 || flow.compareTo(highest) > 0) {
            say(
                    "the asked flow of %s lies outside the reference's certified %s to %s; use "
                            + "another reference, or change "
                            + "asked rate or speed",
                    perMinute(flow), perMinute(lowest), perMinute(highest));
            return;
        }
        double rate =
                flow.litresPerSecond()
                        * reference.curve().points().getFirst().constant().pulsesPerLitre();
        enoughPulses("reference", rate);
    }

    private void enoughPulses(String line, double pulsesPerSecond) {
        double pulses = pulsesPerSecond * plan.catchNanos() / 1e9;
        int least =
                plan.window() == RunSetup.Window.FLYING ? FLYING_PULSES_MIN : STANDING_PULSES_MIN;
        if (pulses < least) {
            say(
                    "a catch of %s at %s pulses/s gives %s pulses of the %s meter, fewer than "
                            + "the %d it takes; lengthen "
                            + "catch.seconds or raise the flow",
                    seconds(plan.catchNanos()),
                    number(pulsesPerSecond),
                    number(Math.floor(pulses)),
                    line,
                    least);
        }
    }

    private void scale() {
        if (setup.scale().isEmpty()) {
            return;
        }
        RunSetup.Scale scale = setup.scale().get();
        double resolution = scale.resolution().kilograms();
        if (scale.restBand().kilograms() < resolution) {
            say(
                    "scale.rest_band of %s kg is less than the scale's resolution of %s kg, so "
                            + "one flickering digit would "
                            + "keep it from rest; raise rest_band",
                    number(scale.restBand().kilograms()), number(resolution));
        }
        if (plan.restNanosMax() <= scale.restNanos()) {
            say(
                    "the scale must rest for %s but catch.rest_limit gives it only %s; lengthen "
                            + "rest_limit_seconds",
                    seconds(scale.restNanos()), seconds(plan.restNanosMax()));
        }
        double liquid = setup.liquid().density().kilogramsPerCubicMetre();
        double caught = askedVolume().litres() / 1000 * liquid;
        if (caught > scale.capacity().kilograms()) {
            say(
                    "a catch of %s kg is over the scale's capacity of %s kg; shorten "
                            + "catch.seconds or lower the flow",
                    number(caught), number(scale.capacity().kilograms()));
        }
        double least = setup.doubts().scale().smallestNet().kilograms();
        if (caught < least) {
            say(
                    "a catch of %s kg is below the %s kg that the scale may weigh at least;"
                            + " lengthen catch.seconds, raise the flow or use a finer scale",
                    number(caught), number(least));
        }
        scaleSteps(caught, resolution);
    }

    private void scaleSteps(double caught, double resolution) {
        if (plan.measureBy() == RunSetup.MeasureBy.SCALE && caught < SCALE_STEPS_MIN * resolution) {
            say(
                    "a catch of %s kg is fewer than %d steps of the scale's %s kg; lengthen "
                            + "catch.seconds, raise the flow or "
                            + "measure by reference",
                    number(caught), SCALE_STEPS_MIN, number(resolution));
        } else if (setup.reference().isPresent()
                && resolution > caught * plan.crossCheckMax().value()) {
            say(
                    "the scale's step of %s kg is more than the %s %% of a %s kg catch by which "
                            + "reference and scale may "
                            + "disagree; lengthen catch.seconds or raise catch.cross_check_percent",
                    number(resolution), number(plan.crossCheckMax().percent()), number(caught));
        }
    }

    private void truck() {
        FlowRate flow = askedFlow(setup.asked());
        if (flow.litresPerSecond() == 0) {
            say(
                    "the asked rate is 0, so nothing would flow; set the rate that the truck is "
                            + "set to");
            return;
        }
        if (setup.reported().step().litres() * REPORTED_STEPS_MIN > askedVolume().litres()) {
            say(
                    "the reported total's step of %s US gal is more than a tenth of the %s US "
                            + "gal asked; lengthen "
                            + "catch.seconds or read a finer total",
                    number(setup.reported().step().usGallons()), number(askedVolume().usGallons()));
        }
        if (setup.reported() instanceof RunSetup.Reported.RunningLine line
                && line.freshNanosMax() > plan.catchNanos()) {
            say(
                    "totals up to %s apart cannot tell the amount of a catch of %s; shorten "
                            + "reported.fresh_seconds or "
                            + "lengthen catch.seconds",
                    seconds(line.freshNanosMax()), seconds(plan.catchNanos()));
        }
        Optional<PulseConstant> constant = setup.truck().constant().pulses();
        if (constant.isPresent()) {
            truckLine(flow.litresPerSecond() * constant.get().pulsesPerLitre());
        } else if (setup.reported() instanceof RunSetup.Reported.MeterPulses) {
            say(
                    "reported.source is pulses but truck.constant_percent has no base, so pulses "
                            + "give no volume; add "
                            + "base_pulses_per_us_gal, or read the display or line");
        }
    }

    private void truckLine(double pulsesPerSecond) {
        PulseRule rule =
                new PulseRule(
                        setup.truck().debounceNanos(),
                        PulseRule.LEAP_RATIO,
                        PulseRule.EVEN_RATIO_MAX,
                        Long.MAX_VALUE,
                        0);
        refuse("truck: ", rule.refusalAt(pulsesPerSecond));
        if (setup.reported() instanceof RunSetup.Reported.MeterPulses) {
            enoughPulses("truck", pulsesPerSecond);
        }
    }

    private void course() {
        if (plan.settleSlots() == 1) {
            say(
                    "catch.settle_slots is 1, and one slot shows no spread; use at least 2, or 0 "
                            + "for no proof of steadiness");
        }
        boolean judged =
                setup.reference().isPresent()
                        || setup.reported() instanceof RunSetup.Reported.MeterPulses;
        if (plan.settleSlots() > 0 && !judged) {
            say(
                    "catch.settle_slots is %d but neither [reference] nor the truck's pulses are "
                            + "there to judge steadiness "
                            + "by; set settle_slots = 0",
                    plan.settleSlots());
        }
        if (plan.settleSlots() > 0
                && plan.settleNanosMax() <= plan.settleSlotNanos() * plan.settleSlots()) {
            say(
                    "%d settle slots of %s take longer than catch.settle_limit of %s; lengthen "
                            + "settle_limit_seconds",
                    plan.settleSlots(),
                    seconds(plan.settleSlotNanos()),
                    seconds(plan.settleNanosMax()));
        }
        if (plan.restNanosMax() <= plan.silenceNanos()) {
            say(
                    "a silence of %s is awaited but catch.rest_limit allows only %s; lengthen "
                            + "rest_limit_seconds",
                    seconds(plan.silenceNanos()), seconds(plan.restNanosMax()));
        }
    }

    private Volume askedVolume() {
        return askedFlow(setup.asked()).during(plan.catchNanos());
    }

    private void refuse(String what, String refusal) {
        if (refusal != null) {
            problems.add(what + refusal + ".");
        }
    }

    private void say(String format, Object... values) {
        problems.add(String.format(Locale.ROOT, format, values) + ".");
    }

    private static String perMinute(FlowRate flow) {
        return number(flow.perMinute(VolumeUnit.US_GALLON)) + " US gal/min";
    }

    private static String seconds(long nanos) {
        return number(nanos / 1e9) + " s";
    }

    /** At most four digits that matter, without an exponent where a person would not write one. */
    private static String number(double value) {
        return Numeral.of(new BigDecimal(value), 4);
    }
}
