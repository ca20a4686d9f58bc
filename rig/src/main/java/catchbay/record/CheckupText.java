package catchbay.record;

import catchbay.run.CheckItem;
import catchbay.run.CheckItem.Answer;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The lines of a checkup's file: what it is, each item as it was done, and all of them once more as
 * its result.
 */
public final class CheckupText {

    private static final int VERSION = 1;

    private CheckupText() {}

    /**
     * What a checkup is.
     *
     * @param name by which its file is found
     * @param origin whether any port was a stand-in
     * @param bay the bay's name
     * @param day the bay's calendar day
     * @param by who answers for it, where that was said
     * @param alone whether nobody was there to lend a hand
     */
    public record Head(
            String name,
            TraceLine.Origin origin,
            String bay,
            LocalDate day,
            Optional<String> by,
            boolean alone) {}

    /**
     * A checkup that was closed.
     *
     * @param head what it is
     * @param items what it looked at
     * @param confirmedBy who made sure of the cautions before anything moved; empty where nothing
     *     did
     * @param ended why it was over before its end; empty where it was not
     */
    public record Done(
            Head head,
            List<CheckItem> items,
            Optional<String> confirmedBy,
            Optional<String> ended) {
        public Done {
            items = List.copyOf(items);
        }

        /** How many items came out so. */
        public long count(Answer answer) {
            return items.stream().filter(item -> item.answer() == answer).count();
        }

        /** Whether nothing failed and it came to its end. */
        public boolean passed() {
            return ended.isEmpty() && count(Answer.FAILED) == 0;
        }
    }

    /** The first line. */
    public static String begun(Head head) {
        return text(head(head));
    }

    /** An item that was done. */
    public static String item(CheckItem item) {
        return text(write(JsonNodeFactory.instance.objectNode(), item));
    }

    /** The last line. */
    public static String of(Done done) {
        ObjectNode json = head(done.head);
        done.confirmedBy.ifPresent(by -> json.put("confirmed_by", by));
        ArrayNode items = json.putArray("items");
        done.items.forEach(item -> write(items.addObject(), item));
        done.ended.ifPresent(reason -> json.put("ended", reason));
        return text(json.put("passed", done.passed()));
    }

    /** What a file's last line says; empty where it is no result, as of a checkup cut off. */
    public static Optional<Done> read(String line) {
        byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode json = Json.read(bytes, 0, bytes.length, "checkup");
            if (!json.has("items") || json.path("catchbay_checkup").asInt() != VERSION) {
                return Optional.empty();
            }
            Fields fields = Fields.recorded(json, path -> "checkup");
            return Optional.of(
                    new Done(
                            new Head(
                                    fields.text("checkup"),
                                    fields.named("origin", TraceLine.Origin::ofKey),
                                    fields.text("bay"),
                                    fields.date("day"),
                                    fields.optionalText("by"),
                                    fields.flag("alone", false)),
                            items(json.get("items")),
                            fields.optionalText("confirmed_by"),
                            sentence(json, "ended")));
        } catch (DocumentException cutOff) {
            return Optional.empty();
        }
    }

    private static List<CheckItem> items(JsonNode array) {
        List<CheckItem> items = new ArrayList<>();
        for (JsonNode item : array) {
            Fields fields = Fields.recorded(item, path -> "checkup");
            Answer answer = fields.choice("answer", Answer.class);
            String seen = sentence(item, "seen").orElse("");
            Optional<String> mend = sentence(item, "mend");
            items.add(fields.made(() -> new CheckItem(fields.text("item"), answer, seen, mend)));
        }
        return items;
    }

    /** What a port or a setup says may be longer than what a person enters. */
    private static Optional<String> sentence(JsonNode from, String key) {
        return Optional.ofNullable(from.get(key)).map(JsonNode::asText);
    }

    private static ObjectNode write(ObjectNode json, CheckItem item) {
        json.put("item", item.name())
                .put("answer", Fields.spelt(item.answer()))
                .put("seen", item.seen());
        item.mend().ifPresent(mend -> json.put("mend", mend));
        return json;
    }

    private static ObjectNode head(Head head) {
        ObjectNode json =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("catchbay_checkup", VERSION)
                        .put("checkup", head.name)
                        .put("origin", head.origin.key())
                        .put("bay", head.bay)
                        .put("day", head.day.toString());
        head.by.ifPresent(by -> json.put("by", by));
        return json.put("alone", head.alone);
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
