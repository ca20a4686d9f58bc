package catchbay.record;

import catchbay.metrology.WeightCheck.Answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which tests of a bay are due, as one JSON object. It is printed, and kept nowhere. */
public final class DueText {

    private static final int VERSION = 1;

    private DueText() {}

    /**
     * A test that came to a result.
     *
     * @param name by which its file is found
     * @param day the bay's calendar day
     * @param answer what it said
     */
    public record Last(String name, LocalDate day, Answer answer) {}

    /**
     * How it stands with one test.
     *
     * @param test which
     * @param everyDays how many days may pass between two of it; 0 = it is not scheduled
     * @param last the latest that told something
     * @param dueUntil the last day on which it need not be done; empty where it is not scheduled,
     *     or was never done
     * @param behind what is behind, as a sentence's part; empty where nothing is
     */
    public record Told(
            BayTest test,
            int everyDays,
            Optional<Last> last,
            Optional<LocalDate> dueUntil,
            Optional<String> behind) {}

    /**
     * All of it.
     *
     * @param bay the bay's name
     * @param day the bay's calendar day on which it is so
     * @param origin only tests of this origin count
     * @param lacking which tests the bay cannot do, and what it lacks for them
     */
    public static String of(
            String bay,
            LocalDate day,
            TraceLine.Origin origin,
            List<Told> tests,
            Map<BayTest, String> lacking) {
        ObjectNode json =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("catchbay_due", VERSION)
                        .put("origin", origin.key())
                        .put("bay", bay)
                        .put("day", day.toString());
        ArrayNode list = json.putArray("tests");
        tests.forEach(test -> write(list.addObject(), test));
        ArrayNode without = json.putArray("cannot");
        lacking.forEach(
                (test, what) -> without.addObject().put("kind", test.key()).put("lacking", what));
        return new String(Json.write(json), StandardCharsets.UTF_8);
    }

    private static void write(ObjectNode to, Told told) {
        to.put("kind", told.test.key()).put("every_days", told.everyDays);
        told.last.ifPresent(last ->
                to.putObject("last")
                        .put("test", last.name)
                        .put("day", last.day.toString())
                        .put("answer", Fields.spelt(last.answer)));
        told.dueUntil.ifPresent(until -> to.put("due_until", until.toString()));
        told.behind.ifPresent(what -> to.put("behind", what));
    }
}
