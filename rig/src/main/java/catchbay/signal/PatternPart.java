package catchbay.signal;

import java.util.BitSet;
import java.util.List;

/** What a pattern is made of, as {@link PatternReader} reads it. */
sealed interface PatternPart {

    /** One character out of a set; characters are bytes, 0 to 255. */
    record OneOf(BitSet characters) implements PatternPart {}

    /** Parts one after the other; none at all matches nothing and succeeds. */
    record Sequence(List<PatternPart> parts) implements PatternPart {}

    /** The first of the parts that leads to a match. */
    record Choice(List<PatternPart> parts) implements PatternPart {}

    /**
     * A part again and again.
     *
     * @param least how often at least
     * @param most how often at most; {@link #UNBOUNDED} = as often as you like
     * @param greedy whether more is tried before less
     */
    record Repeat(PatternPart part, int least, int most, boolean greedy) implements PatternPart {
        static final int UNBOUNDED = -1;
    }

    /** A part whose place in the line is remembered under a name. */
    record Named(String name, PatternPart part) implements PatternPart {}

    /** Whether it can match no character at all. */
    default boolean mayBeEmpty() {
        return switch (this) {
            case OneOf one -> false;
            case Sequence sequence -> sequence.parts.stream().allMatch(PatternPart::mayBeEmpty);
            case Choice choice -> choice.parts.stream().anyMatch(PatternPart::mayBeEmpty);
            case Repeat repeat -> repeat.least == 0 || repeat.part.mayBeEmpty();
            case Named named -> named.part.mayBeEmpty();
        };
    }
}
