package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Pressure;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.run.RunSetup.Reported;
import catchbay.signal.ChannelPair;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseGate;
import catchbay.signal.ScaleFrame;
import catchbay.signal.Tally;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/**
 * How each {@link Interlock} is seen to act: a sentence where it does, nothing while all is well.
 */
final class Interlocks {

    /**
     * Common practice, no source: no pulse for so many of the longest certified spacings means that
     * flow stopped.
     */
    private static final double SILENT_SPACINGS = 5;

    /** And never before so long, ns: slow controllers hunt. */
    private static final long SILENT_NANOS_MIN = 2_000_000_000L;

    /** Of the asked flow: what is less is no flow that somebody started, but a leak. */
    private static final double LEAK_SHARE = 0.2;

    /** So few pulses between two looks may be a wheel that shakes. */
    private static final int STRAY_PULSES = 3;

    /** Of what must have come into the tank, or gone out: less has not. */
    private static final double FILL_SHARE = 0.2;

    private static final double EMPTIED_SHARE = 0.5;

    /** What flows between two readings is less than this of what is there. */
    private static final double LEAP_BAND = 0.03;

    private static final int LEAP_STEPS = 20;

    private Interlocks() {}

    // What an input means by itself
    // ---------------------------------------------------------------------------------------------

    static Optional<String> traceFailed(RunState state, RunInput input) {
        return input instanceof RunInput.TraceFailed(long at, String sentence)
                ? Optional.of(sentence)
                : Optional.empty();
    }

    static Optional<String> portFailed(RunState state, RunInput input) {
        return input instanceof RunInput.PortFailed(long at, String port, String sentence)
                ? Optional.of(sentence)
                : Optional.empty();
    }

    static Optional<String> emergencyStop(RunState state, RunInput input) {
        return active(
                input,
                BayContact.EMERGENCY_STOP,
                "The emergency stop is pressed or its wire is broken; clear the cause, reset it and"
                        + " begin again.");
    }

    static Optional<String> highLevel(RunState state, RunInput input) {
        return active(
                input,
                BayContact.HIGH_LEVEL,
                "The catch tank's float is up; drain the tank and begin again.");
    }

    static Optional<String> spill(RunState state, RunInput input) {
        return active(
                input,
                BayContact.SPILL,
                "The spill sensor is wet; find the leak, clean up as the shop's rules say and begin"
                        + " again.");
    }

    static Optional<String> supplyLost(RunState state, RunInput input) {
        return active(
                input,
                BayContact.SUPPLY_LOST,
                "The bay's own supply is lost or its wire is broken; look after its pump, its air"
                        + " and its current, and begin again.");
    }

    private static Optional<String> active(RunInput input, BayContact what, String sentence) {
        return input instanceof RunInput.Contact(long at, BayContact contact, boolean active)
                        && active
                        && contact == what
                ? Optional.of(sentence)
                : Optional.empty();
    }

    private static Optional<ScaleFrame.Weight> weight(Sensed sensed, RunInput input) {
        return sensed.setup().scale().isPresent()
                        && input instanceof RunInput.Scale(long at, ScaleFrame frame)
                        && frame instanceof ScaleFrame.Weight weight
                ? Optional.of(weight)
                : Optional.empty();
    }

    static Optional<String> scaleChanged(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        Optional<ScaleFrame.Weight> heard = weight(sensed, input);
        if (heard.isEmpty()) {
            return Optional.empty();
        }
        ScaleFrame.Weight weight = heard.get();
        RunSetup.Scale scale = sensed.setup().scale().orElseThrow();
        if (weight.unit() != scale.unit()) {
            return Optional.of(
                    "The scale sent "
                            + weight.unit().symbol()
                            + " where "
                            + scale.unit().symbol()
                            + " is set; set the indicator or scale.unit right and begin again.");
        }
        if (sensed.scale().net().isPresent() && sensed.scale().net().get() != weight.net()) {
            return Optional.of(
                    "The scale changed between gross and net during the run; leave its tare key"
                            + " alone and begin again.");
        }
        return sensed.scale()
                .lastButOne()
                .flatMap(before ->
                        otherUnit(scale, before, sensed.scale().last().get(), weight.mass())
                                .map(other -> unitChanged(scale, before, weight.mass(), other)));
    }

