package catchbay.record;

import catchbay.quantity.Numeral;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;

import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * One section of a document, read key by key. Every getter remembers its key, so that {@link
 * #finish} can refuse the keys that nobody asked for. Every refusal is a {@link DocumentException}
 * that says where, which key, which value and what to do. Not thread-safe.
 */
public final class Fields {

    /** Where a value stands, for a person. */
    public interface Places {

        /** A place that begins so is the value's own name on the command line: no key is told. */
        String OPTION = "option ";

        /**
         * The place of a value, as in {@code bay.toml line 14}.
         *
         * @param path keys from the document's root joined by dots, list items by index: {@code
         *     reference.points[1]}; the path may be of a key that is missing: then the place of
         *     what should hold it
         */
        String at(String path);

        /** The same path as the person wrote it, where a document was put together from several. */
        default String written(String path) {
            return path;
        }
    }

    /** The longest name, serial number or other short text. */
    public static final int TEXT_LENGTH_MAX = 200;

    private static final int SHOWN_LENGTH_MAX = 60;

    private final JsonNode node;
    private final String path;
    private final Places places;
    private final boolean typed;
    private final Set<String> asked = new LinkedHashSet<>();
    private final List<String> described = new ArrayList<>();
    private final Map<String, Fields> sections = new LinkedHashMap<>();

    private Fields(JsonNode node, String path, Places places, boolean typed) {
        this.node = node;
        this.path = path;
        this.places = places;
        this.typed = typed;
    }

    /**
     * A whole document that a person wrote; what is not an object (a table) is refused, and so is a
     * figure that no bay has.
     */
    public static Fields of(JsonNode document, Places places) {
        return of(document, places, true);
    }

    /** A whole document that a program wrote, in which a device may have sent any figure. */
    static Fields recorded(JsonNode document, Places places) {
        return of(document, places, false);
    }

    private static Fields of(JsonNode document, Places places, boolean typed) {
        if (!document.isObject()) {
            throw new DocumentException(
                    places.at("")
                            + ": "
                            + shown(document)
                            + " is not a set of keys and values; write them between braces");
        }
        return new Fields(document, "", places, typed);
    }

    /** Whether the key is there. The key counts as known from now on. */
    public boolean has(String key) {
        return find(key) != null;
    }

    /** The keys that are there, in their order. */
    public List<String> keys() {
        List<String> keys = new ArrayList<>();
        node.fieldNames().forEachRemaining(keys::add);
        return keys;
    }

    /** A value as a refusal would show it. */
    public String shown(String key) {
        return shown(node.path(key));
    }

    /** The section under the key, always the same one; refused when it is missing. */
    public Fields section(String key) {
        return optionalSection(key).orElseThrow(() -> missing(key, "add this section"));
    }

    /** The section under the key, when it is there. */
    public Optional<Fields> optionalSection(String key) {
        JsonNode found = find(key);
        return found == null ? Optional.empty() : Optional.of(child(key, found));
    }

    /**
     * The section under the key; one without any keys when it is missing, so that every default
     * holds.
     */
    public Fields sectionOrDefaults(String key) {
        JsonNode found = find(key);
        return child(key, found == null ? JsonNodeFactory.instance.objectNode() : found);
    }

    /** The list of sections under the key; refused when it is missing. */
    public List<Fields> sections(String key) {
        JsonNode found = need(key, "add this list");
        if (!found.isArray()) {
            throw refused(key, "it must be a list");
        }
        List<Fields> items = new ArrayList<>();
        for (int i = 0; i < found.size(); i++) {
            items.add(child(key + "[" + i + "]", found.get(i)));
        }
        return items;
    }

    /** A short text that must be there: not blank, no control characters. */
    public String text(String key) {
        return textOf(key, need(key, "add it as a text"));
    }

    /** As {@link #text(String)}, with a value for when it is missing. */
    public String text(String key, String otherwise) {
        return optionalText(key).orElse(otherwise);
    }

    /** As {@link #text(String)}, when it is there. */
    public Optional<String> optionalText(String key) {
        JsonNode found = find(key);
        return found == null ? Optional.empty() : Optional.of(textOf(key, found));
    }

    /** Any text that must be there, also an empty one. */
    public String words(String key) {
        JsonNode found = need(key, "add it as a text");
        if (!found.isTextual()) {
            throw refused(key, "it must be a text");
        }
        return found.textValue();
    }

    /** A list of short texts that may be there; empty if not. */
    public List<String> texts(String key) {
        JsonNode found = find(key);
        if (found == null) {
            return List.of();
        }
        if (!found.isArray()) {
            throw refused(key, "it must be a list of texts");
        }
        List<String> items = new ArrayList<>();
        for (JsonNode item : found) {
            items.add(textOf(key, item));
        }
        return List.copyOf(items);
    }

    /** A calendar day that must be there, as in {@code 2026-01-31}. */
    public LocalDate date(String key) {
        String text = textOf(key, need(key, "add it as a day such as 2026-01-31"));
        try {
            return LocalDate.parse(text);
        } catch (DateTimeException unreadable) {
            throw refused(key, "it must be a day such as 2026-01-31");
        }
    }

    /** A moment that must be there, as in {@code 2026-01-31T14:05:00Z}. */
    public Instant moment(String key) {
        String text = textOf(key, need(key, "add it as a moment such as 2026-01-31T14:05:00Z"));
        try {
            return Instant.parse(text);
        } catch (DateTimeException unreadable) {
            throw refused(key, "it must be a moment such as 2026-01-31T14:05:00Z");
        }
    }

    /** A yes or no that must be there. */
    public boolean flag(String key) {
        return flagOf(key, need(key, "add it as true or false"));
    }

    /** A yes or no that may be there. */
    public boolean flag(String key, boolean otherwise) {
        JsonNode found = find(key);
        return found == null ? otherwise : flagOf(key, found);
    }

    /** A whole number that must be there, between two bounds, both allowed. */
    public long whole(String key, long least, long most) {
        return wholeOf(key, need(key, "add it as a whole number"), least, most);
    }

    /** A whole number that may be there, between two bounds, both allowed. */
    public long whole(String key, long least, long most, long otherwise) {
        JsonNode found = find(key);
        return found == null ? otherwise : wholeOf(key, found, least, most);
    }

    /**
     * A number that must be there, between two bounds, both allowed; the key ends with its unit.
     *
     * @param least the lower bound; {@link Double#MIN_VALUE} for anything above zero
     */
    public double number(String key, double least, double most) {
        return numberOf(key, need(key, "add it as a number"), least, most);
    }

    /** A list of whole numbers that must be there. */
    public long[] wholes(String key) {
        JsonNode found = need(key, "add it as a list of whole numbers");
        if (!found.isArray()) {
            throw refused(key, "it must be a list of whole numbers");
        }
        long[] numbers = new long[found.size()];
        for (int i = 0; i < numbers.length; i++) {
            JsonNode item = found.get(i);
            if (!item.isIntegralNumber() || !item.canConvertToLong()) {
                throw refused(key + "[" + i + "]", shown(item) + " is not a whole number");
            }
            numbers[i] = item.longValue();
        }
        return numbers;
    }

    /** A number that may be there, between two bounds, both allowed; the key ends with its unit. */
    public double number(String key, double least, double most, double otherwise) {
        JsonNode found = find(key);
        return found == null ? otherwise : numberOf(key, found, least, most);
    }

    /**
     * An uncertainty that may be there, as a number: above 0, since nothing is known without doubt.
     */
    public double uncertainty(String key, double most, double otherwise) {
        double number = number(key, 0, most, otherwise);
        if (number == 0) {
            throw refused(key, "an uncertainty must be above 0; state it, or leave the key out");
        }
        return number;
    }

    /**
     * A word that must be there and that {@code known} understands; its refusal lists the words it
     * knows.
     */
    public <T> T named(String key, Function<String, T> known) {
        String word = textOf(key, need(key, "add it"));
        return trying(key, () -> known.apply(word));
    }

    /** As {@link #named(String, Function)}, with a value for when it is missing. */
    public <T> T named(String key, Function<String, T> known, T otherwise) {
        return find(key) == null ? otherwise : named(key, known);
    }

    /** One of an enumeration's names, which must be there: lower case, words joined by hyphens. */
    public <E extends Enum<E>> E choice(String key, Class<E> kind) {
        return named(key, word -> choiceOf(word, kind));
    }

    /** As {@link #choice(String, Class)}, with a value for when it is missing. */
    public <E extends Enum<E>> E choice(String key, Class<E> kind, E otherwise) {
        return named(key, word -> choiceOf(word, kind), otherwise);
    }

    /** How {@link #choice} spells a constant. */
    static String spelt(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /**
     * A quantity that must be there, under exactly one of the keys {@code stem_unit} that its
     * measure knows.
     */
    public <T> T quantity(String stem, Measure<T> measure) {
        List<String> spellings = spellings(stem, measure);
        return optionalQuantity(stem, measure)
                .orElseThrow(() ->
                        missing(
                                spellings.getFirst(),
                                spellings,
                                "add it as a number" + otherUnits(spellings)));
    }

    /** As {@link #quantity(String, Measure)}, with a value for when it is missing. */
    public <T> T quantity(String stem, Measure<T> measure, T otherwise) {
        return optionalQuantity(stem, measure).orElse(otherwise);
    }

    /**
     * As {@link #quantity(String, Measure)}, when it is there.
     *
     * @param stem what stands before the unit in the key; empty when the unit is the whole key
     */
    public <T> Optional<T> optionalQuantity(String stem, Measure<T> measure) {
        String given = null;
        T value = null;
        for (Measure.Ending<T> ending : measure.endings()) {
            String key = key(stem, ending.suffix());
            if (asked.add(key) && ending == measure.endings().getFirst()) {
                described.add(key);
            }
            JsonNode found = node.get(key);
            if (found == null) {
                continue;
            }
            if (given != null) {
                throw refused(key, "it is given as " + given + " too; keep one of the two");
            }
            BigDecimal number = finite(key, found).decimalValue();
            value = trying(key, () -> ending.maker().apply(number));
            refuseMistyped(key, found);
            given = key;
        }
        return Optional.ofNullable(value);
    }

    /**
     * What {@code maker} makes of values of this section; its {@link IllegalArgumentException} is
     * refused with place.
     */
    public <T> T made(Supplier<T> maker) {
        try {
            return maker.get();
        } catch (IllegalArgumentException refusal) {
            throw refused(refusal.getMessage());
        }
    }

    /** Refuses every key of this section and of those below it that nobody asked for. */
    public void finish() {
        for (Map.Entry<String, JsonNode> entry : node.properties()) {
            if (!asked.contains(entry.getKey())) {
                throw unknown(entry.getKey());
            }
        }
        for (Fields section : sections.values()) {
            section.finish();
        }
    }

    /** The refusal of this section as a whole: what is wrong and what to do, with its place. */
    public DocumentException refused(String sentence) {
        return new DocumentException(
                place(path) + (path.isEmpty() ? "" : written(path) + ": ") + sentence);
    }

    /** The refusal of a value: what is wrong and what to do, with its place. */
    public DocumentException refused(String key, String sentence) {
        JsonNode found = node.get(key);
        String value = found == null ? "" : " = " + shown(found);
        String at = places.at(under(key));
        String what = at.startsWith(Places.OPTION) ? at : at + ": " + written(under(key));
        return new DocumentException(what + value + ": " + sentence);
    }

    private <T> T trying(String key, Supplier<T> maker) {
        try {
            return maker.get();
        } catch (IllegalArgumentException refusal) {
            throw refused(key, refusal.getMessage());
        }
    }

    private JsonNode find(String key) {
        if (asked.add(key)) {
            described.add(key);
        }
        return node.get(key);
    }

    private JsonNode need(String key, String whatToDo) {
        JsonNode found = find(key);
        if (found == null) {
            throw missing(key, whatToDo);
        }
        return found;
    }

    private Fields child(String key, JsonNode found) {
        if (!found.isObject()) {
            throw new DocumentException(
                    place(under(key))
                            + written(under(key))
                            + " = "
                            + shown(found)
                            + ": it must be a section with keys of its own");
        }
        return sections.computeIfAbsent(key, k -> new Fields(found, under(k), places, typed));
    }

    private String textOf(String key, JsonNode found) {
        if (!found.isTextual() || found.textValue().isBlank()) {
            throw refused(key, "it must be a text that is not blank");
        }
        String text = found.textValue();
        if (text.length() > TEXT_LENGTH_MAX || text.chars().anyMatch(Character::isISOControl)) {
            throw refused(
                    key,
                    "it must be a text of at most "
                            + TEXT_LENGTH_MAX
                            + " characters, all printable");
        }
        return text;
    }

    private boolean flagOf(String key, JsonNode found) {
        if (!found.isBoolean()) {
            throw refused(key, "it must be true or false, without quotes");
        }
        return found.booleanValue();
    }

    private long wholeOf(String key, JsonNode found, long least, long most) {
        if (!found.isIntegralNumber()
                || !found.canConvertToLong()
                || found.longValue() < least
                || found.longValue() > most) {
            throw refused(
                    key,
                    most == Long.MAX_VALUE
                            ? "it must be a whole number of at least " + least
                            : "it must be a whole number from " + least + " to " + most);
        }
        return found.longValue();
    }

    private double numberOf(String key, JsonNode found, double least, double most) {
        double number = finite(key, found).doubleValue();
        if (number < least || number > most) {
            throw refused(key, "it must be " + range(least, most));
        }
        refuseMistyped(key, found);
        return number;
    }

    private JsonNode finite(String key, JsonNode found) {
        if (!found.isNumber()) {
            throw refused(key, "it must be a number, without quotes and without a unit");
        }
        if (!Double.isFinite(found.doubleValue())) {
            throw refused(key, "it must be a finite number");
        }
        return found;
    }

    /** After the bounds of a quantity's own, which say more. */
    private void refuseMistyped(String key, JsonNode found) {
        Optional<String> problem = typed ? Numeral.problem(found.decimalValue()) : Optional.empty();
        if (problem.isPresent()) {
            throw refused(key, problem.get());
        }
    }

    private DocumentException missing(String key, String whatToDo) {
        return missing(key, List.of(key), whatToDo);
    }

    /**
     * @param spellings every key that would do
     */
    private DocumentException missing(String key, List<String> spellings, String whatToDo) {
        String misspelt = "";
        for (Map.Entry<String, JsonNode> entry : node.properties()) {
            String given = entry.getKey();
            if (!asked.contains(given)
                    && given.length() <= TEXT_LENGTH_MAX
                    && spellings.stream().anyMatch(wanted -> near(given, wanted))) {
                misspelt = " (" + shownKey(given) + " may be meant)";
            }
        }
        return new DocumentException(
                place(under(key))
                        + written(under(key))
                        + " is missing"
                        + misspelt
                        + "; "
                        + whatToDo);
    }

    private static boolean near(String given, String wanted) {
        return wanted.startsWith(given + "_") || steps(given, wanted) <= wanted.length() / 5;
    }

    private DocumentException unknown(String key) {
        String nearest = nearest(key);
        return refused(
                key,
                (nearest == null
                                ? "unknown key; delete it, or use one of "
                                : "unknown key; did you mean " + nearest + "? The keys here are ")
                        + String.join(", ", described));
    }

    private String nearest(String key) {
        String best = null;
        int bestSteps = Math.min(4, key.length() / 3 + 1);
        for (String known : asked) {
            int steps = key.length() > TEXT_LENGTH_MAX ? Integer.MAX_VALUE : steps(key, known);
            if (steps < bestSteps) {
                best = known;
                bestSteps = steps;
            }
        }
        return best;
    }

    /**
     * Letters to add, drop or change to get from one word to the other (Levenshtein's distance).
     */
    private static int steps(String from, String to) {
        int[] row = new int[to.length() + 1];
        for (int j = 0; j <= to.length(); j++) {
            row[j] = j;
        }
        for (int i = 1; i <= from.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= to.length(); j++) {
                int change = diagonal + (from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.min(change, 1 + Math.min(row[j], row[j - 1]));
            }
        }
        return row[to.length()];
    }

    private String under(String key) {
        return path.isEmpty() ? key : path + "." + key;
    }

    private String place(String of) {
        return places.at(of) + ": ";
    }

    private String written(String path) {
        return shownKey(places.written(path));
    }

    private static String key(String stem, String suffix) {
        return stem.isEmpty() ? suffix : stem + "_" + suffix;
    }

    private static <T> List<String> spellings(String stem, Measure<T> measure) {
        return measure.endings().stream().map(ending -> key(stem, ending.suffix())).toList();
    }

    private static String otherUnits(List<String> spellings) {
        return spellings.size() == 1
                ? ""
                : ", or in another unit as "
                        + String.join(", ", spellings.subList(1, spellings.size()));
    }

    private static <E extends Enum<E>> E choiceOf(String word, Class<E> kind) {
        List<String> known = new ArrayList<>();
        for (E constant : kind.getEnumConstants()) {
            if (spelt(constant).equals(word)) {
                return constant;
            }
            known.add(spelt(constant));
        }
        throw new IllegalArgumentException("it must be one of " + String.join(", ", known));
    }

    private static String range(double least, double most) {
        String highest = Numeral.of(BigDecimal.valueOf(most).stripTrailingZeros());
        return least == Double.MIN_VALUE
                ? "above 0 and at most " + highest
                : "from "
                        + Numeral.of(BigDecimal.valueOf(least).stripTrailingZeros())
                        + " to "
                        + highest;
    }

    private static String shownKey(String key) {
        return key.length() <= TEXT_LENGTH_MAX && key.chars().noneMatch(Character::isISOControl)
                ? key
                : shown(JsonNodeFactory.instance.textNode(key));
    }

    /** A value as it is typed in settings. */
    private static String shown(JsonNode value) {
        String text = value.isFloatingPointNumber() ? shownNumber(value) : value.toString();
        return text.length() <= SHOWN_LENGTH_MAX ? text : text.substring(0, SHOWN_LENGTH_MAX) + "…";
    }

    private static String shownNumber(JsonNode value) {
        double number = value.doubleValue();
        if (Double.isNaN(number)) {
            return "nan";
        }
        if (Double.isInfinite(number)) {
            return number > 0 ? "inf" : "-inf";
        }
        return Numeral.of(value.decimalValue());
    }
}
