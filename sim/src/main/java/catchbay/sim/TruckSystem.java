package catchbay.sim;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.metrology.TruckConstant;
import catchbay.quantity.Distance;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;

import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * The truck's liquid system: a controller with its meter and constant, a valve that follows late, a
 * pump that has a limit. In automatic the controller regulates on its own meter to the rate asked
 * for, times the speed it sees; by hand the valve stands where it was set.
 */
final class TruckSystem {

    /** How often the controller acts (illustrative). */
    static final long TICK_NANOS = 100_000_000;

    /** A truck speed input without a pulse for so long reads zero (illustrative). */
    private static final long SPEED_ZERO_NANOS = 500_000_000;

    /**
     * Pulses per litre behind a per-cent constant whose base the setup does not know
     * (illustrative).
     */
    private static final double BASE_PULSES_PER_LITRE = 50;

    /** A closing valve shuts for good below this share of the pump's flow (illustrative). */
    private static final double SHUT_RATIO = 0.002;

    /**
     * The slow wander of the flow keeps this part of itself from tick to tick: it forgets within a
     * second.
     */
    private static final double WANDER_KEPT = 0.9;

    private static final double TICK_SECONDS = TICK_NANOS / 1e9;
    private static final int TICKS_KEPT = 128;

    private final SimOptions.Truck truth;
    private final RunSetup.FlowBy flowBy;
    private final boolean closedLoop;
    private final double litresPerMetre;
    private final double kilogramsOfSaltPerMetre;
    private double setMetresPerSecond;
    private final double metresPerSpeedPulse;
    private double constantPulsesPerLitre;
    private final double stepLitres;
    private double startLitres;
    private final MeterCurve curve;
    private final PulseTrain meter;
    private final RandomGenerator random;
    private final double followed;
    private final double speedFollowed;

    private final long[] dueNanos = new long[TICKS_KEPT];
    private final double[] dueSignal = new double[TICKS_KEPT];
    private int dueFrom;
    private int dueTo;

    private final long[] pulsesAtTick = new long[TICKS_KEPT];
    private long ticks;
    private long pulsesAtReset;
    private double extraLagSeconds;

    private boolean operatorOpened;
    private Optional<FlowRate> setByHand = Optional.empty();
    private boolean supplied;
    private double hertz;
    private long hertzZeroSinceNanos;
    private double metresPerSecond;
    private double metres;
    private long tickNanos;
    private double correction;
    private double phaseAtTick;
    private double phaseBefore;
    private double signal;
    private double wander;
    private double pumpRatio = 1;
    private double swingRatio;
    private boolean meterDead;
    private double meterRatio = 1;
    private boolean runaway;
    private boolean valveHeld;
    private double flowBefore;
    private double flowNow;

    TruckSystem(
            RunSetup setup,
            SimOptions options,
            Streams streams,
            Door door,
            long startNanos,
            double stepSeconds) {
        truth = options.truck();
        flowBy = setup.plan().flowBy();
        closedLoop = setup.truck().control() == Control.CLOSED_ON_METER;
        litresPerMetre = litresPerMetre(setup.asked().application());
        kilogramsOfSaltPerMetre = saltPerMetre(setup.asked().application());
        setMetresPerSecond = setup.asked().speed().metresPerSecond();
        metresPerSpeedPulse = metresPerSpeedPulse(setup.asked());
        constantPulsesPerLitre = pulsesPerLitre(setup.truck().constant());
        stepLitres = setup.reported().step().litres();
        startLitres = truth.totalAtStartLitres();
        curve = curve();
        random = streams.of(Streams.Subsystem.FLOW);
        meter =
                new PulseTrain(
                        door, null, streams.of(Streams.Subsystem.TRUCK_METER), truth.shiftRatio());
        followed = StrictMath.exp(-stepSeconds / truth.lagSeconds());
        speedFollowed = 1 - StrictMath.exp(-TICK_SECONDS / truth.speedLagSeconds());
        hertzZeroSinceNanos = startNanos;
        tickNanos = startNanos;
        phaseAtTick = meter.phase();
    }

    private static double pulsesPerLitre(TruckConstant constant) {
        return constant.pulses()
                .map(PulseConstant::pulsesPerLitre)
                .orElse(BASE_PULSES_PER_LITRE / (constant.value() / 100));
    }

    /**
     * Its controller works with another constant from here on; its total goes on from where it is.
     */
    void enter(TruckConstant constant) {
        startLitres += (meter.pulses() - pulsesAtReset) / constantPulsesPerLitre;
        pulsesAtReset = meter.pulses();
        constantPulsesPerLitre = pulsesPerLitre(constant);
    }

