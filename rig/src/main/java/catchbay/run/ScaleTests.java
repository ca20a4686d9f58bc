package catchbay.run;

import catchbay.quantity.Mass;

import java.time.LocalDate;
import java.util.Optional;

/**
 * What was tried of the scale where it stands, as far as a catch must know it.
 *
 * @param withinDays how old the latest check with weights may be; empty where none is asked for
 * @param weights the latest check with weights
 * @param shunt the latest shunt test, whose result is the hose's part of the doubts
 */
public record ScaleTests(
        Optional<Integer> withinDays, Optional<Weights> weights, Optional<Shunt> shunt) {

    /** The longest that a check may hold: ten years. */
    public static final int DAYS_MAX = 3650;

    /** Nothing asked for, nothing tried. */
    public static final ScaleTests NONE =
            new ScaleTests(Optional.empty(), Optional.empty(), Optional.empty());

    /**
     * A check with weights.
     *
     * @param test its name
     * @param day when it was made
     * @param passed whether the scale passed
     * @param heaviest the heaviest load on it
     */
    public record Weights(String test, LocalDate day, boolean passed, Mass heaviest) {}

    /**
     * A shunt test.
     *
     * @param test its name
     * @param day when it was made
     * @param passed whether the hose carries no more than it may
     */
    public record Shunt(String test, LocalDate day, boolean passed) {}

    public ScaleTests {
        if (withinDays.isPresent() && (withinDays.get() < 1 || withinDays.get() > DAYS_MAX)) {
            throw new IllegalArgumentException(
                    "a check with weights may hold for 1 to "
                            + DAYS_MAX
                            + " days, not "
                            + withinDays.get());
        }
    }

    /** Whether it was checked with weights where it stands, and passed. */
    boolean checkedInPlace() {
        return weights.isPresent() && weights.get().passed();
    }

    /** Why no check holds on this day, as a sentence; null where one does, or none is asked for. */
    String refusalOn(LocalDate day) {
        if (withinDays.isEmpty()) {
            return null;
        }
        if (weights.isEmpty()) {
            return "it was never checked with weights, and a check may be "
                    + withinDays.get()
                    + " days old; run catchbay weights";
        }
        long age = day.toEpochDay() - weights.get().day().toEpochDay();
        return age <= withinDays.get()
                ? null
                : "its last check with weights ("
                        + weights.get().test()
                        + ") is "
                        + age
                        + " days old, and may be "
                        + withinDays.get()
                        + "; run catchbay weights";
    }
}