    private static String unitChanged(RunSetup.Scale scale, Mass before, Mass now, MassUnit other) {
        return String.format(
                Locale.ROOT,
                "The scale leapt from %.2f to %.2f %s, as %s is to %s, and stays there: its unit"
                        + " was changed; set the indicator or scale.unit right and begin again.",
                before.kilograms() / scale.unit().kilograms(),
                now.kilograms() / scale.unit().kilograms(),
                scale.unit().symbol(),
                scale.unit().symbol(),
                other.symbol());
    }

    /**
     * The unit to which an indicator was switched that does not tell its unit: what it shows leaps
     * by the ratio of the two and stays there. One reading alone may be a changed digit, and below
     * so many steps a drop may do as much.
     */
    private static Optional<MassUnit> otherUnit(
            RunSetup.Scale scale, Mass before, Mass then, Mass now) {
        return Math.abs(before.kilograms()) < LEAP_STEPS * scale.resolution().kilograms()
                ? Optional.empty()
                : Arrays.stream(MassUnit.values())
                        .filter(other -> other != scale.unit())
                        .filter(other ->
                                leaps(scale.unit(), other, before, then)
                                        && leaps(scale.unit(), other, before, now))
                        .findFirst();
    }

    private static boolean leaps(MassUnit from, MassUnit to, Mass before, Mass after) {
        double leap = after.kilograms() / before.kilograms();
        return Math.abs(leap * to.kilograms() / from.kilograms() - 1) <= LEAP_BAND;
    }

    /**
     * An indicator blanks a little above its capacity (OIML R 76-1, nine intervals, from memory):
     * what shows twice of it is read wrongly. Common practice, no source.
     */
    private static final double CAPACITY_RATIO_MAX = 2;

