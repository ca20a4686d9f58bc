package catchbay.run;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.PulseConstant;
import catchbay.signal.EdgeBatch;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.PulseRule;

import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * All pulse lines of a run around its window.
 *
 * @param steadyBy the line by which steadiness of flow is judged; empty where none can
 */
public record Lines(
        PulseGate reference,
        PulseGate truck,
        PulseGate speed,
        PulseGate feeder,
        FlowSteadiness steadiness,
        Optional<PulseLine> steadyBy) {

    static Lines starting(RunSetup setup) {
        PulseRule plain = PulseRule.plain();
        boolean tapped = setup.reported() instanceof RunSetup.Reported.MeterPulses;
        Optional<PulseLine> steadyBy =
                setup.reference().isPresent()
                        ? Optional.of(PulseLine.REFERENCE)
                        : tapped ? Optional.of(PulseLine.TRUCK) : Optional.empty();
        RunSetup.Plan plan = setup.plan();
        return new Lines(
                PulseGate.idle(setup.reference().map(Lines::ruleOf).orElse(plain)),
                PulseGate.idle(truckRule(setup)),
                PulseGate.idle(plain),
                PulseGate.idle(plain),
                FlowSteadiness.starting(plan.settleSlotNanos(), Math.max(2, plan.settleSlots())),
                steadyBy);
    }

    /**
     * A truck's meter has no certified range; but a spacing shorter than a quarter of that of the
     * asked flow is a bounce, not a pulse.
     */
    private static PulseRule truckRule(RunSetup setup) {
        double asked = SetupCheck.askedFlow(setup.asked()).litresPerSecond();
        double pulsesPerLitre =
                setup.truck().constant().pulses().map(PulseConstant::pulsesPerLitre).orElse(0.0);
        double quarterNanos = 1e9 / (asked * pulsesPerLitre) / 4;
        return new PulseRule(
                setup.truck().debounceNanos(),
                PulseRule.LEAP_RATIO,
                PulseRule.EVEN_RATIO_MAX,
                Long.MAX_VALUE,
                quarterNanos < RunSetup.DURATION_NANOS_MAX ? (long) quarterNanos : 0);
    }

    private static PulseRule ruleOf(RunSetup.Reference reference) {
        ReferenceCurve curve = reference.curve();
        return new PulseRule(
                reference.debounceNanos(),
                reference.leapRatio(),
                reference.evenRatioMax(),
                (long) Math.ceil(1e9 / curve.lowestPulsesPerSecond()),
                (long) Math.floor(1e9 / curve.highestPulsesPerSecond()));
    }

    PulseGate of(PulseLine line) {
        return switch (line) {
            case REFERENCE -> reference;
            case TRUCK -> truck;
            case SPEED -> speed;
            case FEEDER -> feeder;
        };
    }

    Lines take(PulseLine line, EdgeBatch batch) {
        FlowSteadiness next =
                steadyBy.filter(line::equals).isPresent() ? steadiness.take(batch) : steadiness;
        PulseGate gate = of(line).take(batch);
        return switch (line) {
            case REFERENCE -> new Lines(gate, truck, speed, feeder, next, steadyBy);
            case TRUCK -> new Lines(reference, gate, speed, feeder, next, steadyBy);
            case SPEED -> new Lines(reference, truck, gate, feeder, next, steadyBy);
            case FEEDER -> new Lines(reference, truck, speed, gate, next, steadyBy);
        };
    }

    /** The same change to the gate of every line. */
    Lines each(UnaryOperator<PulseGate> change) {
        return new Lines(
                change.apply(reference),
                change.apply(truck),
                change.apply(speed),
                change.apply(feeder),
                steadiness,
                steadyBy);
    }

    Lines with(FlowSteadiness other) {
        return new Lines(reference, truck, speed, feeder, other, steadyBy);
    }
}
