package catchbay.run;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.ReferenceCurve;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The catch that a setup lets one expect, before anything moves: liquid flows steadily at the asked
 * flow, every pulse comes evenly, and truck and bay agree. It goes through the very evaluation that
 * a real one goes through, so that what it says of uncertainty is what the real one will say.
 */
public final class ExpectedCatch {

    /** The longest train of pulses that is foreseen: 10 minutes at 20 kHz. */
    public static final long PULSES_MAX = 12_000_000;

    /** How a diverter's travel is foreseen, of its limit. Common practice, no source. */
    private static final double TRAVEL_OF_LIMIT = 0.5;

    /** So much within its certified range that rounding to nanoseconds does not leave it. */
    private static final double WITHIN = 1e-6;

    /** Where nothing tells how warm it is. Common practice, no source. */
    private static final Temperature USUAL = new Temperature(15);

    private static final long SECOND_NANOS = 1_000_000_000L;
    private static final long FLOW_ON_NANOS = 3600 * SECOND_NANOS;
    private static final int EDGES_OUTSIDE = 4;
    private static final int BATCH_EDGES = 256;

    private final RunSetup setup;
    private final FlowRate flow;
    private final boolean flying;
    private final long openNanos;
    private final long closeNanos;
    private final long flowOnNanos = FLOW_ON_NANOS;
    private final long flowOffNanos;

    private ExpectedCatch(RunSetup setup) {
        this.setup = setup;
        this.flow = SetupCheck.askedFlow(setup.asked());
        this.flying = setup.plan().window() == Window.FLYING;
        this.flowOffNanos = flowOnNanos + setup.plan().catchNanos();
        long still = flying ? 0 : setup.plan().silenceNanos() + SECOND_NANOS;
        this.openNanos = flowOnNanos - still;
        this.closeNanos = flowOffNanos + still;
    }

    /** What such a catch comes to: measured, or the refusal or end that it must come to. */
    public static Outcome of(RunSetup setup) {
        List<String> problems = SetupCheck.problems(setup);
        if (!problems.isEmpty()) {
            return new Outcome.Refused(SetupCheck.sentences(problems));
        }
        ExpectedCatch expected = new ExpectedCatch(setup);
        double pulses =
                expected.trains().stream()
                        .mapToDouble(train -> train.hertz * setup.plan().catchNanos() / 1e9)
                        .sum();
        return pulses > PULSES_MAX
                ? new Outcome.Refused(
                        String.format(
                                Locale.ROOT,
                                "The catch would have %.0f pulses, more than the %d that are"
                                        + " foreseen; shorten it.",
                                pulses,
                                PULSES_MAX))
                : Evaluation.of(expected.sensed());
    }

    /**
     * How many pulses a second the reference gives at a flow; at the nearest it is certified at.
     */
    public static double pulsesPerSecond(ReferenceCurve curve, FlowRate flow) {
        double low = curve.lowestPulsesPerSecond() * (1 + WITHIN);
        double high = curve.highestPulsesPerSecond() * (1 - WITHIN);
        double least = low;
        double most = high;
        // The flow rises with the rate, or the curve would have been refused.
        for (int i = 0; i < 60; i++) {
            double middle = (least + most) / 2;
            boolean below =
                    curve.at(middle) instanceof ReferenceCurve.Reading.InRange in
                            && in.flow().compareTo(flow) < 0;
            least = below ? middle : least;
            most = below ? most : middle;
        }
        return Math.clamp((least + most) / 2, low, high);
    }

    /** How long the diverter is foreseen to travel, one way; 0 where there is none. */
    public static long travelNanos(RunSetup setup) {
        return setup.diverter()
                .map(diverter -> Math.round(diverter.travelNanosMax() * TRAVEL_OF_LIMIT))
                .orElse(0L);
    }

    /** A line's even pulses. */
    private record Train(PulseLine line, double hertz, double phase) {