    private static double litresPerMetre(Application application) {
        Distance kilometre = new Distance(1000);
        return switch (application) {
            case Application.Direct(var rate, var lanes) ->
                    rate.over(kilometre, lanes).litres() / 1000;
            case Application.PreWet(var rate, var salt, _, _) ->
                    rate.on(salt.over(kilometre)).litres() / 1000;
        };
    }

    private static double saltPerMetre(Application application) {
        return switch (application) {
            case Application.Direct _ -> 0;
            case Application.PreWet(_, var salt, _, _) -> salt.kilogramsPerKilometre() / 1000;
        };
    }

    /** Over-reads as told from its nominal flow on, and loses pulses towards its cut-off. */
    private MeterCurve curve() {
        double nominal = truth.nominalLitresPerSecond();
        double constant = constantPulsesPerLitre * (1 + truth.overReadingRatio());
        double low = truth.cutOffLitresPerSecond();
        if (low >= nominal) {
            return new MeterCurve(new double[] {low}, new double[] {constant}, low);
        }
        return new MeterCurve(
                new double[] {low, nominal},
                new double[] {constant * (1 - truth.lowFlowLossRatio()), constant},
                low);
    }

    /** The road that one speed pulse of the bay stands for, m; 0 where it plays none. */
    static double metresPerSpeedPulse(RunSetup.Asked asked) {
        return asked.pulsesPerMile()
                .map(pulses -> Distance.ofMiles(1).metres() / pulses)
                .orElse(0.0);
    }

    /** What the rate and the speed that are set ask for, L/s. */
    static double flowAsked(RunSetup.Asked asked) {
        return litresPerMetre(asked.application()) * asked.speed().metresPerSecond();
    }

    /** Whoever shuts it takes it out of its manual mode, too. */
    void operatorOpens(boolean open) {
        operatorOpened = open;
        setByHand = Optional.empty();
    }

    void supply(boolean on) {
        supplied = on;
    }

    /** In its manual mode the valve stands where it is set; the flow comes out a little off. */
    void byHand(FlowRate flow) {
        setByHand = Optional.of(flow);
    }

    void speedPulses(long nowNanos, double newHertz) {
        hertz = newHertz;
        hertzZeroSinceNanos = nowNanos;
    }

    void pumpRatio(double ratio) {
        pumpRatio = ratio;
    }

    void swingRatio(double ratio) {
        swingRatio = ratio;
    }

    void meterDead(boolean dead) {
        meterDead = dead;
    }

    /** The meter makes so many times the pulses. */
    void meterRatio(double ratio) {
        meterRatio = ratio;
    }

    /** The controller opens its valve fully as long as anything is asked. */
    void runsAway(boolean now) {
        runaway = now;
    }

    /** The valve stays where it stands, whatever it is told. */
    void holdValve(boolean held) {
        valveHeld = held;
    }

    /** What the person at the truck sets it to, where no ground speed is played to it. */
    void set(Speed speed) {
        setMetresPerSecond = speed.metresPerSecond();
    }

    /** Likewise, by the flow that the set rate then asks for. */
    void regulates(FlowRate flow) {
        setMetresPerSecond = flow.litresPerSecond() / litresPerMetre;
    }

    void meterShiftRatio(double ratio) {
        meter.shiftRatio(ratio);
    }

    void resetTotal() {
        pulsesAtReset = meter.pulses();
        startLitres = 0;
    }

    void extraLagSeconds(double seconds) {
        extraLagSeconds = seconds;
    }

    /** The controller acts once. */
    void tick(long nowNanos) {
        pulsesAtTick[(int) (ticks % TICKS_KEPT)] = meter.pulses();
        ticks++;
        metres += metresPerSecond * (nowNanos - tickNanos) / 1e9;
        tickNanos = nowNanos;
        seeSpeed(nowNanos);
        double phase = meter.phase();
        double measured = (phase - phaseAtTick) / TICK_SECONDS / constantPulsesPerLitre;
        phaseAtTick = phase;
        double wanted = litresPerMetre * metresPerSecond;
        if (setByHand.isPresent() && (flowBy != RunSetup.FlowBy.SUPPLY || supplied)) {
            correction = 0;
            send(nowNanos, openLoop(setByHand.get().litresPerSecond()));
        } else if (wanted == 0) {
            correction = 0;
            send(nowNanos, 0);
        } else if (!closedLoop) {
            send(nowNanos, openLoop(wanted));
        } else {
            double raw = wanted / truth.pumpLitresPerSecond() + correction;
            double error = (wanted - measured) / truth.pumpLitresPerSecond();
            // A controller whose valve stands at its end must not go on adding up.
            if (raw > 0 && raw < 1 || raw <= 0 && error > 0 || raw >= 1 && error < 0) {
                correction += truth.gainPerSecond() * TICK_SECONDS * error;
            }
            send(nowNanos, wanted / truth.pumpLitresPerSecond() + correction);
        }
        double fresh = Math.sqrt(1 - WANDER_KEPT * WANDER_KEPT) * Streams.bell(random);
        wander = WANDER_KEPT * wander + fresh;
    }

