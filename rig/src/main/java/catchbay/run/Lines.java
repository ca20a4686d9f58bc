package catchbay.run;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.PulseConstant;
import catchbay.signal.ChannelPair;
import catchbay.signal.ChannelPair.Side;
import catchbay.signal.EdgeBatch;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.PulseRule;
import catchbay.signal.SentPulses;
import catchbay.signal.StepMeasures;
import catchbay.signal.StepResponse;
import catchbay.signal.Tally;

import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * All pulse lines of a run around its window.
 *
 * @param second the reference's second channel
 * @param channels the reference's two channels against each other; empty where it has but one
 * @param sentSpeed the speed pulses that the bay sends, whether they are counted back or not
 * @param sentFeeder the feeder pulses that it sends
 * @param steadyBy the line by which steadiness of flow is judged; empty where none can
 * @param rise how its flow comes up; idle where that is not watched, and once it is judged
 * @param risen what that told; empty before, and where it is not watched
 */
public record Lines(
        PulseGate reference,
        PulseGate second,
        Optional<ChannelPair> channels,
        PulseGate truck,
        PulseGate speed,
        PulseGate feeder,
        SentPulses sentSpeed,
        SentPulses sentFeeder,
        FlowSteadiness steadiness,
        Optional<PulseLine> steadyBy,
        StepResponse rise,
        Optional<StepMeasures.Judged> risen) {

    static Lines starting(RunSetup setup) {
        PulseRule plain = PulseRule.plain();
        boolean tapped = setup.reported() instanceof RunSetup.Reported.MeterPulses;
        Optional<PulseLine> steadyBy =
                setup.reference().isPresent()
                        ? Optional.of(PulseLine.REFERENCE)
                        : tapped ? Optional.of(PulseLine.TRUCK) : Optional.empty();
        RunSetup.Plan plan = setup.plan();
        PulseRule reference = setup.reference().map(Lines::ruleOf).orElse(plain);
        return new Lines(
                PulseGate.idle(reference),
                PulseGate.idle(reference),
                setup.reference()
                        .filter(RunSetup.Reference::twoChannels)
                        .map(meter -> ChannelPair.idle(meter.debounceNanos())),
                PulseGate.idle(truckRule(setup)),
                PulseGate.idle(plain),
                PulseGate.idle(plain),
                SentPulses.UNTOLD,
                SentPulses.UNTOLD,
                FlowSteadiness.starting(plan.settleSlotNanos(), Math.max(2, plan.settleSlots())),
                steadyBy,
                StepResponse.IDLE,
                Optional.empty());
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
            case REFERENCE_SECOND -> second;
            case TRUCK -> truck;
            case SPEED -> speed;
            case FEEDER -> feeder;
        };
    }

    Lines take(PulseLine line, EdgeBatch batch) {
        FlowSteadiness next =
                steadyBy.filter(line::equals).isPresent() ? steadiness.take(batch) : steadiness;
        StepResponse up = steadyBy.filter(line::equals).isPresent() ? rise.take(batch) : rise;
        PulseGate gate = of(line).take(batch);
        return new Lines(
                line == PulseLine.REFERENCE ? gate : reference,
                line == PulseLine.REFERENCE_SECOND ? gate : second,
                paired(line, batch),
                line == PulseLine.TRUCK ? gate : truck,
                line == PulseLine.SPEED ? gate : speed,
                line == PulseLine.FEEDER ? gate : feeder,
                sentSpeed,
                sentFeeder,
                next,
                steadyBy,
                up,
                risen);
    }

    /** The bay sends these pulses at this rate from here on. */
    Lines take(RunInput.PulsesSent sent) {
        boolean speeds = sent.line() == PulseLine.SPEED;
        SentPulses next =
                (speeds ? sentSpeed : sentFeeder).take(sent.atNanos(), sent.hertz(), sent.rising());
        return new Lines(
                reference,
                second,
                channels,
                truck,
                speed,
                feeder,
                speeds ? next : sentSpeed,
                speeds ? sentFeeder : next,
                steadiness,
                steadyBy,
                rise,
                risen);
    }

    private Optional<ChannelPair> paired(PulseLine line, EdgeBatch batch) {
        return switch (line) {
            case REFERENCE -> channels.map(pair -> pair.take(Side.FIRST, batch));
            case REFERENCE_SECOND -> channels.map(pair -> pair.take(Side.SECOND, batch));
            case TRUCK, SPEED, FEEDER -> channels;
        };
    }

    /** On every line the stamp of the next opening or closing is still to come. */
    Lines await() {
        return each(PulseGate::await, channels, UnaryOperator.identity());
    }

    /** On every line the window opened; see {@link PulseGate#open}. */
    Lines open(long nanos, boolean flowRests) {
        return each(
                gate -> gate.open(nanos, flowRests),
                channels.map(pair -> pair.open(nanos, flowRests)),
                sent -> sent.open(nanos));
    }

    /** On every line the window closed. */
    Lines close(long nanos) {
        return each(
                gate -> gate.close(nanos),
                channels.map(pair -> pair.close(nanos)),
                sent -> sent.close(nanos));
    }

    private Lines each(
            UnaryOperator<PulseGate> change,
            Optional<ChannelPair> pair,
            UnaryOperator<SentPulses> ofSent) {
        return new Lines(
                change.apply(reference),
                change.apply(second),
                pair,
                change.apply(truck),
                change.apply(speed),
                change.apply(feeder),
                ofSent.apply(sentSpeed),
                ofSent.apply(sentFeeder),
                steadiness,
                steadyBy,
                rise,
                risen);
    }

    Lines with(FlowSteadiness other) {
        return new Lines(
                reference,
                second,
                channels,
                truck,
                speed,
                feeder,
                sentSpeed,
                sentFeeder,
                other,
                steadyBy,
                rise,
                risen);
    }

    /** From now on it is watched how the flow comes up that was asked for. */
    Lines asked(StepResponse.Start start, long nanos) {
        long last = steadyBy.map(line -> of(line).lastNanos()).orElse(Tally.NONE);
        return with(StepResponse.asked(start, nanos, last), Optional.empty());
    }

    /** The flow is steady: what its rise tells is judged, where it was watched. */
    Lines risen(long silenceNanos) {
        return rise.equals(StepResponse.IDLE)
                ? this
                : with(
                        StepResponse.IDLE,
                        Optional.of(StepMeasures.of(rise, steadiness, silenceNanos)));
    }

    private Lines with(StepResponse up, Optional<StepMeasures.Judged> judged) {
        return new Lines(
                reference,
                second,
                channels,
                truck,
                speed,
                feeder,
                sentSpeed,
                sentFeeder,
                steadiness,
                steadyBy,
                up,
                judged);
    }
}
