package catchbay.record;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.exc.StreamConstraintsException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.ObjectReader;

import java.io.IOException;

/** How this house reads and writes JSON: strictly, and bounded. */
final class Json {

    private static final int NESTING_MAX = 16;

    private static final int NUMBER_LENGTH_MAX = 64;

    private static final ObjectMapper MAPPER =
            new ObjectMapper(
                    JsonFactory.builder()
                            .streamReadConstraints(
                                    StreamReadConstraints.builder()
                                            .maxNestingDepth(NESTING_MAX)
                                            .maxNumberLength(NUMBER_LENGTH_MAX)
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
            throw new DocumentException(place + " is not JSON: " + why(unreadable));
        } catch (IOException unreadable) {
            throw new DocumentException(place + " is not UTF-8 text; save it as UTF-8");
        }
    }

    /** The reader's reasons are for programmers; a person needs the place and what to do. */
    private static String why(JsonProcessingException unreadable) {
        String reason = unreadable.getOriginalMessage();
        if (unreadable instanceof StreamConstraintsException) {
            return "it has a number of more than "
                    + NUMBER_LENGTH_MAX
                    + " digits, or more than "
                    + NESTING_MAX
                    + " braces within each other, as no such line has; correct it";
        }
        if (reason.startsWith("Non-standard token")) {
            return "it has NaN or Infinity where a number belongs; correct it";
        }
        if (reason.startsWith("Invalid UTF-8")) {
            return "it is not UTF-8 text; give another file, or save it as UTF-8";
        }
        if (reason.startsWith("Duplicate field")) {
            return "it has the key " + reason.substring(16) + " twice; delete one of them";
        }
        JsonLocation place = unreadable.getLocation();
        return "it cannot be read from column "
                + (place == null ? 1 : place.getColumnNr())
                + " on; correct it, one object a line";
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
