package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.Fields;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import org.tomlj.Toml;
import org.tomlj.TomlArray;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A TOML file that a person wrote, as a document whose refusals name their lines.
 *
 * @param name what the file is called
 * @param text all of it
 * @param document what stands in it
 * @param lines where each of its paths stands, from 1
 */
record TomlFile(String name, String text, ObjectNode document, Map<String, Integer> lines) {

    /** The largest file read. */
    private static final long BYTES_MAX = 1_000_000;

    /** The longest line that a refusal repeats. */
    private static final int LINE_LENGTH_MAX = 60;

    /**
     * Reads a file.
     *
     * @param what it is to be, as in {@code settings}
     * @param option by which another is named
     */
    static TomlFile read(Path file, String what, String option) {
        String text;
        try {
            if (Files.size(file) > BYTES_MAX) {
                throw new DocumentException(
                        file
                                + " is larger than "
                                + BYTES_MAX
                                + " bytes and so no "
                                + what
                                + " file; give the right one with "
                                + option);
            }
            text = Files.readString(file);
        } catch (CharacterCodingException e) {
            throw new DocumentException(file + " is no text in UTF-8; save it in that encoding");
        } catch (IOException e) {
            throw new DocumentException(
                    UnreadableFile.why(file, e) + "; give the " + what + " with " + option);
        }
        return of(file.getFileName().toString(), text);
    }

    static TomlFile of(String name, String toml) {
        TomlParseResult parsed = Toml.parse(toml);
        if (parsed.hasErrors()) {
            TomlParseError first = parsed.errors().getFirst();
            int line = first.position().line();
            throw new DocumentException(
                    name
                            + " line "
                            + line
                            + shown(toml.lines().skip(line - 1).findFirst())
                            + ": "
                            + first.getMessage().lines().findFirst().orElse("not TOML")
                            + "; correct this line");
        }
        Map<String, Integer> lines = new HashMap<>();
        return new TomlFile(name, toml, table(parsed, "", lines), lines);
    }

    /** A line that is no TOML, where it is short enough to be a mistyped key and value. */
    private static String shown(Optional<String> line) {
        return line.map(Words::printable)
                .map(String::strip)
                .filter(text -> !text.isEmpty() && text.length() <= LINE_LENGTH_MAX)
                .map(text -> " (" + text + ")")
                .orElse("");
    }

    /** Its fields. */
    Fields fields() {
        return Fields.of(document, this::place);
    }

    /** {@code bay.toml line 14}, of the value itself or of the nearest section that holds it. */
    String place(String path) {
        String at = path;
        while (!at.isEmpty()) {
            Integer line = lines.get(at);
            if (line != null) {
                return name + " line " + line;
            }
            at = at.substring(0, Math.max(0, Math.max(at.lastIndexOf('.'), at.lastIndexOf('['))));
        }
        return name;
    }

    /** A text, whole number or number as it stands in a document. */
    static JsonNode value(Object value) {
        return value(value, "", new HashMap<>());
    }

    private static ObjectNode table(TomlTable table, String path, Map<String, Integer> lines) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        for (String key : table.keySet()) {
            String at = path.isEmpty() ? key : path + "." + key;
            TomlPosition position = table.inputPositionOf(List.of(key));
            if (position != null) {
                lines.put(at, position.line());
            }
            node.set(key, value(table.get(List.of(key)), at, lines));
        }
        return node;
    }

    private static ArrayNode array(TomlArray array, String path, Map<String, Integer> lines) {
        ArrayNode node = JsonNodeFactory.instance.arrayNode();
        for (int i = 0; i < array.size(); i++) {
            String at = path + "[" + i + "]";
            lines.put(at, array.inputPositionOf(i).line());
            node.add(value(array.get(i), at, lines));
        }
        return node;
    }

    private static JsonNode value(Object value, String path, Map<String, Integer> lines) {
        JsonNodeFactory nodes = JsonNodeFactory.instance;
        return switch (value) {
            case TomlTable inner -> table(inner, path, lines);
            case TomlArray inner -> array(inner, path, lines);
            case String text -> nodes.textNode(text);
            case Long whole -> nodes.numberNode(whole);
            case Double number -> nodes.numberNode(number);
            case Boolean flag -> nodes.booleanNode(flag);
            // Dates and times: their text is what the documents hold.
            default -> nodes.textNode(String.valueOf(value));
        };
    }
}
