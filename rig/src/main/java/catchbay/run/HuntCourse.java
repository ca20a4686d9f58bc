package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.VolumeUnit;
import catchbay.run.HuntReading.Answer;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What comes next in a hunt, as a function of its setup and of the steps so far. Raising the valve
 * until the meter just triggers is common practice, no source.
 */
public final class HuntCourse {

    /** So many counting steps in a row, and the meter counts: one may be a lucky one. */
    private static final int IN_A_ROW = 2;

    /** So many steps in a row that tell nothing, and the hunt is over. */
    private static final int UNTOLD_MOST = 3;

    /** Steps of a hunt at most, whatever its settings. */
    private static final int STEPS_MOST = 200;

    /** What comes next. */
    public sealed interface Next {
        /**
         * Another step.
         *
         * @param rising whether it lies above the one before
         */
        record Step(FlowRate flow, boolean rising) implements Next {}

        /** It is over. */
        record Over(HuntResult result) implements Next {}
    }

    private final HuntSetup setup;
    private final List<HuntReading> readings;

    private HuntCourse(HuntSetup setup, List<HuntReading> readings) {
        this.setup = setup;
        this.readings = readings;
    }

    /** What comes after these steps. */
    public static Next after(HuntSetup setup, List<HuntReading> readings) {
        HuntCourse course = new HuntCourse(setup, readings);
        return readings.isEmpty() ? new Next.Step(setup.from(), true) : course.next();
    }

    private Next next() {
        if (readings.size() >= STEPS_MOST) {
            return over("it took " + STEPS_MOST + " steps; set hunt.step_percent larger");
        }
        if (readings.size() >= UNTOLD_MOST && last(UNTOLD_MOST, Answer.UNTOLD)) {
            return over(
                    UNTOLD_MOST
                            + " steps in a row told nothing, the last: "
                            + readings.getLast().note().orElse("no reason is known"));
        }
        return switch (setup.end()) {
            case LOW -> low();
            case HIGH -> high();
        };
    }

    private static Next over(String reason) {
        return new Next.Over(new HuntResult.NotFound("Not found: " + reason + "."));
    }

    private boolean last(int count, Answer answer) {
        return readings.size() >= count
                && readings.subList(readings.size() - count, readings.size()).stream()
                        .allMatch(reading -> reading.answer() == answer);
    }

    // The low end
    // ---------------------------------------------------------------------------------------------

    private Next low() {
        HuntReading newest = readings.getLast();
        if (newest.rising()) {
            if (last(IN_A_ROW, Answer.COUNTING)) {
                return setup.lowering() ? lower() : new Next.Over(lowEnd());
            }
            return newest.asked().compareTo(setup.to()) >= 0
                    ? over(
                            "up to "
                                    + gallons(setup.to())
                                    + " the truck's meter did not count steadily in "
                                    + IN_A_ROW
                                    + " steps that follow each other; raise hunt.low_to, or look"
                                    + " after the meter, its wire and the bay's tap on it")
                    : step(larger(newest), true);
        }
        boolean ceased =
                last(IN_A_ROW, Answer.SILENT) || newest.asked().compareTo(setup.from()) <= 0;
        return ceased ? new Next.Over(lowEnd()) : lower();
    }

    private Next lower() {
        HuntReading newest = readings.getLast();
        double flowed = flowed(newest);
        double next = Math.min(flowed, newest.asked().litresPerSecond()) / ratio();
        return step(new FlowRate(Math.max(next, setup.from().litresPerSecond())), false);
    }

    private static Next step(FlowRate flow, boolean rising) {
        return new Next.Step(flow, rising);
    }

    private double ratio() {
        return 1 + setup.rules().step().value();
    }

    private static double flowed(HuntReading reading) {
        return reading.flow().map(MeasuredFlow::rate).orElse(reading.asked()).litresPerSecond();
    }

    /** A hand that opened the valve too far is not asked to shut it again. */
    private FlowRate larger(HuntReading newest) {
        double base = Math.max(newest.asked().litresPerSecond(), flowed(newest));
        return new FlowRate(Math.min(base * ratio(), setup.to().litresPerSecond()));
    }

