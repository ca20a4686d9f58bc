package catchbay.sim;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.Question;
import catchbay.run.RunInput;

import java.util.random.RandomGenerator;

/**
 * The person at the stand-in bay: answers after a while, reads the truck's display, and now and
 * then mistypes.
 */
final class BayPerson {

    private final SimOptions.Person truth;
    private final TruckSystem truck;
    private final double stepLitres;
    private final RandomGenerator random;
    private double typoSteps;
    private boolean transposing;
    private boolean imperial;
    private boolean repeating;
    private boolean absent;
    private double lastTypedLitres;

    BayPerson(
            SimOptions.Person truth, TruckSystem truck, double stepLitres, RandomGenerator random) {
        this.truth = truth;
        this.truck = truck;
        this.stepLitres = stepLitres;
        this.random = random;
    }

    long answerNanos() {
        double seconds =
                truth.answerSecondsLeast()
                        + random.nextDouble()
                                * (truth.answerSecondsMost() - truth.answerSecondsLeast());
        return (long) (seconds * 1e9);
    }

    /** The next total typed is off by so many steps of the display. */
    void mistype(double steps) {
        typoSteps = steps;
    }

    /**
     * US gallons in an imperial one: 4.54609 L (Units of Measurement Regulations 1995, UK) over
     * 3.785411784 L (NIST Handbook 44, Appendix C).
     */
    private static final double US_GALLONS_IN_IMPERIAL = 4.546_09 / 3.785_411_784;

    /** Totals are typed in imperial gallons as if they were US ones. */
    void typesImperial(boolean now) {
        imperial = now;
    }

    /** The next total typed is the one before. */
    void typesPrevious(boolean now) {
        repeating = now;
    }

    /** Does not answer. */
    void leaves(boolean now) {
        absent = now;
    }

    boolean absent() {
        return absent;
    }

    /** Takes more care from now on. */
    void composed() {
        typoSteps = 0;
        transposing = false;
        imperial = false;
        repeating = false;
        absent = false;
    }

    /** The next total typed has its last two digits transposed. */
    void transpose() {
        transposing = true;
    }

    /**
     * Does what was asked and says so.
     *
     * @param saltInCatch what the controller says it put down since the flow was started
     */
    RunInput answer(long nowNanos, Question question, Mass saltInCatch) {
        return switch (question) {
            case CHECKLIST -> new RunInput.ChecklistConfirmed(nowNanos, truth.name());
            case SPEED_CHECKLIST -> new RunInput.SpeedConfirmed(nowNanos, truth.name());
            case START_FLOW -> {
                truck.operatorOpens(true);
                yield new RunInput.Done(nowNanos, question);
            }
            case STOP_FLOW -> {
                truck.operatorOpens(false);
                yield new RunInput.Done(nowNanos, question);
            }
            case TOTAL_BEFORE, TOTAL_AFTER, TOTAL_AGAIN ->
                    new RunInput.TotalTyped(nowNanos, typed());
            case KEEP_RUN, LOAD_SCALE, SEEN_MOVING, PRESENCE, SWEEP_STEP, HUNT_STEP ->
                    new RunInput.Done(nowNanos, question);
            case SALT_REPORTED -> new RunInput.SaltTyped(nowNanos, saltInCatch);
        };
    }

    private Volume typed() {
        double litres = repeating ? lastTypedLitres : truck.shownTotal().litres();
        repeating = false;
        lastTypedLitres = litres;
        litres /= imperial ? US_GALLONS_IN_IMPERIAL : 1;
        if (typoSteps != 0) {
            litres += typoSteps * stepLitres;
            typoSteps = 0;
        }
        if (transposing && stepLitres > 0) {
            long digits = Math.round(litres / stepLitres);
            long ones = digits % 10;
            long tens = digits / 10 % 10;
            litres = (digits - 10 * tens - ones + 10 * ones + tens) * stepLitres;
            transposing = false;
        }
        return new Volume(litres);
    }
}