    /** How far the valve is opened for a flow that nothing corrects. */
    private double openLoop(double litresPerSecond) {
        return litresPerSecond * (1 + truth.openLoopErrorRatio()) / truth.pumpLitresPerSecond();
    }

    private void seeSpeed(long nowNanos) {
        switch (flowBy) {
            case OPERATOR -> metresPerSecond = operatorOpened ? setMetresPerSecond : 0;
            case SUPPLY -> metresPerSecond = supplied ? setMetresPerSecond : 0;
            case GROUND_SPEED -> {
                if (hertz == 0 && nowNanos - hertzZeroSinceNanos >= SPEED_ZERO_NANOS) {
                    metresPerSecond = 0;
                } else if (hertz > 0) {
                    double played = hertz * metresPerSpeedPulse;
                    metresPerSecond += (played - metresPerSecond) * speedFollowed;
                }
            }
        }
    }

    private void send(long nowNanos, double newSignal) {
        dueNanos[dueTo % TICKS_KEPT] = nowNanos + (long) (truth.deadSeconds() * 1e9);
        dueSignal[dueTo % TICKS_KEPT] = runaway && newSignal > 0 ? 1 : Math.clamp(newSignal, 0, 1);
        dueTo++;
    }

    /** The flow follows the valve for one step, and the meter turns with it. */
    void step(long startNanos, double stepSeconds) {
        while (dueFrom < dueTo && dueNanos[dueFrom % TICKS_KEPT] <= startNanos) {
            signal = valveHeld ? signal : dueSignal[dueFrom % TICKS_KEPT];
            dueFrom++;
        }
        double target =
                signal * truth.pumpLitresPerSecond() * (1 + truth.flowNoiseRatio() * wander);
        if (swingRatio > 0) {
            target *= 1 + swingRatio * StrictMath.sin(startNanos / 1e9 * 2 * Math.PI * SWING_HERTZ);
        }
        target = Math.clamp(target, 0, truth.pumpLitresPerSecond() * pumpRatio);
        flowBefore = flowNow;
        flowNow = target + (flowNow - target) * followed;
        if (target == 0 && flowNow < SHUT_RATIO * truth.pumpLitresPerSecond()) {
            flowNow = 0;
        }
        phaseBefore = meter.phase();
        meter.turn(startNanos, stepSeconds, pulsesPerSecond(flowBefore), pulsesPerSecond(flowNow));
    }

    /**
     * How fast an unsteady flow swings: slower than the valve, faster than a catch (illustrative).
     */
    private static final double SWING_HERTZ = 0.15;

    private double pulsesPerSecond(double flow) {
        return meterDead ? 0 : curve.pulsesPerSecond(flow) * meterRatio;
    }

    /** Flow at the beginning of the step under way, L/s. */
    double flowBefore() {
        return flowBefore;
    }

    /** Flow at the end of the step under way, L/s. */
    double flowNow() {
        return flowNow;
    }

    /** What its meter and constant make of what has flowed, whole and broken pulses, L. */
    double countedLitres() {
        return meter.phase() / constantPulsesPerLitre;
    }

    /** What they made of what flows in the step under way, L. */
    double countedInStepLitres() {
        return (meter.phase() - phaseBefore) / constantPulsesPerLitre;
    }

    /** The salt that its controller thinks it has put down up to a moment since it last acted. */
    Mass salt(long nowNanos) {
        double since = metresPerSecond * (nowNanos - tickNanos) / 1e9;
        return new Mass((metres + since) * kilogramsOfSaltPerMetre);
    }

    /** The salt that its conveyor carries now. */
    double saltKilogramsPerSecond() {
        return metresPerSecond * kilogramsOfSaltPerMetre;
    }

    /** The total that it shows and sends: late, and cut to its step. */
    Volume shownTotal() {
        long lag = Math.round((truth.totalLagSeconds() + extraLagSeconds) / TICK_SECONDS);
        long at = ticks - 1 - lag;
        long pulses = at < 0 ? 0 : pulsesAtTick[(int) (at % TICKS_KEPT)];
        double litres = startLitres + Math.max(0, pulses - pulsesAtReset) / constantPulsesPerLitre;
        return new Volume(
                stepLitres == 0 ? litres : Math.floor(litres / stepLitres + 1e-9) * stepLitres);
    }
}
