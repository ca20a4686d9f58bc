package catchbay.signal;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A pattern from the settings for one text line. It must cover the whole line. All ways to match
 * are followed side by side, one character after the other, so that the longest line costs at most
 * {@link #STEPS_MAX} times its length steps, whatever the pattern: a pattern cannot stall the
 * program. Two ways are ordered as in {@link java.util.regex.Pattern}; only what that notation
 * offers beyond one pass (looking around, back references, possessive repeats), and a repeat of
 * nothing, is refused, see {@link PatternReader}.
 *
 * <p>Method: simulation of a non-deterministic automaton with remembered places, after Thompson,
 * "Regular expression search algorithm", Communications of the ACM 11 (1968) 419, and Pike's
 * extension of it by places.
 */
final class LinePattern {

    /** The longest line that is matched, bytes. */
    static final int LINE_BYTES_MAX = 256;

    /** The longest pattern, characters. */
    static final int PATTERN_LENGTH_MAX = 500;

    /** The most steps a pattern may take, counts written out. */
    static final int STEPS_MAX = 2000;

    /** A stretch of a line, from its first character to behind its last. */
    record Span(int from, int to) {}

    private sealed interface Step {
        record Take(BitSet characters) implements Step {}

        record Fork(int first, int second) implements Step {}

        record Remember(int place) implements Step {}

        record Matched() implements Step {}
    }

    /** One way of matching: the step it stands before, and the places it remembers. */
    private record Way(int step, int[] places) {}

    private final List<Step> steps = new ArrayList<>();
    private final List<String> names = new ArrayList<>();

    /**
     * @param text the pattern; refused with a sentence when it is not in the notation or too large
     * @param known the names its groups may have
     */
    LinePattern(String text, Set<String> known) {
        if (text.length() > PATTERN_LENGTH_MAX) {
            throw new IllegalArgumentException(
                    "a pattern of "
                            + text.length()
                            + " characters cannot be used; at most "
                            + PATTERN_LENGTH_MAX
                            + " are allowed");
        }
        write(PatternReader.read(text), text);
        steps.add(new Step.Matched());
        for (String name : names) {
            if (!known.contains(name)) {
                throw new IllegalArgumentException(
                        "pattern '"
                                + text
                                + "' cannot be used: it names a group '"
                                + name
                                + "'; the groups known here are "
                                + String.join(", ", known.stream().sorted().toList()));
            }
        }
    }

    /** Whether the pattern has a group of this name. */
    boolean names(String group) {
        return names.contains(group);
    }

    /**
     * The groups that took part, by name, when the pattern covers the line; empty when it does not.
     */
    Optional<Map<String, Span>> match(String line) {
        if (line.length() > LINE_BYTES_MAX) {
            return Optional.empty();
        }
        int[] nowhere = new int[2 * names.size()];
        Arrays.fill(nowhere, -1);
        List<Way> ways = follow(List.of(new Way(0, nowhere)), 0);
        for (int at = 0; at < line.length() && !ways.isEmpty(); at++) {
            List<Way> onward = new ArrayList<>();
            for (Way way : ways) {
                if (steps.get(way.step) instanceof Step.Take take
                        && take.characters.get(line.charAt(at))) {
                    onward.add(new Way(way.step + 1, way.places));
                }
            }
            ways = follow(onward, at + 1);
        }
        return ways.stream()
                .filter(way -> steps.get(way.step) instanceof Step.Matched)
                .findFirst()
                .map(way -> spans(way.places));
    }

    /**
     * Every way's next character or end, the preferred first; of two ways at the same step only the
     * preferred.
     */
    private List<Way> follow(List<Way> from, int at) {
        List<Way> settled = new ArrayList<>();
        BitSet seen = new BitSet(steps.size());
        Deque<Way> open = new ArrayDeque<>();
        for (Way start : from) {
            open.push(start);
            while (!open.isEmpty()) {
                Way way = open.pop();
                if (!seen.get(way.step)) {
                    seen.set(way.step);
                    // Not a switch over the kinds: in this innermost loop it is several times
                    // slower.
                    if (steps.get(way.step) instanceof Step.Fork fork) {
                        open.push(new Way(fork.second, way.places));
                        open.push(new Way(fork.first, way.places));
                    } else if (steps.get(way.step) instanceof Step.Remember remember) {
                        int[] places = way.places.clone();
                        places[remember.place] = at;
                        open.push(new Way(way.step + 1, places));
                    } else {
                        settled.add(way);
                    }
                }
            }
        }
        return settled;
    }

    private Map<String, Span> spans(int[] places) {
        Map<String, Span> spans = new HashMap<>();
        for (int i = 0; i < names.size(); i++) {
            if (places[2 * i] >= 0 && places[2 * i + 1] >= 0) {
                spans.put(names.get(i), new Span(places[2 * i], places[2 * i + 1]));
            }
        }
        return spans;
    }

    private void write(PatternPart part, String text) {
        switch (part) {
            case PatternPart.OneOf one -> add(new Step.Take(one.characters()), text);
            case PatternPart.Sequence sequence ->
                    sequence.parts().forEach(each -> write(each, text));
            case PatternPart.Choice choice -> writeChoice(choice.parts(), text);
            case PatternPart.Repeat repeat -> writeRepeat(repeat, text);
            case PatternPart.Named named -> {
                if (!names.contains(named.name())) {
                    names.add(named.name());
                }
                int place = 2 * names.indexOf(named.name());
                add(new Step.Remember(place), text);
                write(named.part(), text);
                add(new Step.Remember(place + 1), text);
            }
        }
    }

    private void writeChoice(List<PatternPart> parts, String text) {
        List<Integer> ends = new ArrayList<>();
        for (PatternPart part : parts.subList(0, parts.size() - 1)) {
            int fork = add(null, text);
            write(part, text);
            ends.add(add(null, text));
            steps.set(fork, new Step.Fork(fork + 1, steps.size()));
        }
        write(parts.getLast(), text);
        for (int end : ends) {
            steps.set(end, new Step.Fork(steps.size(), steps.size()));
        }
    }

    private void writeRepeat(PatternPart.Repeat repeat, String text) {
        for (int i = 0; i < repeat.least(); i++) {
            write(repeat.part(), text);
        }
        if (repeat.most() == PatternPart.Repeat.UNBOUNDED) {
            int fork = add(null, text);
            write(repeat.part(), text);
            add(new Step.Fork(fork, fork), text);
            steps.set(fork, fork(repeat, fork + 1, steps.size()));
            return;
        }
        List<Integer> forks = new ArrayList<>();
        for (int i = repeat.least(); i < repeat.most(); i++) {
            forks.add(add(null, text));
            write(repeat.part(), text);
        }
        for (int fork : forks) {
            steps.set(fork, fork(repeat, fork + 1, steps.size()));
        }
    }

    private static Step fork(PatternPart.Repeat repeat, int again, int onward) {
        return repeat.greedy() ? new Step.Fork(again, onward) : new Step.Fork(onward, again);
    }

    private int add(Step step, String text) {
        if (steps.size() >= STEPS_MAX) {
            throw new IllegalArgumentException(
                    "pattern '"
                            + text
                            + "' cannot be used: with its counts written out it "
                            + "takes more than "
                            + STEPS_MAX
                            + " steps; use smaller counts");
        }
        steps.add(step);
        return steps.size() - 1;
    }
}
