package catchbay.record;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;
import catchbay.run.HuntEnd;
import catchbay.run.HuntReading;
import catchbay.run.HuntResult;
import catchbay.run.HuntSetup;
import catchbay.run.MeasuredFlow;
import catchbay.run.RangeEnd;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The lines of the file of a hunt for an end of a truck's range: what it is, who has confirmed its
 * cautions, each step, and what it came to. See {@code src/docs/record-format.md}.
 */
public final class HuntText {

    private static final int VERSION = 1;
    private static final MathContext DIGITS = new MathContext(6);
    private static final String NAME = "hunt";
    private static final String FOUND = "found";
    private static final String REASON = "reason";
    private static final String ENDED = "ended";
    private static final String SILENT = "silent";
    private static final String COUNTING = "counting";
    private static final String DROP_OUT = "drop_out";
    private static final String FOLLOWED = "followed";
    private static final String BEYOND = "beyond";
    private static final String GIVEN = "given";
    private static final String ASKED = "asked";

    private HuntText() {}

    /**
     * What a hunt is.
     *
     * @param name by which its file is found
     * @param end which end was looked for
     * @param origin whether any port was a stand-in
     * @param bay the bay's name
     * @param asset the truck
     * @param day the bay's calendar day
     * @param by who answers for it, where that was said
     */
    public record Head(
            String name,
            RangeEnd end,
            TraceLine.Origin origin,
            String bay,
            String asset,
            LocalDate day,
            Optional<String> by) {}

    /**
     * A hunt that was closed.
     *
     * @param head what it is
     * @param end what it came to
     * @param readings its steps
     */
    public record Done(Head head, HuntEnd end, List<HuntReading> readings) {
        public Done {
            readings = List.copyOf(readings);
        }
    }

    /**
     * A hunt that came to its end, as its file tells.
     *
     * @param head what it is
     * @param result what it found, or that it found nothing
     */
    public record Kept(Head head, HuntResult result) {}

    /** The first line. */
    public static String begun(Head head, HuntSetup setup) {
        ObjectNode line = head(head);
        flow(line, "from", setup.from());
        flow(line, "to", setup.to());
        line.put("lowering", setup.lowering())
                .put("constant", setup.bay().truck().constant().value());
        return text(line);
    }

    /**
     * Somebody has confirmed the cautions.
     *
     * @param speedBy who has confirmed that speed may be sent, where it is
     * @param cautions what was to be seen to
     */
    public static String confirmed(String by, Optional<String> speedBy, List<String> cautions) {
        return text(ConfirmedLine.of(by, speedBy, cautions));
    }

    /** A step. */
    public static String step(HuntReading reading) {
        return text(node(reading));
    }

    /** The last line: the result. */
    public static String of(Done done) {
        ObjectNode line = head(done.head);
        ArrayNode steps = line.putArray("steps");
        done.readings.forEach(reading -> steps.add(node(reading)));
        switch (done.end) {
            case HuntEnd.Reached(HuntResult result) -> result(line, result);
            case HuntEnd.BrokenOff(String reason) -> line.put(FOUND, false).put(ENDED, reason);
            case HuntEnd.NotBegun(String reason) -> {
                // Nothing is kept under its name.
                line.remove(NAME);
                line.put(FOUND, false).put(ENDED, reason);
            }
        }
        return text(line);
    }

    private static void result(ObjectNode line, HuntResult result) {
        switch (result) {
            case HuntResult.LowEnd low -> {
                line.put(FOUND, true);
                low.silent().ifPresent(flow -> measured(line, SILENT, flow));
                measured(line, COUNTING, low.counting());
                flow(line, "least", low.least());
                flow(line, "most", low.most());
                low.dropOut()
                        .ifPresent(out -> {
                            ObjectNode down = line.putObject(DROP_OUT);
                            measured(down, COUNTING, out.counting());
                            out.silent().ifPresent(flow -> measured(down, SILENT, flow));
                        });
            }
            case HuntResult.HighEnd high -> {
                line.put(FOUND, true);
                measured(line, FOLLOWED, high.followed());
                flow(line, ASKED, high.asked());
                high.beyond()
                        .ifPresent(beyond -> {
                            ObjectNode more = line.putObject(BEYOND);
                            flow(more, ASKED, beyond.asked());
                            beyond.given().ifPresent(flow -> measured(more, GIVEN, flow));
                        });
            }
            case HuntResult.NotFound(String reason) -> line.put(FOUND, false).put(REASON, reason);
        }
    }

