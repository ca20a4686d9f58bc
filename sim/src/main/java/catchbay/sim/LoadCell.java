package catchbay.sim;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTask;
import catchbay.signal.ScaleFrame;

import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * The scale under the tank: it settles, wanders, is shaken by the inflow, rounds to its step, and
 * says whether its load moves. It shows what its adjusting weights would weigh in air.
 */
final class LoadCell {

    /** The load moves when the indication changed by more than so many steps ... (illustrative). */
    private static final double MOTION_STEPS = 2;

    /** ... against so many frames before (illustrative). */
    private static final int MOTION_FRAMES = 5;

    /**
     * Amounts are sent with no more decimals than a millionth: a step in the unit has far fewer.
     */
    private static final double DECIMALS = 1e6;

    private final SimOptions.Scale truth;
    private final MassUnit unit;
    private final double stepInUnit;
    private final double stepKilograms;
    private final double capacityKilograms;
    private final RandomGenerator random;
    private final double settledPart;
    private final double[] earlier = new double[MOTION_FRAMES];
    private int frames;
    private double indicated;

    private double weightKilograms;
    private boolean hoseOn = true;

    private double driftKilogramsPerMinute;
    private long driftSinceNanos;
    private double garbledShare;
    private boolean silent;
    private boolean wrongUnit;
    private boolean frozen;
    private boolean moving;
    private boolean motionUntold;
    private boolean overloaded;
    private double leantKilograms;
    private double lastAmount;

    LoadCell(
            RunSetup.Scale setup,
            SimOptions.Scale truth,
            RandomGenerator random,
            double stepSeconds) {
        this.truth = truth;
        this.unit = setup.unit();
        this.stepKilograms = setup.resolution().kilograms();
        this.stepInUnit = setup.resolution().in(unit);
        this.capacityKilograms = setup.capacity().kilograms();
        this.random = random;
        this.settledPart = 1 - StrictMath.exp(-stepSeconds / truth.lagSeconds());
        this.indicated = truth.emptyKilograms();
    }

    /**
     * @param inAirKilograms what weights that balance the tank's content weigh, without the tank
     */
    void step(double inAirKilograms) {
        double load =
                truth.emptyKilograms()
                        + (inAirKilograms + weightKilograms) * (1 + truth.spanErrorRatio())
                        + (hoseOn ? truth.hoseKilograms() : 0)
                        + leantKilograms;
        indicated += (load - indicated) * settledPart;
    }

    /** A person has done what was asked. */
    void take(ScaleTask task) {
        switch (task) {
            case ScaleTask.Empty() -> weightKilograms = 0;
            case ScaleTask.Weight(String _, Mass mass) -> weightKilograms = mass.kilograms();
            case ScaleTask.Add(String _, Mass mass) -> weightKilograms += mass.kilograms();
            case ScaleTask.TakeOff(String _, Mass mass) -> weightKilograms -= mass.kilograms();
            case ScaleTask.Hose(boolean on) -> hoseOn = on;
        }
    }

    /** The next frame; empty where it cannot be read or is not sent. */
    Optional<RunInput> frame(long nowNanos, double inflowLitresPerSecond) {
        double noise = truth.noiseKilograms() + truth.jetKilograms() * inflowLitresPerSecond;
        double drift = driftKilogramsPerMinute * (nowNanos - driftSinceNanos) / 60e9;
        double shown = indicated + noise * Streams.bell(random) + drift;
        boolean heard = random.nextDouble() >= garbledShare;
        double before = earlier[frames % MOTION_FRAMES];
        earlier[frames % MOTION_FRAMES] = shown;
        frames++;
        boolean inMotion = moving || Math.abs(shown - before) > MOTION_STEPS * stepKilograms;
        if (silent || !heard) {
            return Optional.empty();
        }
        if (overloaded || !frozen && shown > capacityKilograms) {
            return Optional.of(
                    new RunInput.Scale(nowNanos, new ScaleFrame.NoWeight("over capacity")));
        }
        double amount = frozen ? lastAmount : inUnit(shown);
        lastAmount = amount;
        MassUnit named = wrongUnit ? other(unit) : unit;
        return Optional.of(
                new RunInput.Scale(
                        nowNanos,
                        new ScaleFrame.Weight(
                                amount, named, false, inMotion && !frozen && !motionUntold)));
    }

    /** Never says that its load moves. */
    void motionUntold(boolean now) {
        motionUntold = now;
    }

    /** Says that its load is above its capacity. */
    void overloaded(boolean now) {
        overloaded = now;
    }

    /** Somebody or something leans on the tank. */
    void leant(double kilograms) {
        leantKilograms = kilograms;
    }

    void drift(long nowNanos, double kilogramsPerMinute) {
        driftKilogramsPerMinute = kilogramsPerMinute;
        driftSinceNanos = nowNanos;
    }

    void stopDrift() {
        driftKilogramsPerMinute = 0;
    }

    void garbled(double share) {
        garbledShare = share;
    }

    void silent(boolean now) {
        silent = now;
    }

    void wrongUnit(boolean now) {
        wrongUnit = now;
    }

    void frozen(boolean now) {
        frozen = now;
    }

    void moving(boolean now) {
        moving = now;
    }

    private double inUnit(double kilograms) {
        return Math.rint(Math.rint(kilograms / stepKilograms) * stepInUnit * DECIMALS) / DECIMALS;
    }

    private static MassUnit other(MassUnit unit) {
        return unit == MassUnit.POUND ? MassUnit.KILOGRAM : MassUnit.POUND;
    }
}
