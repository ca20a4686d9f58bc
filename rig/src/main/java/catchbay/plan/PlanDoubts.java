package catchbay.plan;

import catchbay.plan.TestPlan.Order;
import catchbay.plan.TestPlan.Point;
import catchbay.quantity.Volume;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What a plan leaves open or says twice, seen in the plan alone: warnings, each a sentence. */
final class PlanDoubts {

    private PlanDoubts() {}

    /**
     * @param carried what the scale may carry of the liquid; empty without one
     */
    static List<String> of(TestPlan plan, Optional<Volume> carried) {
        List<String> doubts = new ArrayList<>();
        TestPlan.Tank tank = plan.tank();
        if (tank.room().isEmpty()) {
            carried.map(PlanDoubts::roomUnsaid).ifPresent(doubts::add);
            if (tank.drained() == TestPlan.Drained.WHEN_FULL) {
                doubts.add(
                        "The tank is to be drained when it is full (tank.drained), and when that is"
                                + " nobody says, so it is drained before each catch; say"
                                + " tank.room.");
            }
        }
        if (!(plan.order() instanceof Order.Shuffled)) {
            twice("", plan.points(), "repeats.least").ifPresent(doubts::add);
        }
        twice(" of the verification", plan.verification().points(), "verification.repeats")
                .ifPresent(doubts::add);
        return doubts;
    }

    private static String roomUnsaid(Volume carried) {
        return "It is not said what the tank holds below its float (tank.room), only that the scale"
                + " under it carries "
                + Figures.gallons(carried)
                + "; whether it overflows before that is not judged.";
    }

    /** In random order the second visit comes at another time; in any other it follows at once. */
    private static Optional<String> twice(String which, List<Point> points, String instead) {
        for (int i = 0; i < points.size(); i++) {
            int first = points.indexOf(points.get(i));
            if (first < i) {
                return Optional.of(
                        "Points "
                                + (first + 1)
                                + " and "
                                + (i + 1)
                                + which
                                + " are one and the same, which is no more than further repeats of"
                                + " it; take one out, and say "
                                + instead
                                + " for more catches.");
            }
        }
        return Optional.empty();
    }
}