    private static ObjectNode node(HuntReading reading) {
        ObjectNode line =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("step", reading.number())
                        .put("rising", reading.rising());
        flow(line, ASKED, reading.asked());
        reading.flow().ifPresent(flow -> measured(line, "flow", flow));
        line.put("answer", Fields.spelt(reading.answer()));
        reading.meter()
                .ifPresent(train -> {
                    line.put("meter_pulses", train.pulses());
                    number(line, "meter_pulses_due", train.due());
                    number(line, "longest_silence_seconds", train.silenceNanos() / 1e9);
                });
        number(line, "window_seconds", reading.windowNanos() / 1e9);
        reading.coupler().ifPresent(most -> number(line, "coupler_most_psi", most.psi()));
        reading.note().ifPresent(note -> line.put("note", note));
        return line;
    }

    /** What a file's last line says; empty where it is no result, as of a hunt broken off. */
    public static Optional<Kept> read(String line) {
        byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode json = Json.read(bytes, 0, bytes.length, "hunt");
            if (!json.has(FOUND)
                    || json.has(ENDED)
                    || json.path("catchbay_hunt").asInt() != VERSION) {
                return Optional.empty();
            }
            Fields fields = Fields.recorded(json, path -> "hunt");
            Head head = head(fields);
            return Optional.of(new Kept(head, result(json, fields, head.end)));
        } catch (DocumentException unreadable) {
            return Optional.empty();
        }
    }

    private static HuntResult result(JsonNode json, Fields fields, RangeEnd end) {
        if (!json.path(FOUND).asBoolean()) {
            return new HuntResult.NotFound(fields.text(REASON));
        }
        return switch (end) {
            case LOW -> low(fields);
            case HIGH -> high(fields);
        };
    }

    /** What a file's first line says of its hunt; empty where that cannot be read. */
    public static Optional<Head> readHead(String line) {
        byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
        try {
            return Optional.of(
                    head(
                            Fields.recorded(
                                    Json.read(bytes, 0, bytes.length, "hunt"), path -> "hunt")));
        } catch (DocumentException unreadable) {
            return Optional.empty();
        }
    }

    private static Head head(Fields fields) {
        return new Head(
                fields.text(NAME),
                fields.named("end", HuntText::end),
                fields.named("origin", TraceLine.Origin::ofKey),
                fields.text("bay"),
                fields.text("asset"),
                fields.date("day"),
                fields.optionalText("by"));
    }

    private static RangeEnd end(String key) {
        return Arrays.stream(RangeEnd.values())
                .filter(end -> end.key().equals(key))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("it must be low or high"));
    }

    private static HuntResult low(Fields from) {
        return new HuntResult.LowEnd(
                from.optionalSection(SILENT).map(HuntText::measured),
                measured(from.section(COUNTING)),
                from.optionalSection(DROP_OUT)
                        .map(out ->
                                new HuntResult.DropOut(
                                        measured(out.section(COUNTING)),
                                        out.optionalSection(SILENT).map(HuntText::measured))));
    }

    private static HuntResult high(Fields from) {
        return new HuntResult.HighEnd(
                measured(from.section(FOLLOWED)),
                from.quantity(ASKED, Measure.FLOW),
                from.optionalSection(BEYOND)
                        .map(more ->
                                new HuntResult.Beyond(
                                        more.quantity(ASKED, Measure.FLOW),
                                        more.optionalSection(GIVEN).map(HuntText::measured))));
    }

    private static MeasuredFlow measured(Fields from) {
        return new MeasuredFlow(
                from.quantity("", Measure.FLOW), from.quantity("expanded", Measure.RATIO));
    }

    private static void measured(ObjectNode to, String key, MeasuredFlow flow) {
        ObjectNode node = to.putObject(key);
        flow(node, "", flow.rate());
        Ratio expanded = flow.expanded();
        number(node, "expanded_percent", expanded.percent());
    }

    private static void flow(ObjectNode to, String stem, FlowRate flow) {
        number(
                to,
                stem.isEmpty() ? "us_gal_per_min" : stem + "_us_gal_per_min",
                flow.perMinute(VolumeUnit.US_GALLON));
    }

    private static void number(ObjectNode to, String key, double number) {
        to.put(key, new BigDecimal(number).round(DIGITS));
    }

    private static ObjectNode head(Head head) {
        ObjectNode json =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("catchbay_hunt", VERSION)
                        .put(NAME, head.name)
                        .put("end", head.end.key())
                        .put("origin", head.origin.key())
                        .put("bay", head.bay)
                        .put("asset", head.asset)
                        .put("day", head.day.toString());
        head.by.ifPresent(by -> json.put("by", by));
        return json;
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
