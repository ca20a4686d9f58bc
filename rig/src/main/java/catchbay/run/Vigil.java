package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.signal.PulseGate;
import catchbay.signal.ScaleFrame;

import java.util.Optional;

/**
 * What the interlocks remember from one look to the next, where a catch has a guard or is part of a
 * sweep. Constant-size; stamps are nanoseconds, {@link Ledger#NONE} before they are known. Pulses
 * are all that a line has given since the catch began.
 *
 * @param sinceNanos when the catch began
 * @param presentNanos when an attendant last showed to be there
 * @param remindedNanos when the attendant was last reminded to
 * @param lookNanos when the last look was
 * @param lookPulses of the reference at that look
 * @param truckMark pulses of the reference when the truck's meter gave its last pulse, or the flow
 *     was started
 * @param markedFlowNanos the start of the flow that the mark knows
 * @param begun what the scale showed first, moving or not
 * @param fill from where the rise of the tank is held against the reference
 */
record Vigil(
        long sinceNanos,
        long presentNanos,
        long remindedNanos,
        long lookNanos,
        long lookPulses,
        long truckMark,
        long markedFlowNanos,
        Optional<Mass> begun,
        Optional<Fill> fill) {

    /**
     * How far apart two looks are, ns: long enough for the slowest certified flow to show, short
     * enough to be one of the things that happen at once.
     */
    static final long LOOK_NANOS = 2_000_000_000L;

    /** How long the tank's rise is watched at least before it is judged, ns. */
    static final long FILL_NANOS_MIN = 5_000_000_000L;

    /** What has left the flap is still in the air so long, ns. Common practice, no source. */
    static final long CHUTE_NANOS = 3_000_000_000L;

    /** So many steps of a scale make a rise that must show. */
    static final double FILL_STEPS = 10;

    static final Vigil ASLEEP =
            new Vigil(
                    Ledger.NONE,
                    Ledger.NONE,
                    Ledger.NONE,
                    Ledger.NONE,
                    0,
                    0,
                    Ledger.NONE,
                    Optional.empty(),
                    Optional.empty());

    /**
     * A look at the filling tank.
     *
     * @param pulses of the reference then
     * @param mass on the scale then
     */
    record Fill(long atNanos, long pulses, Mass mass) {}

    /** Whether there is anything to watch over in this run. */
    static boolean wakes(RunSetup setup) {
        return setup.guard().isPresent() || setup.part().isPresent();
    }

    /** What a line has given so far, and holds back. */
    static long pulses(PulseGate gate) {
        return gate.pulsesSorted() + (gate.held() == null ? 0 : gate.held().edges());
    }

    /** What an input adds that is no turn. */
    Vigil take(Sensed sensed, RunInput input) {
        return switch (input) {
            case RunInput.Edges edges -> told(sensed, edges);
            case RunInput.Scale(long at, ScaleFrame frame) ->
                    begun.isEmpty() && frame instanceof ScaleFrame.Weight weight
                            ? weighed(weight.mass())
                            : this;
            case RunInput.Contact(long at, BayContact contact, boolean active) ->
                    contact == BayContact.ATTENDANT && active ? present(at) : this;
            // Whoever answers is there.
            case RunInput.ChecklistConfirmed(long at, String by) -> present(at);
            case RunInput.SpeedConfirmed(long at, String by) -> present(at);
            case RunInput.Done(long at, Question question) -> present(at);
            case RunInput.TotalTyped typed -> present(typed.atNanos());
            case RunInput.SaltTyped typed -> present(typed.atNanos());
            case RunInput.Turn turn -> this;
            case RunInput.ControllerTotal total -> this;
            case RunInput.Thermometer thermometer -> this;
            case RunInput.CouplerPressure pressure -> this;
            case RunInput.PulsesSent sent -> this;
            case RunInput.DiskFree free -> this;
            case RunInput.Unread unread -> this;
            case RunInput.StopPressed pressed -> this;
            case RunInput.PortFailed failed -> this;
            case RunInput.TraceDurable durable -> this;
            case RunInput.TraceFailed failed -> this;
        };
    }

    /** Edges that are told late are held against the time in which they came. */
    private Vigil told(Sensed sensed, RunInput.Edges edges) {
        return switch (edges.line()) {
            case TRUCK -> marked(pulses(sensed.lines().reference()), markedFlowNanos);
            case REFERENCE ->
                    edges.batch().firstNanos() < lookNanos
                            ? looked(edges.batch().firstNanos(), lookPulses)
                            : this;
            case REFERENCE_SECOND, SPEED, FEEDER -> this;
        };
    }

    /**
     * What a turn adds, after the interlocks have looked. Most turns add nothing, so that a trace
     * need not hold them.
     */
    Vigil turn(RunState state, long now) {
        Sensed sensed = state.sensed();
        Vigil next = sinceNanos == Ledger.NONE ? begun(sensed, now) : this;
        Ledger ledger = sensed.ledger();
        if (ledger.flowing() && ledger.flowOnNanos() != next.markedFlowNanos) {
            next = next.marked(pulses(sensed.lines().reference()), ledger.flowOnNanos());
        }
        if (now - next.lookNanos >= LOOK_NANOS) {
            next = next.looked(now, pulses(sensed.lines().reference()));
        }
        Optional<Fill> filling = next.filling(state, now);
        return filling.equals(next.fill) ? next : next.with(filling);
    }

    private Vigil begun(Sensed sensed, long now) {
        long left =
                sensed.setup()
                        .part()
                        .flatMap(Part::presence)
                        .map(presence -> presence.intervalNanos() - presence.leftNanos())
                        .orElse(0L);
        return new Vigil(now, now - left, Ledger.NONE, now, 0, 0, markedFlowNanos, begun, fill);
    }

    /** Whether an attendant is to be reminded now, and was not. */
    boolean reminds(Part.Presence presence, long now) {
        return sinceNanos != Ledger.NONE
                && remindedNanos == Ledger.NONE
                && presence.reminds(presentNanos + presence.intervalNanos() - now);
    }

    /** From where the tank's rise is to be judged: anew once it was, while the window is open. */
    private Optional<Fill> filling(RunState state, long now) {
        Sensed sensed = state.sensed();
        Optional<Mass> mass = sensed.scale().last();
        if (!(state instanceof RunState.Catching s) || mass.isEmpty()) {
            return Optional.empty();
        }
        long flows = Math.max(s.openNanos(), sensed.ledger().flowOnNanos()) + CHUTE_NANOS;
        if (!sensed.ledger().flowing() || now < flows) {
            return Optional.empty();
        }
        return fill.isEmpty() || judgeable(sensed, now)
                ? Optional.of(new Fill(now, pulses(sensed.lines().reference()), mass.orElseThrow()))
                : fill;
    }

    /** Whether so much must have come into the tank since the last look at it that it shows. */
    boolean judgeable(Sensed sensed, long now) {
        return fill.isPresent()
                && now - fill.get().atNanos() >= FILL_NANOS_MIN
                && expectedKilograms(sensed, now)
                        >= FILL_STEPS
                                * sensed.setup().scale().orElseThrow().resolution().kilograms();
    }

    /** What has come since, by the reference; without one by what is asked. */
    double expectedKilograms(Sensed sensed, long now) {
        Fill from = fill.orElseThrow();
        double litres =
                sensed.setup()
                        .reference()
                        .map(meter ->
                                (pulses(sensed.lines().reference()) - from.pulses())
                                        / pulsesPerLitre(meter))
                        .orElseGet(
                                () -> askedLitresPerSecond(sensed) * (now - from.atNanos()) / 1e9);
        return litres * sensed.setup().liquid().density().kilogramsPerCubicMetre() / 1000;
    }

    /** For an interlock any certified constant will do: they differ by a few percent. */
    static double pulsesPerLitre(RunSetup.Reference meter) {
        return meter.curve().points().getFirst().constant().pulsesPerLitre();
    }

    static double askedLitresPerSecond(Sensed sensed) {
        return SetupCheck.askedFlow(sensed.setup().asked()).litresPerSecond();
    }

    private Vigil marked(long pulses, long flowNanos) {
        return new Vigil(
                sinceNanos,
                presentNanos,
                remindedNanos,
                lookNanos,
                lookPulses,
                pulses,
                flowNanos,
                begun,
                fill);
    }

    private Vigil weighed(Mass shown) {
        return new Vigil(
                sinceNanos,
                presentNanos,
                remindedNanos,
                lookNanos,
                lookPulses,
                truckMark,
                markedFlowNanos,
                Optional.of(shown),
                fill);
    }

    private Vigil present(long at) {
        return new Vigil(
                sinceNanos,
                at,
                Ledger.NONE,
                lookNanos,
                lookPulses,
                truckMark,
                markedFlowNanos,
                begun,
                fill);
    }

    Vigil reminded(long at) {
        return new Vigil(
                sinceNanos,
                presentNanos,
                at,
                lookNanos,
                lookPulses,
                truckMark,
                markedFlowNanos,
                begun,
                fill);
    }

    private Vigil looked(long at, long pulses) {
        return new Vigil(
                sinceNanos,
                presentNanos,
                remindedNanos,
                at,
                pulses,
                truckMark,
                markedFlowNanos,
                begun,
                fill);
    }

    private Vigil with(Optional<Fill> other) {
        return new Vigil(
                sinceNanos,
                presentNanos,
                remindedNanos,
                lookNanos,
                lookPulses,
                truckMark,
                markedFlowNanos,
                begun,
                other);
    }
}
