package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Reported;
import catchbay.signal.ChannelPair;
import catchbay.signal.PulseGate;
import catchbay.signal.ScaleFrame;
import catchbay.signal.Tally;

import java.util.Locale;
import java.util.Optional;

/**
 * What ends a run whatever it is doing: looked at first in every step. Each answers an outcome, or
 * nothing while all is well.
 */
final class Interlocks {

    /**
     * Common practice, no source: no pulse for so many of the longest certified spacings means that
     * flow stopped.
     */
    private static final double SILENT_SPACINGS = 5;

    /** And never before so long, ns: slow controllers hunt. */
    private static final long SILENT_NANOS_MIN = 2_000_000_000L;

    private Interlocks() {}

    /** What an input means by itself. */
    static Optional<Outcome> on(Sensed sensed, RunInput input) {
        return switch (input) {
            case RunInput.StopPressed(long at, String by) -> Optional.of(new Outcome.Stopped(by));
            case RunInput.PortFailed(long at, String port, String sentence) ->
                    voided(Cause.PORT_FAILED, sentence);
            case RunInput.TraceFailed(long at, String sentence) ->
                    voided(Cause.TRACE_FAILED, sentence);
            case RunInput.Contact(long at, BayContact contact, boolean active) ->
                    active ? onContact(contact) : Optional.empty();
            case RunInput.Scale(long at, ScaleFrame frame) -> onScale(sensed, frame);
            case RunInput.Turn turn -> Optional.empty();
            case RunInput.Edges edges -> Optional.empty();
            case RunInput.ControllerTotal total -> Optional.empty();
            // One reading is not the catch: whether enough of them came is seen at its end.
            case RunInput.Thermometer thermometer -> Optional.empty();
            // A bay that chokes the truck is told of beside its amounts, which are right all the
            // same.
            case RunInput.CouplerPressure pressure -> Optional.empty();
            case RunInput.PulsesSent sent -> Optional.empty();
            case RunInput.ChecklistConfirmed confirmed -> Optional.empty();
            case RunInput.SpeedConfirmed confirmed -> Optional.empty();
            case RunInput.Done done -> Optional.empty();
            case RunInput.Unread unread -> Optional.empty();
            case RunInput.TotalTyped typed -> Optional.empty();
            case RunInput.SaltTyped typed -> Optional.empty();
            case RunInput.TraceDurable durable -> Optional.empty();
        };
    }

    private static Optional<Outcome> onContact(BayContact contact) {
        return switch (contact) {
            case EMERGENCY_STOP ->
                    voided(
                            Cause.EMERGENCY_STOP,
                            "The emergency stop is pressed or its wire is broken; clear the cause,"
                                    + " reset it and begin again.");
            case HIGH_LEVEL ->
                    voided(
                            Cause.HIGH_LEVEL,
                            "The catch tank's float is up; drain the tank and begin again.");
            case SPILL ->
                    voided(
                            Cause.SPILL,
                            "The spill sensor is wet; find the leak, clean up as the shop's rules"
                                    + " say and begin again.");
            case DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS -> Optional.empty();
        };
    }

    private static Optional<Outcome> onScale(Sensed sensed, ScaleFrame frame) {
        if (sensed.setup().scale().isEmpty() || !(frame instanceof ScaleFrame.Weight weight)) {
            return Optional.empty();
        }
        RunSetup.Scale scale = sensed.setup().scale().get();
        if (weight.unit() != scale.unit()) {
            return voided(
                    Cause.SCALE_CHANGED,
                    "The scale sent "
                            + weight.unit().symbol()
                            + " where "
                            + scale.unit().symbol()
                            + " is set; set the indicator or scale.unit right and begin again.");
        }
        if (sensed.scale().net().isPresent() && sensed.scale().net().get() != weight.net()) {
            return voided(
                    Cause.SCALE_CHANGED,
                    "The scale changed between gross and net during the run; leave its tare key"
                            + " alone and begin again.");
        }
        Mass mass = weight.mass();
        if (mass.kilograms() > scale.capacity().kilograms()) {
            return voided(
                    Cause.OVERFILL,
                    String.format(
                            Locale.ROOT,
                            "The scale shows %.1f kg, above its capacity of %.1f kg; drain the tank"
                                    + " and catch less.",
                            mass.kilograms(),
                            scale.capacity().kilograms()));
        }
        return Optional.empty();
    }

    /** What the passing of time means while liquid may flow. */
    static Optional<Outcome> atTurn(RunState state, long nowNanos) {
        return switch (state) {
            case RunState.Idle s -> Optional.empty();
            case RunState.Confirming s -> Optional.empty();
            case RunState.Starting s -> Optional.empty();
            case RunState.Purging s -> scaleSilent(s.sensed(), nowNanos);
            case RunState.Resting s -> scaleSilent(s.sensed(), s.sinceNanos(), nowNanos);
            case RunState.Settling s -> scaleSilent(s.sensed(), nowNanos);
            case RunState.Opening s -> catching(s.sensed(), nowNanos);
            case RunState.Catching s -> catching(s.sensed(), nowNanos);
            case RunState.Closing s -> catching(s.sensed(), nowNanos);
            case RunState.Trailing s ->
                    uncountable(s.sensed()).or(() -> scaleSilent(s.sensed(), nowNanos));
            case RunState.Stilling s ->
                    uncountable(s.sensed()).or(() -> scaleSilent(s.sensed(), nowNanos));
            case RunState.Dripping s -> scaleSilent(s.sensed(), nowNanos);
            case RunState.Weighing s -> scaleSilent(s.sensed(), nowNanos);
            case RunState.Reading s -> Optional.empty();
            case RunState.Comparing s -> Optional.empty();
            case RunState.Draining s -> Optional.empty();
            case RunState.Ended s -> Optional.empty();
        };
    }

