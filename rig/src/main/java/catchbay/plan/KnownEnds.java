package catchbay.plan;

import catchbay.quantity.FlowRate;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What hunts have found of a truck's range.
 *
 * @param low where its meter begins to count
 * @param high how far it follows
 */
public record KnownEnds(Optional<Low> low, Optional<High> high) {

    /** Nothing was hunted for. */
    public static final KnownEnds NONE = new KnownEnds(Optional.empty(), Optional.empty());

    /**
     * The low end.
     *
     * @param hunt by its name
     * @param day of it
     * @param silent up to this flow the meter did not count; empty where it always did
     * @param counting from this one on it does
     */
    public record Low(String hunt, LocalDate day, Optional<FlowRate> silent, FlowRate counting) {}

    /**
     * The high end.
     *
     * @param followed up to this flow asked for the truck follows
     * @param beyond from this one on it does not; empty where none was tried that it does not
     */
    public record High(String hunt, LocalDate day, FlowRate followed, Optional<FlowRate> beyond) {}

    /** Why nothing can be caught at this flow, each a sentence. */
    List<String> refusals(FlowRate asked) {
        Optional<String> under =
                low.filter(end ->
                                end.silent
                                        .filter(silent -> asked.compareTo(silent) <= 0)
                                        .isPresent())
                        .map(end ->
                                "At "
                                        + Figures.flow(asked)
                                        + " the truck's meter does not count, as hunt "
                                        + end.hunt
                                        + " of "
                                        + end.day
                                        + " found, and a controller whose meter is silent opens"
                                        + " its valve fully; ask for "
                                        + Figures.flow(end.counting)
                                        + " or more, or hunt again (catchbay hunt low).");
        Optional<String> over =
                high.filter(end ->
                                end.beyond.filter(more -> asked.compareTo(more) >= 0).isPresent())
                        .map(end ->
                                "The truck does not follow "
                                        + Figures.flow(asked)
                                        + ", as hunt "
                                        + end.hunt
                                        + " of "
                                        + end.day
                                        + " found; ask for "
                                        + Figures.flow(end.followed)
                                        + " or less, or hunt again (catchbay hunt high).");
        return both(under, over);
    }

    /** What is to be known of this flow where something can be caught at it, each a sentence. */
    List<String> warnings(FlowRate asked) {
        if (!refusals(asked).isEmpty()) {
            return List.of();
        }
        Optional<String> under =
                low.filter(end -> asked.compareTo(end.counting) < 0)
                        .map(end ->
                                "At "
                                        + Figures.flow(asked)
                                        + " it is not known whether the truck's meter counts: hunt "
                                        + end.hunt
                                        + " of "
                                        + end.day
                                        + " saw it count from "
                                        + Figures.flow(end.counting)
                                        + " on.");
        Optional<String> over =
                high.filter(end -> asked.compareTo(end.followed) > 0)
                        .map(end ->
                                "It is not known whether the truck follows "
                                        + Figures.flow(asked)
                                        + ": hunt "
                                        + end.hunt
                                        + " of "
                                        + end.day
                                        + " saw it follow up to "
                                        + Figures.flow(end.followed)
                                        + ".");
        return both(under, over);
    }

    private static List<String> both(Optional<String> one, Optional<String> other) {
        return Stream.of(one, other).flatMap(Optional::stream).toList();
    }
}