    /** The threshold with flow rising; and, where it was looked for, with flow falling. */
    private HuntResult lowEnd() {
        List<HuntReading> up = told(true);
        MeasuredFlow counting = smallestCounting(up).orElseThrow();
        List<HuntReading> down = told(false);
        Optional<HuntResult.DropOut> dropOut =
                setup.lowering()
                        ? Optional.of(dropOut(smallestCounting(down).orElse(counting), down))
                        : Optional.empty();
        return new HuntResult.LowEnd(largestBelow(counting, up), counting, dropOut);
    }

    private static HuntResult.DropOut dropOut(MeasuredFlow counting, List<HuntReading> down) {
        return new HuntResult.DropOut(counting, largestBelow(counting, down));
    }

    private List<HuntReading> told(boolean rising) {
        List<HuntReading> told = new ArrayList<>();
        for (HuntReading reading : readings) {
            if (reading.rising() == rising && reading.answer() != Answer.UNTOLD) {
                told.add(reading);
            }
        }
        return told;
    }

    /** The smallest flow that counts, and above which none was seen that does not. */
    private static Optional<MeasuredFlow> smallestCounting(List<HuntReading> of) {
        double fails = 0;
        for (HuntReading reading : of) {
            if (reading.answer() != Answer.COUNTING) {
                fails = Math.max(fails, flowed(reading));
            }
        }
        Optional<MeasuredFlow> smallest = Optional.empty();
        for (HuntReading reading : of) {
            boolean smaller =
                    smallest.isEmpty() || flowed(reading) < smallest.get().rate().litresPerSecond();
            if (reading.answer() == Answer.COUNTING && flowed(reading) > fails && smaller) {
                smallest = reading.flow();
            }
        }
        return smallest;
    }

    /** The largest flow below it at which the meter did not count all through. */
    private static Optional<MeasuredFlow> largestBelow(
            MeasuredFlow counting, List<HuntReading> of) {
        Optional<MeasuredFlow> largest = Optional.empty();
        for (HuntReading reading : of) {
            double flow = flowed(reading);
            boolean below = flow < counting.rate().litresPerSecond();
            boolean larger = largest.isEmpty() || flow > largest.get().rate().litresPerSecond();
            if (reading.answer() != Answer.COUNTING && below && larger) {
                largest = reading.flow();
            }
        }
        return largest;
    }

    // The high end
    // ---------------------------------------------------------------------------------------------

    private Next high() {
        HuntReading newest = readings.getLast();
        if (newest.answer() == Answer.FALLS_SHORT) {
            return highest(Optional.of(new HuntResult.Beyond(newest.asked(), newest.flow())));
        }
        return newest.asked().compareTo(setup.to()) >= 0
                ? highest(Optional.empty())
                : step(
                        new FlowRate(
                                Math.min(
                                        newest.asked().litresPerSecond() * ratio(),
                                        setup.to().litresPerSecond())),
                        true);
    }

    private Next highest(Optional<HuntResult.Beyond> beyond) {
        for (HuntReading reading : readings.reversed()) {
            if (reading.answer() == Answer.FOLLOWS) {
                return new Next.Over(
                        new HuntResult.HighEnd(
                                reading.flow().orElseThrow(), reading.asked(), beyond));
            }
        }
        return over(
                "the truck does not even follow "
                        + gallons(setup.from())
                        + "; set hunt.high_from lower, and look after its pump and its controller");
    }

    /**
     * Whether a truck gives what was asked: of the first step a share of the flow, then of each
     * increase.
     *
     * @param before the steps so far
     * @param asked of this one
     * @param flow what flowed in it
     */
    static boolean follows(
            HuntSetup setup, List<HuntReading> before, FlowRate asked, MeasuredFlow flow) {
        double askedBefore = 0;
        double flowedBefore = 0;
        for (HuntReading reading : before) {
            if (reading.flow().isPresent()) {
                askedBefore = reading.asked().litresPerSecond();
                flowedBefore = flowed(reading);
            }
        }
        double given = flow.rate().litresPerSecond() - flowedBefore;
        double wanted = asked.litresPerSecond() - askedBefore;
        return given >= setup.rules().followedLeast().value() * wanted;
    }

    private static String gallons(FlowRate flow) {
        return String.format(Locale.ROOT, "%.3g US gal/min", flow.perMinute(VolumeUnit.US_GALLON));
    }
}
