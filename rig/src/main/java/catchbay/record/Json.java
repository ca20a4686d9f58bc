package catchbay.record;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.ObjectReader;

import java.io.IOException;

/** How this house reads and writes JSON: strictly, and bounded. */
final class Json {

    private static final ObjectMapper MAPPER =
            new ObjectMapper(
                    JsonFactory.builder()
                            .streamReadConstraints(
                                    StreamReadConstraints.builder()
                                            .maxNestingDepth(16)
                                            .maxNumberLength(64)
                                            .build())
                            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                            .build());

    private static final ObjectReader READER =
            MAPPER.readerFor(JsonNode.class).with(DeserializationFeature.FAIL_ON_TRAILING_TOKENS);

    private Json() {}

    /**
     * The one JSON value in these bytes.
     *
     * @throws DocumentException when there is none, or more than one, with the place in front
     */
    static JsonNode read(byte[] bytes, int from, int length, String place) {
        if (isBlank(bytes, from, length)) {
            throw new DocumentException(place + " is empty; delete it");
        }
        try {
            return READER.readValue(bytes, from, length);
        } catch (JsonProcessingException unreadable) {
            throw new DocumentException(
                    place + " is not JSON: " + why(unreadable) + "; correct it, one object a line");
        } catch (IOException unreadable) {
            throw new DocumentException(place + " is not UTF-8 text; save it as UTF-8");
        }
    }

    /** The reader's reason without its hints for programmers. */
    private static String why(JsonProcessingException unreadable) {
        String reason = unreadable.getOriginalMessage().lines().findFirst().orElse("");
        int hint = reason.indexOf(": enable");
        return hint < 0 ? reason : reason.substring(0, hint);
    }

    private static boolean isBlank(byte[] bytes, int from, int length) {
        for (int i = from; i < from + length; i++) {
            if (bytes[i] != ' ' && bytes[i] != '\t' && bytes[i] != '\r') {
                return false;
            }
        }
        return true;
    }

    /** The value as one line of text, without its end. */
    static byte[] write(JsonNode node) {
        try {
            return MAPPER.writeValueAsBytes(node);
        } catch (JsonProcessingException impossible) {
            throw new AssertionError("a tree of plain values can always be written", impossible);
        }
    }
}
