package catchbay.record;

import catchbay.metrology.Repeatability;
import catchbay.quantity.Ratio;
import catchbay.run.Repeats;

import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.Optional;

/** The section {@code repeats} of a setup. */
final class RepeatsText {

    private static final Measure<Ratio> WANTED =
            Measure.RATIO.within(
                    "above 0 and at most 100 %", ratio -> ratio.value() > 0 && ratio.value() <= 1);

    private static final int NUMBER_MAX = 1_000_000;

    private RepeatsText() {}

    static Repeats read(Fields from) {
        Repeatability.Plan plan = plan(from);
        int voids = (int) from.whole("voids", 1, Repeats.VOIDS_MAX, Repeats.USUAL.voidsMax());
        Optional<Repeats.Place> place =
                from.optionalText("series")
                        .map(series ->
                                new Repeats.Place(
                                        series, (int) from.whole("number", 1, NUMBER_MAX)));
        return from.made(() -> new Repeats(plan, voids, place));
    }

    /** How often, and how well they are to agree. */
    static Repeatability.Plan plan(Fields from) {
        Repeats usual = Repeats.USUAL;
        int least =
                (int)
                        from.whole(
                                "least",
                                Repeatability.RUNS_MIN,
                                Repeatability.RUNS_MAX,
                                usual.plan().runs());
        int most =
                (int)
                        from.whole(
                                "most",
                                Repeatability.RUNS_MIN,
                                Repeatability.RUNS_MAX,
                                Math.max(least, usual.plan().runsMax()));
        Ratio wanted = from.quantity("wanted", WANTED, usual.plan().wanted());
        return from.made(() -> new Repeatability.Plan(least, most, wanted));
    }

    static void write(ObjectNode to, Repeats repeats) {
        to.put("least", repeats.plan().runs())
                .put("most", repeats.plan().runsMax())
                .put("wanted_ratio", repeats.plan().wanted().value())
                .put("voids", repeats.voidsMax());
        repeats.place()
                .ifPresent(place -> to.put("series", place.series()).put("number", place.number()));
    }
}
