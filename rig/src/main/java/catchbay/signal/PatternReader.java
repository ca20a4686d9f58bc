package catchbay.signal;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/**
 * Reads the text of a pattern: the part of {@link java.util.regex.Pattern}'s notation that can be
 * matched in one pass over the line, with the same meaning. What is not in that part is refused
 * with its place.
 */
final class PatternReader {

    /** Parentheses inside parentheses. */
    private static final int DEPTH_MAX = 20;

    private static final int CHARACTERS = 256;

    private final String text;
    private final List<String> names = new ArrayList<>();
    private int at;

    private PatternReader(String text) {
        this.text = text;
    }

    /**
     * The parts of a pattern; {@link IllegalArgumentException} with a sentence when it cannot be
     * used.
     */
    static PatternPart read(String text) {
        PatternReader reader = new PatternReader(text);
        PatternPart whole = reader.choice(0);
        if (reader.at < text.length()) {
            throw reader.refusal("a ')' has no '(' before it");
        }
        return whole;
    }

    private PatternPart choice(int depth) {
        if (depth > DEPTH_MAX) {
            throw refusal("parentheses lie more than " + DEPTH_MAX + " deep");
        }
        List<PatternPart> parts = new ArrayList<>();
        parts.add(sequence(depth));
        while (isNext('|')) {
            at++;
            parts.add(sequence(depth));
        }
        return parts.size() == 1 ? parts.getFirst() : new PatternPart.Choice(List.copyOf(parts));
    }

    private PatternPart sequence(int depth) {
        List<PatternPart> parts = new ArrayList<>();
        while (at < text.length() && !isNext('|') && !isNext(')')) {
            // The pattern always covers the whole line, so that these two say nothing new.
            if (at == 0 && isNext('^') || at == text.length() - 1 && isNext('$')) {
                at++;
            } else {
                parts.add(repeat(atom(depth)));
            }
        }
        return parts.size() == 1 ? parts.getFirst() : new PatternPart.Sequence(List.copyOf(parts));
    }

    private PatternPart atom(int depth) {
        char next = text.charAt(at);
        switch (next) {
            case '(':
                return group(depth);
            case '[':
                return new PatternPart.OneOf(set());
            case '\\':
                return new PatternPart.OneOf(escaped());
            case '.':
                at++;
                return new PatternPart.OneOf(all());
            case '*', '+', '?', '{':
                throw refusal("'" + next + "' has nothing before it to repeat");
            case '^', '$':
                throw refusal(
                        "'"
                                + next
                                + "' may only stand at the pattern's "
                                + (next == '^' ? "begin" : "end"));
            default:
                return new PatternPart.OneOf(one(literal()));
        }
    }

    private PatternPart group(int depth) {
        int opened = at;
        at++;
        String name = null;
        if (isNext('?')) {
            at++;
            if (isNext('<')) {
                name = name();
            } else if (isNext(':')) {
                at++;
            } else {
                throw refusal("a group may begin with '(', '(?:' or '(?<name>' only");
            }
        }
        PatternPart inside = choice(depth + 1);
        if (!isNext(')')) {
            throw refusal(opened, "a '(' is not closed");
        }
        at++;
        return name == null ? inside : new PatternPart.Named(name, inside);
    }

    private String name() {
        int from = ++at;
        while (at < text.length() && isLetter(text.charAt(at))) {
            at++;
        }
        String name = text.substring(from, at);
        if (name.isEmpty() || !isNext('>')) {
            throw refusal("a group's name is made of the letters a to z and ends with '>'");
        }
        if (names.contains(name)) {
            throw refusal("the group '" + name + "' is there twice");
        }
        names.add(name);
        at++;
        return name;
    }

    private PatternPart repeat(PatternPart part) {
        int least;
        int most;
        if (isNext('*') || isNext('+') || isNext('?')) {
            least = isNext('+') ? 1 : 0;
            most = isNext('?') ? 1 : PatternPart.Repeat.UNBOUNDED;
            at++;
        } else if (isNext('{')) {
            at++;
            least = count();
            most = least;
            if (isNext(',')) {
                at++;
                most = isNext('}') ? PatternPart.Repeat.UNBOUNDED : count();
            }
            if (!isNext('}') || most != PatternPart.Repeat.UNBOUNDED && most < least) {
                throw refusal("a count must read {n}, {n,} or {n,m}, with m not below n");
            }
            at++;
        } else {
            return part;
        }
        boolean lazy = isNext('?');
        if (lazy) {
            at++;
        }
        if (isNext('*') || isNext('+') || isNext('?') || isNext('{')) {
            throw refusal("a repeat may not follow a repeat");
        }
        // Engines differ in what a repeat of nothing means, and counts of it would cost time for no
        // step.
        if (most != 1 && part.mayBeEmpty()) {
            throw refusal("what is repeated could be empty; let it match at least one character");
        }
        return new PatternPart.Repeat(part, least, most, !lazy);
    }

