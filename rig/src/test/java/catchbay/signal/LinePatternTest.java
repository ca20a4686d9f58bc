package catchbay.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

class LinePatternTest {

    private static final Set<String> NAMES = Set.of("p", "q");

    /**
     * Outside check: the JDK's own engine, which has the same notation, on random patterns and
     * lines.
     */
    @Test
    void meansTheSameAsTheJdksEngine() {
        int matches = 0;
        for (int seed = 0; seed < 30_000; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            String text =
                    "(?<p>"
                            + pattern(random, 3)
                            + ")"
                            + pattern(random, 2)
                            + "(?<q>"
                            + pattern(random, 2)
                            + ")?"
                            + pattern(random, 2);
            LinePattern ours = new LinePattern(text, NAMES);
            Pattern theirs = Pattern.compile(text);
            for (int i = 0; i < 4; i++) {
                String line = line(random);
                String where = "seed " + seed + ": '" + text + "' on '" + line + "'";
                Optional<Map<String, LinePattern.Span>> match = ours.match(line);
                Matcher matcher = theirs.matcher(line);
                assertEquals(matcher.matches(), match.isPresent(), where);
                if (match.isPresent()) {
                    matches++;
                    assertEquals(span(matcher, "p"), match.get().get("p"), where);
                    assertEquals(span(matcher, "q"), match.get().get("q"), where);
                }
            }
        }
        assertTrue(
                matches > 5_000, "only " + matches + " lines matched; the check says too little");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "(?:(?:a+)+)+b",
                "(?:a|a)*b",
                "(?:a|aa)+b",
                "a?a?a?a?a?a?a?a?a?a?a?a?a{240}b",
                ".*.*.*.*.*.*.*.*.*.*b",
                "(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)"
                    + "(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)"
                    + "(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)(?:|)a{256}b",
                "(?:(?:(?:a{1,10}){1,10}){1,10})b"
            })
    void noPatternStallsOnTheLongestLine(String text) {
        // Limit of five seconds: milliseconds are needed; a backtracking engine needs years for
        // most of these.
        assertTimeoutPreemptively(
                Duration.ofSeconds(5),
                () -> {
                    LinePattern pattern = new LinePattern(text, NAMES);
                    assertFalse(pattern.match("a".repeat(LinePattern.LINE_BYTES_MAX)).isPresent());
                });
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            quoteCharacter = '"',
            value = {
                "(?=a); may begin with",
                "(?<!a)b; letters a to z",
                "(?>a); may begin with",
                "(?i)a; may begin with",
                "(a)\\1; '\\1' is not known",
                "(?<p>a)\\k<p>; '\\k' is not known",
                "a++; may not follow",
                "a{2}{3}; may not follow",
                "*a; nothing before it",
                "a{5,2}; with m not below n",
                "a{257}; up to 256",
                "a{; whole number",
                "b[a; at character 2, a",
                "[]; is empty",
                "[a&&b]; must have a '\\'",
                "[z-a]; lower to a higher",
                "[\\d-a]; lower to a higher",
                "b(a; at character 2, a",
                "a); has no '('",
                "a\\; nothing behind it",
                "\\xg1; two hexadecimal",
                "a^b; may only stand",
                "a$b; may only stand",
                "\u20ac; one byte",
                "(?<p>a)(?<p>b); there twice",
                "(?<1>a); letters a to z",
                "(?<r>a); names a group 'r'",
                "(?:a{200}){200}; more than 2000 steps",
                "(?:){256}; could be empty",
                "(?:(?:a*)*)*; could be empty",
                "(?:a|){2}; could be empty",
                "\\Qa\\E; '\\Q' is not known",
                "\\bA; '\\b' is not known"
            })
    void aPatternThatCannotBeUsedIsRefusedInOneSentence(String text, String words) {
        IllegalArgumentException refusal =
                assertThrows(IllegalArgumentException.class, () -> new LinePattern(text, NAMES));
        assertTrue(
                refusal.getMessage().startsWith("pattern '" + text + "' cannot be used: "),
                refusal.getMessage());
        assertTrue(refusal.getMessage().contains(words), refusal.getMessage());
    }

    @Test
    void tooLongAPatternOrTooDeepIsRefused() {
        String deep = "(".repeat(30) + "a" + ")".repeat(30);
        assertThrows(IllegalArgumentException.class, () -> new LinePattern(deep, NAMES));
        assertThrows(IllegalArgumentException.class, () -> new LinePattern("a".repeat(501), NAMES));
    }

    @Test
    void aLineOverTheLimitIsNoMatch() {
        LinePattern pattern = new LinePattern("a*", NAMES);
        assertTrue(pattern.match("a".repeat(LinePattern.LINE_BYTES_MAX)).isPresent());
        assertFalse(pattern.match("a".repeat(LinePattern.LINE_BYTES_MAX + 1)).isPresent());
    }

    private static String pattern(SplittableRandom random, int depth) {
        return switch (random.nextInt(depth == 0 ? 4 : 9)) {
            case 0 -> "a";
            case 1 -> "[ab]";
            case 2 -> ".";
            case 3 -> "\\d";
            case 4 -> "[^a-]";
            case 5 -> pattern(random, depth - 1) + pattern(random, depth - 1);
            case 6 -> "(?:" + pattern(random, depth - 1) + "|" + pattern(random, depth - 1) + ")";
            case 7 -> "(?:" + solid(random, depth - 1) + ")" + repeat(random);
            default -> "(?:" + pattern(random, depth - 1) + "|)";
        };
    }

    /** A pattern that covers at least one character, since a repeat of nothing is refused. */
    private static String solid(SplittableRandom random, int depth) {
        return random.nextBoolean()
                ? pattern(random, depth) + "a"
                : "[ab1]" + pattern(random, depth);
    }

    private static String repeat(SplittableRandom random) {
        String[] repeats = {"*", "+", "?", "*?", "+?", "??", "{2}", "{1,}", "{0,2}", "{1,3}?"};
        return repeats[random.nextInt(repeats.length)];
    }

    private static String line(SplittableRandom random) {
        StringBuilder line = new StringBuilder();
        int length = random.nextInt(8);
        for (int i = 0; i < length; i++) {
            line.append("aab-1".charAt(random.nextInt(5)));
        }
        return line.toString();
    }

    private static LinePattern.Span span(Matcher matcher, String group) {
        return matcher.start(group) < 0
                ? null
                : new LinePattern.Span(matcher.start(group), matcher.end(group));
    }
}
