package catchbay.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.List;
import java.util.Optional;

/** The line by which a journal tells that a person has confirmed cautions. */
final class ConfirmedLine {

    private ConfirmedLine() {}

    /**
     * The line.
     *
     * @param by who has confirmed them
     * @param speedBy who has confirmed that speed may be sent, where it is
     * @param cautions what was shown
     */
    static ObjectNode of(String by, Optional<String> speedBy, List<String> cautions) {
        ObjectNode line = JsonNodeFactory.instance.objectNode().put("confirmed", by);
        speedBy.ifPresent(who -> line.put("speed_confirmed", who));
        ArrayNode said = line.putArray("cautions");
        cautions.forEach(said::add);
        return line;
    }
}
