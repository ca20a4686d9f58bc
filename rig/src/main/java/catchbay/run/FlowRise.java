package catchbay.run;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.signal.PulseLine;
import catchbay.signal.StepMeasures;

import java.util.Locale;
import java.util.Optional;

/**
 * How the flow of a flying catch came up after it was asked for, before its window opened. No
 * amount depends on it: it tells whether the truck's controller follows.
 *
 * @param judged what the pulses tell
 * @param by the line they came on
 * @param ofAsked the flow that it came to over the asked one; empty where that line's pulses tell
 *     no flow
 */
public record FlowRise(StepMeasures.Judged judged, PulseLine by, Optional<Ratio> ofAsked) {

    /**
     * A flow that is farther from the asked one than this share of it does not follow, but goes by
     * something else: a clamp, a pump's limit, another setting. Common practice, no source: above
     * what worn meters and wrong constants make of it.
     */
    private static final double FOLLOWS_WITHIN = 0.2;

    /** Of a catch; empty where it was not watched. */
    static Optional<FlowRise> of(Sensed sensed) {
        return sensed.lines()
                .risen()
                .map(judged -> {
                    PulseLine by = sensed.lines().steadyBy().orElseThrow();
                    return new FlowRise(judged, by, ofAsked(sensed, by, judged));
                });
    }

    private static Optional<Ratio> ofAsked(
            Sensed sensed, PulseLine by, StepMeasures.Judged judged) {
        return switch (judged) {
            case StepMeasures.Judged.Untold _ -> Optional.empty();
            case StepMeasures.Judged.Measured(StepMeasures measures) ->
                    litresPerSecond(sensed.setup(), by, measures.finalPulsesPerSecond())
                            .map(flow ->
                                    new Ratio(
                                            flow
                                                    / SetupCheck.askedFlow(sensed.setup().asked())
                                                            .litresPerSecond()));
        };
    }

    private static Optional<Double> litresPerSecond(RunSetup setup, PulseLine by, double hertz) {
        return switch (by) {
            case REFERENCE ->
                    switch (setup.reference().orElseThrow().curve().at(hertz)) {
                        case ReferenceCurve.Reading.InRange certified ->
                                Optional.of(certified.flow().litresPerSecond());
                        case ReferenceCurve.Reading.OutOfRange _ -> Optional.empty();
                    };
            case TRUCK ->
                    setup.truck()
                            .constant()
                            .pulses()
                            .map(PulseConstant::pulsesPerLitre)
                            .map(constant -> hertz / constant);
            case REFERENCE_SECOND, SPEED, FEEDER -> Optional.empty();
        };
    }

    /** Whether a flow follows what was asked, where no controller is known to hold it. */
    public static boolean follows(Ratio ofAsked) {
        return Math.abs(ofAsked.value() - 1) <= FOLLOWS_WITHIN;
    }

    /** Whether it followed what was asked; empty where that cannot be said. */
    public Optional<Boolean> followed() {
        return ofAsked.map(FlowRise::follows);
    }

    /** It in words. */
    String sentence() {
        return switch (judged) {
            case StepMeasures.Judged.Untold(String reason) ->
                    "How the flow came up is not known: " + reason + ".";
            case StepMeasures.Judged.Measured(StepMeasures measures) -> sentence(measures);
        };
    }

    private String sentence(StepMeasures measures) {
        StringBuilder words =
                new StringBuilder(
                        followed().orElse(true) ? "The flow followed" : "The flow did not follow");
        ofAsked.filter(ratio -> !followed().orElseThrow())
                .ifPresent(ratio ->
                        words.append(
                                said(
                                        ": it came to %.0f %% of what was asked; it settled",
                                        ratio.percent())));
        if (measures.settlingNanos().isPresent()) {
            words.append(seconds(measures, measures.settlingNanos().getAsLong()));
        } else {
            words.append(", its pulses too uneven to tell when");
        }
        measures.overshoot()
                .ifPresent(over -> words.append(said(", %.0f %% over", over.above().percent())));
        words.append(said(", then steady within %.1f %%", measures.steadySpread().percent()));
        ofAsked.filter(ratio -> followed().orElseThrow())
                .ifPresent(ratio ->
                        words.append(said(" at %.0f %% of what was asked", ratio.percent())));
        return words.append('.').toString();
    }

    /** No closer than the pulses tell. */
    private static String seconds(StepMeasures measures, long nanos) {
        return nanos < measures.resolutionNanos()
                ? said(" within %.1f s", measures.resolutionNanos() / 1e9)
                : said(" in %.1f s", nanos / 1e9);
    }

    private static String said(String format, double number) {
        return String.format(Locale.ROOT, format, number);
    }
}
