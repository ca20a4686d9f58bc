package catchbay.record;

import catchbay.metrology.ShuntTest;
import catchbay.metrology.WeightCheck;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.quantity.Mass;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Optional;

/**
 * The lines of a scale test's file: what it is, each reading as it was taken, and its result, which
 * says all that a later catch or a trend needs.
 */
public final class ScaleTestText {

    private static final int VERSION = 1;
    private static final int DECIMALS = 6;

    private ScaleTestText() {}

    /** What was tried. */
    public enum Kind {
        /** The scale against check weights. */
        WEIGHTS,
        /** What the hose carries of the tank. */
        SHUNT
    }

    /**
     * What a test is.
     *
     * @param name by which its file is found
     * @param kind what was tried
     * @param origin whether any instrument was a stand-in
     * @param bay the bay's name
     * @param scale the scale's serial number
     * @param day the bay's calendar day
     * @param by who answers for it, where that was said
     */
    public record Head(
            String name,
            Kind kind,
            TraceLine.Origin origin,
            String bay,
            String scale,
            LocalDate day,
            Optional<String> by) {}

    /**
     * A test that came to its end.
     *
     * @param head what it is
     * @param answer what it says of the scale
     * @param figure of a check with weights: the heaviest load; of a shunt test: what a catch has
     *     to allow for the hose
     */
    public record Done(Head head, Answer answer, Mass figure) {}

    /** The first line. */
    public static String begun(Head head) {
        return text(head(head));
    }

    /**
     * A reading at rest.
     *
     * @param of what stood on the scale, in words
     */
    public static String reading(String of, Mass shown) {
        ObjectNode line = JsonNodeFactory.instance.objectNode().put("load", of);
        kilograms(line, "shown_kg", shown.kilograms());
        return text(line);
    }

    /** The last line of a test that was broken off. */
    public static String ended(String reason) {
        return text(JsonNodeFactory.instance.objectNode().put("ended", reason));
    }

    /** The result of a check with weights. */
    public static String of(Head head, WeightCheck check) {
        ObjectNode json = head(head);
        ArrayNode points = json.putArray("points");
        for (WeightCheck.Point point : check.points()) {
            ObjectNode written = points.addObject().put("load", point.load().name());
            kilograms(written, "mass_kg", point.load().mass().kilograms());
            kilograms(written, "due_kg", point.due().kilograms());
            kilograms(written, "shown_kg", point.shown().kilograms());
            kilograms(written, "error_kg", point.error().value());
            kilograms(written, "error_expanded_kg", point.error().expanded());
            kilograms(written, "limit_kg", point.limit().kilograms());
            written.put("answer", Fields.spelt(point.answer()));
        }
        check.hysteresis().ifPresent(more -> kilograms(json, "hysteresis_kg", more.kilograms()));
        kilograms(json, "heaviest_kg", check.heaviest().kilograms());
        kilograms(json, "zero_return_kg", check.zeroReturn().kilograms());
        kilograms(json, "zero_limit_kg", check.zeroLimit().kilograms());
        return text(json.put("answer", Fields.spelt(check.answer())));
    }

    /** The result of a shunt test. */
    public static String of(Head head, ShuntTest test) {
        ObjectNode json = head(head);
        kilograms(json, "difference_kg", test.difference().value());
        kilograms(json, "difference_expanded_kg", test.difference().expanded());
        kilograms(json, "half_width_kg", test.halfWidth().kilograms());
        kilograms(json, "limit_kg", test.limit().kilograms());
        return text(json.put("answer", Fields.spelt(test.answer())));
    }

    /** What a file's last line says; empty where it is no result, as of a test broken off. */
    public static Optional<Done> read(String line) {
        byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode json = Json.read(bytes, 0, bytes.length, "scale test");
            if (!json.has("answer") || json.path("catchbay_scale_test").asInt() != VERSION) {
                return Optional.empty();
            }
            Fields fields = Fields.recorded(json, path -> "scale test");
            Kind kind = fields.choice("kind", Kind.class);
            return Optional.of(
                    new Done(
                            new Head(
                                    fields.text("test"),
                                    kind,
                                    fields.named("origin", TraceLine.Origin::ofKey),
                                    fields.text("bay"),
                                    fields.text("scale"),
                                    fields.date("day"),
                                    fields.optionalText("by")),
                            fields.choice("answer", Answer.class),
                            switch (kind) {
                                case WEIGHTS -> fields.quantity("heaviest", DoubtsText.MASS);
                                case SHUNT -> fields.quantity("half_width", DoubtsText.MASS);
                            }));
        } catch (DocumentException brokenOff) {
            return Optional.empty();
        }
    }

    private static ObjectNode head(Head head) {
        ObjectNode json =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("catchbay_scale_test", VERSION)
                        .put("test", head.name)
                        .put("kind", Fields.spelt(head.kind))
                        .put("origin", head.origin.key())
                        .put("bay", head.bay)
                        .put("scale", head.scale)
                        .put("day", head.day.toString());
        head.by.ifPresent(by -> json.put("by", by));
        return json;
    }

    private static void kilograms(ObjectNode to, String key, double kilograms) {
        to.put(key, BigDecimal.valueOf(kilograms).setScale(DECIMALS, RoundingMode.HALF_EVEN));
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
