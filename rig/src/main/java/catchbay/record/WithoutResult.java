package catchbay.record;

import com.fasterxml.jackson.databind.JsonNode;

import java.nio.charset.StandardCharsets;

/** Why a journal has no result. */
public sealed interface WithoutResult {

    /** The work was ended before its end, for a reason that was written down. */
    record BrokenOff(String reason) implements WithoutResult {}

    /** More was to come: the work is still under way, or its program was killed. */
    record CutOff() implements WithoutResult {}

    /** Its last line cannot be read. */
    record Damaged() implements WithoutResult {}

    /**
     * Of a journal whose last line is no result that could be read.
     *
     * @param lastLine blank where there is none: a journal that was begun has its first one
     * @param isWhole whether that line has its end
     * @param resultKey which only a result has: such a line should have been readable; {@code
     *     false} there beside a reason says that there is none
     */
    static WithoutResult of(String lastLine, boolean isWhole, String resultKey) {
        if (!isWhole || lastLine.isEmpty()) {
            return new Damaged();
        }
        byte[] bytes = lastLine.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode line = Json.read(bytes, 0, bytes.length, "journal");
            boolean ended = line.path("ended").isTextual();
            JsonNode result = line.path(resultKey);
            boolean denied = ended && result.isBoolean() && !result.booleanValue();
            if (!line.isObject() || !(result.isMissingNode() || denied)) {
                return new Damaged();
            }
            return ended ? new BrokenOff(line.get("ended").asText()) : new CutOff();
        } catch (DocumentException unreadable) {
            return new Damaged();
        }
    }
}
