package catchbay.run;

import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.signal.FlowSteadiness;
import catchbay.signal.PulseGate;
import catchbay.signal.PulseLine;
import catchbay.signal.Tally;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureSense;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * A run at one moment, for whoever looks on: what a screen shows and nothing decides by. Its
 * amounts are so far and about: without buoyancy, temperature or fractions of a pulse, each by the
 * certified constant nearest to the flow of now. Made from a state alone, so that it costs the loop
 * nothing: the state is handed on, and the view made where it is shown.
 *
 * @param state the state's key
 * @param part which catch of which sweep it is, where it is one
 * @param runNanos since the run's first turn, ns
 * @param stateNanos since this state began, ns
 * @param left how long this state lasts yet; empty where something else than time ends it
 * @param leastNanos how long the run takes yet at the least, ns: all that is set in seconds, and
 *     nothing of what is waited for
 * @param flow the flow now; empty where no meter's pulses tell it, or too few yet
 * @param measured what the bay has caught so far in the window; empty before it
 * @param reported what the truck says that it has delivered in it; empty where that is not known
 *     yet
 * @param tank what lies on the scale; empty without a scale, and before its first weight
 * @param scaleShare the same over the scale's capacity
 * @param filled how full the tank is; empty where nobody knows its room, as outside of a sweep
 * @param liquid the liquid's temperature, from the first that is measured of truck's meter,
 *     reference and tank
 * @param awaitsPerson whether somebody was asked something and has not answered
 */