        long stampNanos(long index, long from) {
            return from + Math.round((index + phase) * SECOND_NANOS / hertz);
        }
    }

    private List<Train> trains() {
        List<Train> trains = new ArrayList<>();
        setup.reference()
                .ifPresent(meter -> {
                    double hertz = pulsesPerSecond(meter.curve(), flow);
                    trains.add(new Train(PulseLine.REFERENCE, hertz, 0.5));
                    if (meter.twoChannels()) {
                        trains.add(new Train(PulseLine.REFERENCE_SECOND, hertz, 0.75));
                    }
                });
        Optional<PulseConstant> truck = setup.truck().constant().pulses();
        if (setup.reported() instanceof Reported.MeterPulses && truck.isPresent()) {
            trains.add(
                    new Train(
                            PulseLine.TRUCK,
                            flow.litresPerSecond() * truck.get().pulsesPerLitre(),
                            0.5));
        }
        double miles = setup.asked().speed().milesPerHour() / 3600;
        setup.asked()
                .pulsesPerMile()
                .ifPresent(pulses -> trains.add(new Train(PulseLine.SPEED, pulses * miles, 0.5)));
        if (setup.asked().application() instanceof Application.PreWet preWet) {
            preWet.saltPerFeederPulse()
                    .ifPresent(mass ->
                            trains.add(
                                    new Train(
                                            PulseLine.FEEDER,
                                            salt(preWet, SECOND_NANOS).kilograms()
                                                    / mass.kilograms(),
                                            0.5)));
        }
        // Pulses so rare do not come in a catch.
        trains.removeIf(train -> train.hertz * FLOW_ON_NANOS / 1e9 < EDGES_OUTSIDE);
        return trains;
    }

    private Mass salt(Application.PreWet preWet, long nanos) {
        return preWet.salt().over(setup.asked().speed().during(nanos));
    }

    private Sensed sensed() {
        Sensed sensed = Sensed.starting(setup);
        List<Train> trains = trains();
        Lines lines = sensed.lines();
        if (flying) {
            lines = each(lines, trains, train -> -EDGES_OUTSIDE, train -> 0);
        }
        lines = lines.open(openNanos, !flying);
        lines = each(lines, trains, train -> 0, this::within);
        lines = lines.close(closeNanos);
        if (flying) {
            lines = each(lines, trains, this::within, train -> within(train) + EDGES_OUTSIDE);
        }
        return warmed(totals(sensed.with(lines)).with(ledger()));
    }

    /** How many of a line's pulses come while it is caught. */
    private long within(Train train) {
        long count = (long) Math.floor(train.hertz * setup.plan().catchNanos() / 1e9);
        while (train.stampNanos(count, flowOnNanos) <= flowOffNanos) {
            count++;
        }
        while (count > 0 && train.stampNanos(count - 1, flowOnNanos) > flowOffNanos) {
            count--;
        }
        return count;
    }

    private interface Bound {
        long of(Train train);
    }

    /** Pulses of all lines, in turns, so that what looks at two of them sees both at once. */
    private Lines each(Lines lines, List<Train> trains, Bound from, Bound to) {
        Lines next = lines;
        boolean more = true;
        for (long done = 0; more; done += BATCH_EDGES) {
            more = false;
            for (Train train : trains) {
                long first = from.of(train) + done;
                long count = Math.min(BATCH_EDGES, to.of(train) - first);
                if (count > 0) {
                    long[] stamps = new long[(int) count];
                    for (int i = 0; i < count; i++) {
                        stamps[i] = train.stampNanos(first + i, flowOnNanos);
                    }
                    next = next.take(train.line, EdgeBatch.of(first + firstNumber(), stamps));
                    more = true;
                }
            }
        }
        return next;
    }

    /** The number of the first pulse that is caught: a line numbers its pulses from 1. */
    private long firstNumber() {
        return flying ? EDGES_OUTSIDE + 1 : 1;
    }