    private int count() {
        int from = at;
        int count = 0;
        while (at < text.length() && Character.digit(text.charAt(at), 10) >= 0 && at - from < 4) {
            count = 10 * count + Character.digit(text.charAt(at), 10);
            at++;
        }
        if (at == from || count > LinePattern.LINE_BYTES_MAX) {
            throw refusal("a count must be a whole number up to " + LinePattern.LINE_BYTES_MAX);
        }
        return count;
    }

    private BitSet set() {
        int opened = at;
        at++;
        boolean others = isNext('^');
        if (others) {
            at++;
        }
        BitSet set = new BitSet(CHARACTERS);
        int from = at;
        while (!isNext(']')) {
            if (at >= text.length()) {
                throw refusal(opened, "a '[' is not closed");
            }
            if (isNext('[') || isNext('&')) {
                throw refusal(
                        "a '" + text.charAt(at) + "' inside '[ ]' must have a '\\' before it");
            }
            set.or(member());
        }
        if (at == from) {
            throw refusal("a '[ ]' is empty");
        }
        at++;
        if (others) {
            set.flip(0, CHARACTERS);
        }
        return set;
    }

    private BitSet member() {
        BitSet first = isNext('\\') ? escaped() : one(literal());
        boolean range = isNext('-') && at + 1 < text.length() && text.charAt(at + 1) != ']';
        if (!range) {
            return first;
        }
        at++;
        BitSet last = isNext('\\') ? escaped() : one(literal());
        if (first.cardinality() != 1 || last.cardinality() != 1 || last.length() < first.length()) {
            throw refusal("a range such as a-z must run from a lower to a higher character");
        }
        BitSet range256 = new BitSet(CHARACTERS);
        range256.set(first.length() - 1, last.length());
        return range256;
    }

    private BitSet escaped() {
        at++;
        if (at >= text.length()) {
            throw refusal("a '\\' has nothing behind it");
        }
        char next = text.charAt(at++);
        BitSet set =
                switch (Character.toLowerCase(next)) {
                    case 'd' -> range('0', '9');
                    case 's' -> range('\t', '\r');
                    case 'w' -> range('a', 'z');
                    default -> null;
                };
        if (set != null) {
            if (next == 's' || next == 'S') {
                set.set(' ');
            }
            if (next == 'w' || next == 'W') {
                set.or(range('A', 'Z'));
                set.or(range('0', '9'));
                set.set('_');
            }
            if (Character.isUpperCase(next)) {
                set.flip(0, CHARACTERS);
            }
            return set;
        }
        if (next == 't') {
            return one('\t');
        }
        if (next == 'x') {
            return one(hexadecimal());
        }
        if (next >= CHARACTERS || Character.isLetterOrDigit(next)) {
            at -= 2;
            throw refusal(
                    "'\\"
                            + next
                            + "' is not known here; use "
                            + "\\d \\D \\s \\S \\w \\W \\t \\xHH or a sign after '\\'");
        }
        return one(next);
    }

    private char hexadecimal() {
        if (at + 2 <= text.length()) {
            int high = Character.digit(text.charAt(at), 16);
            int low = Character.digit(text.charAt(at + 1), 16);
            if (high >= 0 && low >= 0) {
                at += 2;
                return (char) (16 * high + low);
            }
        }
        throw refusal("\\x must have two hexadecimal digits behind it, as in \\x02");
    }

    private char literal() {
        char next = text.charAt(at);
        if (next >= CHARACTERS) {
            throw refusal(
                    "'" + next + "' cannot come over a serial line, where a character is one byte");
        }
        at++;
        return next;
    }

    private static BitSet all() {
        BitSet set = new BitSet(CHARACTERS);
        set.set(0, CHARACTERS);
        return set;
    }

    private static BitSet one(char character) {
        return range(character, character);
    }

    private static BitSet range(char first, char last) {
        BitSet set = new BitSet(CHARACTERS);
        set.set(first, last + 1);
        return set;
    }

    private boolean isNext(char wanted) {
        return at < text.length() && text.charAt(at) == wanted;
    }

    private static boolean isLetter(char character) {
        return character >= 'a' && character <= 'z';
    }

    private IllegalArgumentException refusal(String what) {
        return refusal(at, what);
    }

    private IllegalArgumentException refusal(int place, String what) {
        return new IllegalArgumentException(
                "pattern '" + text + "' cannot be used: at character " + (place + 1) + ", " + what);
    }
}