    static Optional<String> overfill(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        Optional<ScaleFrame.Weight> heard = weight(sensed, input);
        if (heard.isPresent()) {
            double shown = heard.get().mass().kilograms();
            double capacity = sensed.setup().scale().orElseThrow().capacity().kilograms();
            if (shown > capacity * CAPACITY_RATIO_MAX) {
                return Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The scale shows %.1f kg, far above its capacity of %.1f kg, which"
                                        + " is no load; check its unit, and of registers number,"
                                        + " word_order and factor.",
                                shown,
                                capacity));
            }
            if (shown > capacity) {
                return Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The scale shows %.1f kg, above its capacity of %.1f kg; drain the"
                                        + " tank and catch less.",
                                shown,
                                capacity));
            }
        }
        if (sensed.setup().part().flatMap(Part::room).isEmpty()) {
            return Optional.empty();
        }
        double caught = caughtLitres(sensed, heard, input);
        return caught > 0 ? fuller(sensed.setup().part().get(), caught) : Optional.empty();
    }

    /** What has come into the tank since the window opened, as far as an input tells it. */
    private static double caughtLitres(
            Sensed sensed, Optional<ScaleFrame.Weight> heard, RunInput input) {
        if (heard.isPresent() && sensed.ledger().tare().isPresent()) {
            double net = heard.get().mass().minus(sensed.ledger().tare().get()).kilograms();
            return net * 1000 / sensed.setup().liquid().density().kilogramsPerCubicMetre();
        }
        return input instanceof RunInput.Turn && sensed.setup().reference().isPresent()
                ? sensed.lines().reference().inside().pulses()
                        / Vigil.pulsesPerLitre(sensed.setup().reference().get())
                : 0;
    }

    private static Optional<String> fuller(Part part, double caught) {
        double left =
                Math.max(0, part.room().orElseThrow().litres() - part.inTankAtOpening().litres());
        return caught > left
                ? Optional.of(
                        "The catch tank has taken "
                                + Outcome.gallons(new Volume(caught))
                                + ", and had room for "
                                + Outcome.gallons(new Volume(left))
                                + "; drain it, and look why more came than was planned.")
                : Optional.empty();
    }

    static Optional<String> pressureHigh(RunState state, RunInput input) {
        Optional<Pressure> most = state.sensed().setup().guard().flatMap(Guard::pressureMost);
        return most.isPresent()
                        && input instanceof RunInput.CouplerPressure(long at, PressureReading read)
                        && read instanceof PressureReading.Shown(Pressure shown)
                        && shown.compareTo(most.get()) > 0
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The pressure at the coupler is %.1f psi, above its limit of"
                                        + " %.1f psi; open the path to the bypass, look for a shut"
                                        + " valve or a kinked hose, and begin again.",
                                shown.psi(),
                                most.get().psi()))
                : Optional.empty();
    }

    static Optional<String> temperatureOutside(RunState state, RunInput input) {
        Optional<Guard> guard = state.sensed().setup().guard();
        if (guard.isEmpty()
                || !(input instanceof RunInput.Thermometer thermometer)
                || !inLiquid(thermometer.place())
                || !(thermometer.reading() instanceof TemperatureReading.Shown(Temperature t))) {
            return Optional.empty();
        }
        boolean cold =
                guard.get().liquidLeast().filter(least -> t.compareTo(least) < 0).isPresent();
        boolean warm = guard.get().liquidMost().filter(most -> t.compareTo(most) > 0).isPresent();
        if (!cold && !warm) {
            return Optional.empty();
        }
        Temperature limit =
                (cold ? guard.get().liquidLeast() : guard.get().liquidMost()).orElseThrow();
        return Optional.of(
                "The liquid is at "
                        + t.words()
                        + " (thermometer "
                        + thermometer.place().key()
                        + "), "
                        + (cold ? "colder" : "warmer")
                        + " than the "
                        + limit.words()
                        + " allowed; let it "
                        + (cold ? "warm up" : "cool down")
                        + " and begin again.");
    }

    private static boolean inLiquid(TemperaturePlace place) {
        return switch (place) {
            case TRUCK_METER, REFERENCE, TANK -> true;
            case ROOM -> false;
        };
    }

    static Optional<String> diskLow(RunState state, RunInput input) {
        Optional<Guard> guard = state.sensed().setup().guard();
        return guard.isPresent()
                        && input instanceof RunInput.DiskFree(long at, long bytes)
                        && bytes < guard.get().diskFreeBytesLeast()
                ? Optional.of(
                        "The disk has "
                                + bytes / 1_000_000
                                + " MB free, less than the "
                                + guard.get().diskFreeBytesLeast() / 1_000_000
                                + " MB that must stay (guard.disk_free_mb); make room on it and"
                                + " begin again.")
                : Optional.empty();
    }

    // What the passing of time means
    // ---------------------------------------------------------------------------------------------

    static Optional<String> attendantAbsent(RunState state, RunInput input) {
        Optional<Part.Presence> presence = state.sensed().setup().part().flatMap(Part::presence);
        Vigil vigil = state.sensed().vigil();
        return presence.isPresent()
                        && input instanceof RunInput.Turn(long now)
                        && vigil.sinceNanos() != Ledger.NONE
                        && now - vigil.presentNanos() > presence.get().intervalNanos()
                ? Optional.of(
                        "Nobody has shown to be there for "
                                + Moves.seconds(presence.get().intervalNanos())
                                + " s; somebody must stay within reach of the truck's own stop:"
                                + " come back, confirm the checklist and go on.")
                : Optional.empty();
    }

    static Optional<String> timeLimit(RunState state, RunInput input) {
        Optional<Guard> guard = state.sensed().setup().guard();
        Vigil vigil = state.sensed().vigil();
        return guard.isPresent()
                        && input instanceof RunInput.Turn(long now)
                        && vigil.sinceNanos() != Ledger.NONE
                        && now - vigil.sinceNanos() > guard.get().runNanosMost()
                ? Optional.of(
                        "The catch takes longer than "
                                + Moves.seconds(guard.get().runNanosMost())
                                + " s, its limit (guard.run_seconds); look what it waits for.")
                : Optional.empty();
    }

    /**
     * Whether the window is open or its ends are near, and what makes a count impossible counts.
     */
    private static boolean counting(RunState state) {
        return switch (state) {
            case RunState.Opening _,
                    RunState.Catching _,
                    RunState.Closing _,
                    RunState.Trailing _,
                    RunState.Stilling _ ->
                    true;
            case RunState.Idle _,
                    RunState.Confirming _,
                    RunState.Emptying _,
                    RunState.Starting _,
                    RunState.Purging _,
                    RunState.Resting _,
                    RunState.Settling _,
                    RunState.Dripping _,
                    RunState.Weighing _,
                    RunState.Reading _,
                    RunState.Comparing _,
                    RunState.Draining _,
                    RunState.Ended _ ->
                    false;
        };
    }

    /** What makes a count impossible needs no waiting for the window's end. */
    static Optional<String> uncountable(RunState state, RunInput input) {
        if (!(input instanceof RunInput.Turn) || !counting(state)) {
            return Optional.empty();
        }
        Sensed sensed = state.sensed();
        return spoiled(sensed.lines().reference(), "reference meter")
                .or(() -> spoiled(sensed.lines().second(), Channels.SECOND_CHANNEL))
                .or(() ->
                        sensed.setup().reported() instanceof Reported.MeterPulses
                                ? spoiled(sensed.lines().truck(), "truck meter")
                                : Optional.empty());
    }

    private static Optional<String> spoiled(PulseGate gate, String whose) {
        return Optional.ofNullable(gate.spoiled()).map(reason -> unusableSentence(whose, reason));
    }

    static String unusableSentence(String whose, String reason) {
        return "The " + whose + " cannot be evaluated: " + reason + ".";
    }

    /** Numbers that skip inside the window. */
    static Optional<String> edgesLost(RunState state, RunInput input) {
        if (!(input instanceof RunInput.Turn) || !counting(state)) {
            return Optional.empty();
        }
        Sensed sensed = state.sensed();
        long missing = missing(sensed.lines().reference()) + missing(sensed.lines().second());
        if (sensed.setup().reported() instanceof Reported.MeterPulses) {
            missing += missing(sensed.lines().truck());
        }
        return missing == 0 ? Optional.empty() : Optional.of(edgesLostSentence(missing));
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

    /** After the lost edges, which make channels part as well and say more of the cause. */
    static Optional<String> channelsPart(RunState state, RunInput input) {
        if (!(input instanceof RunInput.Turn) || !counting(state)) {
            return Optional.empty();
        }
        Lines lines = state.sensed().lines();
        return lines.channels()
                .flatMap(ChannelPair::parting)
                .map(parting -> Channels.partSentence(parting, lines.reference().openNanos()));
    }

    /** A scale that was never heard is silent since the run began to need it. */
    static Optional<String> scaleSilent(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        if (sensed.setup().scale().isEmpty() || !(input instanceof RunInput.Turn(long now))) {
            return Optional.empty();
        }
        long needed =
                switch (state) {
                    case RunState.Resting s -> s.sinceNanos();
                    case RunState.Purging _,
                            RunState.Settling _,
                            RunState.Opening _,
                            RunState.Catching _,
                            RunState.Closing _,
                            RunState.Trailing _,
                            RunState.Stilling _,
                            RunState.Dripping _,
                            RunState.Weighing _ ->
                            sensed.ledger().flowOnNanos();
                    // A tank is not emptied unseen: its scale is needed from the beginning.
                    case RunState.Emptying _ -> sensed.vigil().sinceNanos();
                    case RunState.Idle _,
                            RunState.Confirming _,
                            RunState.Starting _,
                            RunState.Reading _,
                            RunState.Comparing _,
                            RunState.Draining _,
                            RunState.Ended _ ->
                            Long.MAX_VALUE;
                };
        if (needed == Long.MAX_VALUE) {
            return Optional.empty();
        }
        long limit = sensed.setup().scale().get().silentNanosMax();
        long last = sensed.scale().lastNanos() == Tally.NONE ? needed : sensed.scale().lastNanos();
        if (last == Ledger.NONE || now - last <= limit) {
            return Optional.empty();
        }
        return Optional.of(
                String.format(
                        Locale.ROOT,
                        "The scale sent no weight for %.1f s%s; check that the indicator is on, its"
                            + " cable, its unit, and that it sends as [port.scale] says: protocol,"
                            + " baud, station (see src/docs/operating/scale.md).",
                        (now - last) / 1e9,
                        sensed.scale().hindrance().isEmpty()
                                ? ""
                                : " (of the last that came: " + sensed.scale().hindrance() + ")"));
    }

    static Optional<String> flowStopped(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        boolean watched =
                state instanceof RunState.Opening
                        || state instanceof RunState.Catching
                        || state instanceof RunState.Closing;
        if (!watched
                || !(input instanceof RunInput.Turn(long now))
                || sensed.setup().reference().isEmpty()
                || sensed.plan().window() == RunSetup.Window.STANDING) {
            return Optional.empty();
        }
        double slowest = sensed.setup().reference().get().curve().lowestPulsesPerSecond();
        long limit = Math.max(SILENT_NANOS_MIN, (long) (SILENT_SPACINGS * 1e9 / slowest));
        long last = lastEdge(sensed.lines().reference());
        return now - last <= limit
                ? Optional.empty()
                : Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The reference meter gave no pulse for %.1f s during the catch;"
                                        + " check the truck's pump and tank, the coupler and the"
                                        + " meter's wire.",
                                (now - last) / 1e9));
    }

    private static long lastEdge(PulseGate gate) {
        return gate.held() == null ? gate.lastNanos() : gate.held().batch().lastNanos();
    }

    static Optional<String> diverterNotArrived(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        if (sensed.setup().diverter().isEmpty() || !(input instanceof RunInput.Turn(long now))) {
            return Optional.empty();
        }
        long limit = sensed.setup().diverter().get().travelNanosMax();
        boolean tankLate =
                state instanceof RunState.Opening o && now - o.commandedNanos() > limit
                        || state instanceof RunState.Resting r
                                && !sensed.ledger().flowing()
                                && !DiverterWatch.stands(sensed, Way.TANK)
                                && now - r.sinceNanos() > limit;
        boolean bypassLate =
                state instanceof RunState.Closing c && now - c.commandedNanos() > limit;
        return tankLate || bypassLate
                ? Optional.of(
                        "The diverter did not reach the "
                                + (tankLate ? "tank" : "bypass")
                                + " side within "
                                + Moves.seconds(limit)
                                + " s; check its air or current, its flap and its switches.")
                : Optional.empty();
    }

    static Optional<String> tankNotEmptied(RunState state, RunInput input) {
        if (!(state instanceof RunState.Emptying s)
                || !(input instanceof RunInput.Turn(long now))
                || now < s.untilNanos()
                || s.sensed().setup().scale().isEmpty()) {
            return Optional.empty();
        }
        Sensed sensed = s.sensed();
        double held =
                sensed.setup().part().orElseThrow().inTank().litres()
                        * sensed.setup().liquid().density().kilogramsPerCubicMetre()
                        / 1000;
        double scatter =
                Guard.LEAK_REST_BANDS * sensed.setup().scale().orElseThrow().restBand().kilograms();
        Optional<Mass> before = sensed.vigil().begun();
        Optional<Mass> after = sensed.scale().last();
        if (before.isEmpty() || after.isEmpty()) {
            return Optional.of(
                    "The scale sent no weight while the tank was emptied; check that the indicator"
                            + " is on, its cable and its unit.");
        }
        double ran = before.get().minus(after.get()).kilograms();
        // What is hardly in it cannot be seen to go.
        return ran >= EMPTIED_SHARE * held - scatter
                ? Optional.empty()
                : Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The tank held about %.1f kg and grew lighter by %.1f kg while its"
                                        + " drain was open; check the drain valve, its outlet and"
                                        + " for how long it is opened (drain_seconds).",
                                held,
                                ran));
    }

    static Optional<String> noFlow(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        Ledger ledger = sensed.ledger();
        Optional<Guard> guard = sensed.setup().guard();
        if (guard.isEmpty() || !(input instanceof RunInput.Turn(long now)) || !ledger.flowing()) {
            return Optional.empty();
        }
        boolean metered = sensed.setup().reference().isPresent();
        boolean tapped = sensed.setup().reported() instanceof Reported.MeterPulses;
        boolean missing =
                metered || tapped
                        ? now - ledger.flowOnNanos() > guard.get().noFlowNanos()
                                && lastEdge(
                                                metered
                                                        ? sensed.lines().reference()
                                                        : sensed.lines().truck())
                                        < ledger.flowOnNanos()
                        : notRising(state, now);
        return missing
                ? Optional.of(
                        "Flow was started and none came within "
                                + Moves.seconds(guard.get().noFlowNanos())
                                + " s; check the truck's pump, tank and valves, the coupler, and"
                                + " the wire of the meter.")
                : Optional.empty();
    }

    static Optional<String> scaleFrozen(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        return sensed.setup().guard().isPresent()
                        && sensed.setup().reference().isPresent()
                        && input instanceof RunInput.Turn(long now)
                        && notRising(state, now)
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The reference meter counted %.1f kg into the tank, and the scale"
                                        + " rose by %.1f kg; check that the tank hangs free, that"
                                        + " the flap and the drain are right, and the indicator.",
                                sensed.vigil().expectedKilograms(sensed, now),
                                rise(sensed)))
                : Optional.empty();
    }

    private static boolean notRising(RunState state, long now) {
        Sensed sensed = state.sensed();
        return state instanceof RunState.Catching
                && sensed.setup().scale().isPresent()
                && sensed.vigil().judgeable(sensed, now)
                && rise(sensed) < FILL_SHARE * sensed.vigil().expectedKilograms(sensed, now);
    }

    private static double rise(Sensed sensed) {
        Vigil vigil = sensed.vigil();
        return sensed.scale()
                .last()
                .orElseThrow()
                .minus(vigil.fill().orElseThrow().mass())
                .kilograms();
    }

    // What flows between two looks
    // ---------------------------------------------------------------------------------------------

    static Optional<String> flowUncommanded(RunState state, RunInput input) {
        double share = strayShare(state, input);
        return share >= LEAK_SHARE
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "Liquid flows at %.0f %% of the asked flow, and nobody has started"
                                        + " it or it was stopped; stop it at the truck, and check"
                                        + " its controller and valve.",
                                share * 100))
                : Optional.empty();
    }

    static Optional<String> leak(RunState state, RunInput input) {
        double share = strayShare(state, input);
        if (share > 0) {
            return Optional.of(
                    String.format(
                            Locale.ROOT,
                            "The reference meter counts %.1f %% of the asked flow with everything"
                                    + " shut; look for a valve that does not close, or a leak.",
                            share * 100));
        }
        Sensed sensed = state.sensed();
        boolean shut =
                state instanceof RunState.Purging
                        || state instanceof RunState.Settling
                        || state instanceof RunState.Resting;
        Optional<Guard> guard = sensed.setup().guard();
        Optional<Mass> left = sensed.setup().part().flatMap(Part::left);
        if (guard.isEmpty()
                || !shut
                || left.isEmpty()
                || !(input instanceof RunInput.Turn)
                || !sensed.scaleAtRest()) {
            return Optional.empty();
        }
        double lost = left.get().minus(sensed.reading().orElseThrow()).kilograms();
        return lost > guard.get().leak().kilograms()
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The tank is %.2f kg lighter than at the end of the catch before;"
                                        + " check that its drain shuts, and that nothing leans on"
                                        + " it.",
                                lost))
                : Optional.empty();
    }

    /**
     * What flows with everything shut, as a share of the asked flow; 0 where nothing does, or where
     * it is not looked for.
     */
    private static double strayShare(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        Optional<Guard> guard = sensed.setup().guard();
        Ledger ledger = sensed.ledger();
        Vigil vigil = sensed.vigil();
        boolean byHand =
                sensed.plan().flowBy() == RunSetup.FlowBy.OPERATOR
                        && ledger.flowOnNanos() == Ledger.NONE;
        if (guard.isEmpty()
                || byHand
                || ledger.flowing()
                || sensed.setup().reference().isEmpty()
                || !(input instanceof RunInput.Turn(long now))
                || vigil.lookNanos() == Ledger.NONE
                || now - vigil.lookNanos() < Vigil.LOOK_NANOS) {
            return 0;
        }
        // As a run begins, what was stopped at the end of the one before may still run out.
        long stopped =
                ledger.flowOffNanos() == Ledger.NONE ? vigil.sinceNanos() : ledger.flowOffNanos();
        long shut = stopped + guard.get().runOutNanos();
        long pulses = Vigil.pulses(sensed.lines().reference()) - vigil.lookPulses();
        return vigil.lookNanos() < shut || pulses < STRAY_PULSES
                ? 0
                : flowShare(sensed, pulses, now - vigil.lookNanos());
    }

    /** What so many pulses of the reference in so long are of the asked flow. */
    private static double flowShare(Sensed sensed, long pulses, long nanos) {
        double litresPerSecond =
                pulses
                        / Vigil.pulsesPerLitre(sensed.setup().reference().orElseThrow())
                        * 1e9
                        / nanos;
        return litresPerSecond / Vigil.askedLitresPerSecond(sensed);
    }

    static Optional<String> runaway(RunState state, RunInput input) {
        Sensed sensed = state.sensed();
        Optional<Guard> guard = sensed.setup().guard();
        Vigil vigil = sensed.vigil();
        if (guard.isEmpty()
                || sensed.setup().reference().isEmpty()
                || vigil.lookNanos() == Ledger.NONE
                || !(input instanceof RunInput.Turn(long now))) {
            return Optional.empty();
        }
        long pulses = Vigil.pulses(sensed.lines().reference());
        if (now - vigil.lookNanos() >= Vigil.LOOK_NANOS) {
            double share = flowShare(sensed, pulses - vigil.lookPulses(), now - vigil.lookNanos());
            if (share > guard.get().runaway().value()
                    && pulses - vigil.lookPulses() >= STRAY_PULSES) {
                return Optional.of(
                        String.format(
                                Locale.ROOT,
                                "The truck puts out %.1f times what is asked; stop it, and check"
                                        + " its meter, its wire and its controller: a controller"
                                        + " that sees no pulses opens its valve fully.",
                                share));
            }
        }
        return blind(sensed, guard.get(), pulses);
    }

    /** Flow that the truck's meter does not see. */
    private static Optional<String> blind(Sensed sensed, Guard guard, long pulses) {
        boolean tapped = sensed.setup().reported() instanceof Reported.MeterPulses;
        Optional<PulseConstant> constant = sensed.setup().truck().constant().pulses();
        Vigil vigil = sensed.vigil();
        if (!tapped
                || constant.isEmpty()
                || !sensed.ledger().flowing()
                || vigil.markedFlowNanos() != sensed.ledger().flowOnNanos()) {
            return Optional.empty();
        }
        double litres =
                (pulses - vigil.truckMark())
                        / Vigil.pulsesPerLitre(sensed.setup().reference().orElseThrow());
        double missed = litres * constant.get().pulsesPerLitre();
        return missed > guard.truckPulsesMissed()
                ? Optional.of(
                        String.format(
                                Locale.ROOT,
                                "Liquid flows, and the truck's meter gave no pulse for %.3f US gal"
                                        + " in which %.0f were due; check its rotor and its wire"
                                        + " before the controller is asked for anything again.",
                                new Volume(litres).usGallons(),
                                missed))
                : Optional.empty();
    }
}