public record LiveView(
        String state,
        Optional<Part> part,
        long runNanos,
        long stateNanos,
        Optional<Left> left,
        long leastNanos,
        Optional<Flow> flow,
        Optional<Volume> measured,
        Optional<Volume> reported,
        Optional<Mass> tank,
        Optional<Ratio> scaleShare,
        Optional<Ratio> filled,
        Optional<Temperature> liquid,
        boolean awaitsPerson) {

    /** No edge for so many slots: the last full one is no longer the flow of now. */
    private static final int SLOTS_STALE = 2;

    private static final List<TemperaturePlace> LIQUID =
            List.of(
                    TemperaturePlace.TRUCK_METER,
                    TemperaturePlace.REFERENCE,
                    TemperaturePlace.TANK);

    /**
     * How long a state lasts yet.
     *
     * @param nanos >= 0
     * @param atMost whether it may end earlier
     */
    public record Left(long nanos, boolean atMost) {}

    /**
     * The flow now.
     *
     * @param rate about
     * @param by the line that tells it
     * @param certified whether the reference is certified at it; false of a truck's meter
     */
    public record Flow(FlowRate rate, PulseLine by, boolean certified) {}

    /**
     * A run as it stands.
     *
     * @param nowNanos now, monotonic clock
     * @param begunNanos when the run's first turn was
     * @param sinceNanos when its state began
     */
    public static LiveView of(RunState state, long nowNanos, long begunNanos, long sinceNanos) {
        Sensed sensed = state.sensed();
        Optional<Left> left = left(state, nowNanos, sinceNanos);
        Optional<Mass> tank = sensed.scale().last();
        Optional<Volume> measured = measured(sensed);
        return new LiveView(
                state.key(),
                sensed.setup().part(),
                nowNanos - begunNanos,
                nowNanos - sinceNanos,
                left,
                timedAfter(state) + left.filter(of -> !of.atMost).map(Left::nanos).orElse(0L),
                flow(sensed, nowNanos),
                measured,
                reported(sensed),
                tank,
                tank.flatMap(mass ->
                        sensed.setup()
                                .scale()
                                .map(scale ->
                                        new Ratio(
                                                mass.kilograms() / scale.capacity().kilograms()))),
                filled(state, measured),
                LIQUID.stream()
                        .map(sensed.thermometers().senses()::get)
                        .filter(Objects::nonNull)
                        .map(TemperatureSense::last)
                        .filter(Objects::nonNull)
                        .findFirst()
                        .map(seen -> new Temperature(seen.celsius())),
                awaits(state));
    }

    /** A part of a sweep is confirmed with the whole of it: it awaits nobody before its flow. */
    private static boolean awaits(RunState state) {
        return Moves.awaitsAnswer(state) && !confirmed(state);
    }

    /** Whether what a run first waits for is there already, so that the state lasts no time. */
    public static boolean confirmed(RunState state) {
        return state instanceof RunState.Confirming && state.sensed().setup().part().isPresent();
    }

    private static Optional<Left> left(RunState state, long now, long since) {
        RunSetup.Plan plan = state.sensed().plan();
        if (awaits(state)) {
            return Optional.of(within(plan.answerNanosMax(), now, since));
        }
        return switch (state) {
            case RunState.Emptying s -> Optional.of(until(s.untilNanos(), now));
            case RunState.Purging s -> Optional.of(until(s.untilNanos(), now));
            case RunState.Catching s -> Optional.of(until(s.untilNanos(), now));
            case RunState.Dripping s -> Optional.of(until(s.untilNanos(), now));
            case RunState.Draining s -> Optional.of(until(s.untilNanos(), now));
            case RunState.Settling s -> Optional.of(within(plan.settleNanosMax(), now, since));
            case RunState.Idle _,
                    RunState.Confirming _,
                    RunState.Starting _,
                    RunState.Resting _,
                    RunState.Opening _,
                    RunState.Closing _,
                    RunState.Trailing _,
                    RunState.Stilling _,
                    RunState.Weighing _,
                    RunState.Reading _,
                    RunState.Comparing _,
                    RunState.Ended _ ->
                    Optional.empty();
        };
    }

    private static Left until(long untilNanos, long now) {
        return new Left(Math.max(0, untilNanos - now), false);
    }

    private static Left within(long limit, long now, long since) {
        return new Left(Math.max(0, since + limit - now), true);
    }

    /** What the plan sets in seconds of all that comes after this state. */
    private static long timedAfter(RunState state) {
        RunSetup.Plan plan = state.sensed().plan();
        long drain = plan.drainNanos();
        long drip = plan.dripNanos() + drain;
        long whole = plan.catchNanos() + drip;
        long all = plan.purgeNanos() + whole;
        return switch (state) {
            case RunState.Idle _, RunState.Confirming _ ->
                    all + state.sensed().setup().part().map(Part::emptyNanos).orElse(0L);
            case RunState.Emptying _, RunState.Starting _ -> all;
            case RunState.Purging _, RunState.Settling _, RunState.Resting _, RunState.Opening _ ->
                    whole;
            case RunState.Catching s -> s.untilNanos() == Long.MAX_VALUE ? whole : drip;
            case RunState.Closing _, RunState.Trailing _, RunState.Stilling _ -> drip;
            case RunState.Reading s ->
                    s.sensed().lines().reference().openNanos() == Tally.NONE ? whole : drain;
            case RunState.Dripping _, RunState.Weighing _, RunState.Comparing _ -> drain;
            case RunState.Draining _, RunState.Ended _ -> 0;
        };
    }

    private static Optional<Flow> flow(Sensed sensed, long now) {
        FlowSteadiness steadiness = sensed.lines().steadiness();
        if (steadiness.rates().isEmpty() || sensed.lines().steadyBy().isEmpty()) {
            return Optional.empty();
        }
        double rate = steadiness.rates().getLast();
        long quiet = now - steadiness.anchorNanos();
        if (quiet > SLOTS_STALE * steadiness.slotNanos()) {
            // One more edge by now would be the most that the meter can have been giving.
            rate = Math.min(rate, (steadiness.anchored() + 1) * 1e9 / quiet);
        }
        double hertz = rate;
        return switch (sensed.lines().steadyBy().get()) {
            case REFERENCE -> {
                ReferenceCurve curve = sensed.setup().reference().orElseThrow().curve();
                boolean certified = curve.at(hertz) instanceof ReferenceCurve.Reading.InRange;
                yield Optional.of(
                        new Flow(
                                new FlowRate(hertz / nearest(curve, hertz).pulsesPerLitre()),
                                PulseLine.REFERENCE,
                                certified));
            }
            case TRUCK ->
                    sensed.setup()
                            .truck()
                            .constant()
                            .pulses()
                            .map(k ->
                                    new Flow(
                                            new FlowRate(hertz / k.pulsesPerLitre()),
                                            PulseLine.TRUCK,
                                            false));
            case REFERENCE_SECOND, SPEED, FEEDER -> Optional.empty();
        };
    }

    /** The constant at a pulse rate, or the certified one nearest to it. */
    private static PulseConstant nearest(ReferenceCurve curve, double hertz) {
        return switch (curve.at(hertz)) {
            case ReferenceCurve.Reading.InRange certified -> certified.constant();
            case ReferenceCurve.Reading.OutOfRange _ ->
                    hertz < curve.lowestPulsesPerSecond()
                            ? curve.points().getFirst().constant()
                            : curve.points().getLast().constant();
        };
    }

    private static Optional<Volume> measured(Sensed sensed) {
        PulseGate gate = sensed.lines().reference();
        if (gate.openNanos() == Tally.NONE) {
            return Optional.empty();
        }
        return switch (sensed.plan().measureBy()) {
            case REFERENCE -> {
                ReferenceCurve curve = sensed.setup().reference().orElseThrow().curve();
                double hertz = sensed.lines().steadiness().pulsesPerSecond();
                yield Optional.of(nearest(curve, hertz).volumeOf(gate.inside().pulses()));
            }
            case SCALE -> {
                double density = sensed.setup().liquid().density().kilogramsPerCubicMetre();
                Optional<Mass> tare = sensed.ledger().tare();
                yield sensed.scale()
                        .last()
                        .flatMap(mass ->
                                tare.map(empty ->
                                        new Volume(
                                                Math.max(0, mass.kilograms() - empty.kilograms())
                                                        * 1000
                                                        / density)));
            }
        };
    }

    private static Optional<Ratio> filled(RunState state, Optional<Volume> measured) {
        boolean before =
                switch (state) {
                    case RunState.Idle _, RunState.Confirming _, RunState.Emptying _ -> true;
                    case RunState.Starting _,
                            RunState.Purging _,
                            RunState.Settling _,
                            RunState.Resting _,
                            RunState.Opening _,
                            RunState.Catching _,
                            RunState.Closing _,
                            RunState.Trailing _,
                            RunState.Stilling _,
                            RunState.Dripping _,
                            RunState.Weighing _,
                            RunState.Reading _,
                            RunState.Comparing _,
                            RunState.Draining _,
                            RunState.Ended _ ->
                            false;
                };
        return state.sensed()
                .setup()
                .part()
                .flatMap(part ->
                        part.room()
                                .filter(room -> room.litres() > 0)
                                .map(room -> {
                                    Volume held = before ? part.inTank() : part.inTankAtOpening();
                                    double caught = measured.map(Volume::litres).orElse(0.0);
                                    return new Ratio((held.litres() + caught) / room.litres());
                                }));
    }

    private static Optional<Volume> reported(Sensed sensed) {
        if (sensed.lines().truck().openNanos() == Tally.NONE) {
            return Optional.empty();
        }
        return switch (sensed.setup().reported()) {
            case RunSetup.Reported.MeterPulses r ->
                    sensed.setup()
                            .truck()
                            .constant()
                            .pulses()
                            .map(k -> k.volumeOf(sensed.lines().truck().inside().pulses()));
            case RunSetup.Reported.RunningLine r ->
                    Optional.ofNullable(sensed.total().openTotal())
                            .map(open ->
                                    difference(
                                            open.litres(),
                                            sensed.total().readings().getLast().total()));
            case RunSetup.Reported.Nothing r -> Optional.empty();
            case RunSetup.Reported.Display r ->
                    sensed.ledger()
                            .totalBefore()
                            .flatMap(before ->
                                    sensed.ledger()
                                            .totalAfter()
                                            .map(after -> difference(before.litres(), after)));
        };
    }

    /** A total that went back is told of by the run's end, not here. */
    private static Volume difference(double fromLitres, Volume to) {
        return new Volume(Math.max(0, to.litres() - fromLitres));
    }
}
