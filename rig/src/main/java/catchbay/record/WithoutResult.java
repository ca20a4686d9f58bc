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
     * @param lastLine blank where there is no line yet
     * @param isWhole whether that line has its end
     * @param resultKey which only a result has: such a line should have been readable
     */
    static WithoutResult of(String lastLine, boolean isWhole, String resultKey) {
        if (!isWhole) {
            return new Damaged();
        }
        if (lastLine.isEmpty()) {
            return new CutOff();
        }
        byte[] bytes = lastLine.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode line = Json.read(bytes, 0, bytes.length, "journal");
            if (!line.isObject() || line.has(resultKey)) {
                return new Damaged();
            }
            return line.path("ended").isTextual()
                    ? new BrokenOff(line.get("ended").asText())
                    : new CutOff();
        } catch (DocumentException unreadable) {
            return new Damaged();
        }
    }
}
