package catchbay.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.charset.StandardCharsets;
import java.util.List;

/** What a list of results says of the work that has none. */
public final class JournalText {

    /**
     * One that has no result.
     *
     * @param name by which it was begun
     * @param reason why, in words
     */
    public record LeftOut(String name, String reason) {}

    private JournalText() {}

    /** All of them as one object in a line: {@code without_result}, a list. */
    public static String of(List<LeftOut> leftOut) {
        ObjectNode line = JsonNodeFactory.instance.objectNode();
        ArrayNode list = line.putArray("without_result");
        leftOut.forEach(
                one -> list.addObject().put("name", one.name()).put("reason", one.reason()));
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