    private static Optional<Outcome> catching(Sensed sensed, long nowNanos) {
        return uncountable(sensed)
                .or(() -> scaleSilent(sensed, nowNanos))
                .or(() -> flowStopped(sensed, nowNanos));
    }

    /** What makes a count impossible needs no waiting for the window's end. */
    private static Optional<Outcome> uncountable(Sensed sensed) {
        return spoiled(sensed.lines().reference(), "reference meter")
                .or(() -> spoiled(sensed.lines().second(), Channels.SECOND_CHANNEL))
                .or(() ->
                        sensed.setup().reported() instanceof Reported.MeterPulses
                                ? spoiled(sensed.lines().truck(), "truck meter")
                                : Optional.empty())
                .or(() -> edgesLost(sensed))
                .or(() -> channelsPart(sensed));
    }

    /** After the lost edges, which make channels part as well and say more of the cause. */
    private static Optional<Outcome> channelsPart(Sensed sensed) {
        return sensed.lines()
                .channels()
                .flatMap(ChannelPair::parting)
                .flatMap(parting ->
                        voided(
                                Cause.CHANNELS_PART,
                                Channels.partSentence(
                                        parting, sensed.lines().reference().openNanos())));
    }

    private static Optional<Outcome> spoiled(PulseGate gate, String whose) {
        return gate.spoiled() == null
                ? Optional.empty()
                : voided(Cause.WINDOW_UNUSABLE, unusableSentence(whose, gate.spoiled()));
    }

    static String unusableSentence(String whose, String reason) {
        return "The " + whose + " cannot be evaluated: " + reason + ".";
    }

    /** Numbers that skip inside the window. */
    private static Optional<Outcome> edgesLost(Sensed sensed) {
        long missing = missing(sensed.lines().reference()) + missing(sensed.lines().second());
        if (sensed.setup().reported() instanceof Reported.MeterPulses) {
            missing += missing(sensed.lines().truck());
        }
        return missing == 0
                ? Optional.empty()
                : voided(Cause.EDGES_LOST, edgesLostSentence(missing));
    }

    static String edgesLostSentence(long missing) {
        return "Pulses were lost on the way to the program ("
                + missing
                + " numbers missing inside the window); lower the load on the machine or the pulse"
                + " rate and repeat.";
    }

    private static long missing(PulseGate gate) {
        return gate.inside().missing() + gate.after().missing();
    }

    private static Optional<Outcome> scaleSilent(Sensed sensed, long nowNanos) {
        return scaleSilent(sensed, sensed.ledger().flowOnNanos(), nowNanos);
    }

    /** A scale that was never heard is silent since the run began to need it. */
    private static Optional<Outcome> scaleSilent(Sensed sensed, long neededNanos, long nowNanos) {
        if (sensed.setup().scale().isEmpty()) {
            return Optional.empty();
        }
        long limit = sensed.setup().scale().get().silentNanosMax();
        long last =
                sensed.scale().lastNanos() == Tally.NONE ? neededNanos : sensed.scale().lastNanos();
        if (last == Ledger.NONE || nowNanos - last <= limit) {
            return Optional.empty();
        }
        return voided(
                Cause.SCALE_SILENT,
                String.format(
                        Locale.ROOT,
                        "The scale sent no weight for %.1f s%s; check that the indicator is on, its"
                                + " cable and its unit (see src/docs/operating/scale.md).",
                        (nowNanos - last) / 1e9,
                        sensed.scale().hindrance().isEmpty()
                                ? ""
                                : " (of the last that came: " + sensed.scale().hindrance() + ")"));
    }

    private static Optional<Outcome> flowStopped(Sensed sensed, long nowNanos) {
        if (sensed.setup().reference().isEmpty()
                || sensed.plan().window() == RunSetup.Window.STANDING) {
            return Optional.empty();
        }
        double slowest = sensed.setup().reference().get().curve().lowestPulsesPerSecond();
        long limit = Math.max(SILENT_NANOS_MIN, (long) (SILENT_SPACINGS * 1e9 / slowest));
        PulseGate gate = sensed.lines().reference();
        long last = gate.held() == null ? gate.lastNanos() : gate.held().batch().lastNanos();
        if (nowNanos - last <= limit) {
            return Optional.empty();
        }
        return voided(
                Cause.FLOW_STOPPED,
                String.format(
                        Locale.ROOT,
                        "The reference meter gave no pulse for %.1f s during the catch; check the"
                                + " truck's pump and tank, the coupler and the meter's wire.",
                        (nowNanos - last) / 1e9));
    }

    private static Optional<Outcome> voided(Cause cause, String reason) {
        return Optional.of(new Outcome.Void(cause, reason));
    }
}