    private Volume caught() {
        return flow.during(setup.plan().catchNanos());
    }

    /** The controller's totals, as often as at least half of the time they may be apart. */
    private Sensed totals(Sensed sensed) {
        if (!(setup.reported() instanceof Reported.RunningLine line)) {
            return sensed;
        }
        long apart = Math.max(1, line.freshNanosMax() / 2);
        long from = openNanos - apart - apart / 2;
        Sensed next = sensed;
        boolean open = false;
        for (long at = from; at < closeNanos + 2 * apart; at += apart) {
            if (!open && at >= openNanos) {
                next = next.with(next.total().open(openNanos));
                open = true;
            }
            if (at >= closeNanos && at - apart < closeNanos) {
                next = next.with(next.total().close(closeNanos));
            }
            long flowed =
                    flying
                            ? at - from
                            : Math.clamp(at - flowOnNanos, 0, flowOffNanos - flowOnNanos);
            next = next.with(next.total().take(at, flow.during(flowed)));
        }
        return next;
    }

    private Ledger ledger() {
        Ledger ledger = Ledger.EMPTY.flowOn(flowOnNanos).flowOff(flowOffNanos);
        if (setup.scale().isPresent()) {
            ledger = ledger.tare(new Mass(0)).gross(shown());
        }
        if (flying && setup.diverter().isPresent()) {
            long travel = travelNanos(setup);
            ledger = ledger.opened(travel).closed(travel);
        }
        if (setup.reported() instanceof Reported.Display) {
            ledger = ledger.totalBefore(Volume.ZERO).totalAfter(caught());
        }
        if (setup.asked().application() instanceof Application.PreWet preWet
                && preWet.saltReported()) {
            ledger = ledger.salt(salt(preWet, setup.plan().catchNanos()));
        }
        return ledger;
    }

    /** What the scale would show more: with what the diverter is known to add. */
    private Mass shown() {
        double seconds = setup.plan().catchNanos() / 1e9;
        double more =
                flying ? (seconds + setup.doubts().diverter().timingErrorSeconds()) / seconds : 1;
        RunSetup.Liquid liquid = setup.liquid();
        double kilograms =
                caught().litres() / 1000 * liquid.density().kilogramsPerCubicMetre() * more;
        return Buoyancy.reading(new Mass(kilograms), liquid.density(), liquid.air());
    }

    /** Every thermometer shows throughout what was typed in its place, or what is usual. */
    private Sensed warmed(Sensed sensed) {
        Doubts.Temperatures warmth = setup.doubts().temperatures();
        long step = Math.max(1, warmth.sensors().pauseNanosMax() / 2);
        Thermometers told = sensed.thermometers();
        if (told.senses().isEmpty()) {
            return sensed;
        }
        told = reading(told, warmth, openNanos - 1).open(openNanos);
        for (long at = openNanos + step; at < closeNanos; at += step) {
            told = reading(told, warmth, at);
        }
        return sensed.with(reading(told, warmth, closeNanos).close(closeNanos));
    }

    private Thermometers reading(Thermometers told, Doubts.Temperatures warmth, long at) {
        Thermometers next = told;
        for (TemperaturePlace place : warmth.sensors().places()) {
            next = next.take(at, place, new TemperatureReading.Shown(warm(warmth, place)));
        }
        return next;
    }

    private Temperature warm(Doubts.Temperatures warmth, TemperaturePlace place) {
        Optional<Temperature> liquid =
                warmth.reference()
                        .or(() -> setup.liquid().basis().map(basis -> basis.temperature()));
        Optional<Temperature> there =
                switch (place) {
                    case TRUCK_METER -> warmth.truckMeter().or(() -> liquid);
                    case REFERENCE, TANK -> liquid;
                    case ROOM -> warmth.room();
                };
        return there.orElse(USUAL);
    }
}
