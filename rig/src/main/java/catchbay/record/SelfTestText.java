package catchbay.record;

import catchbay.metrology.Budget;
import catchbay.metrology.StartStopError;
import catchbay.metrology.WeightCheck.Answer;
import catchbay.quantity.Mass;
import catchbay.run.Outcome;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The lines of the file of a test of the bay by itself: what it is, each run that it took, and its
 * result, which says all that a later catch or a trend needs.
 */
public final class SelfTestText {

    /** 2: with what lay on the scale. Version 1 is read as well. */
    private static final int VERSION = 2;

    private static final String LOAD_BEGUN = "load_begun_kg";
    private static final String LOAD_ENDED = "load_ended_kg";
    private static final int DECIMALS = 6;

    private SelfTestText() {}

    /** In what a figure is told. */
    public enum Unit {
        /** Seconds. */
        SECONDS("s"),
        /** Kilograms an hour. */
        KG_PER_HOUR("kg/h"),
        /** Hundredths. */
        PERCENT("%"),
        /** Pulses of a meter. */
        PULSES("pulses");

        private final String symbol;

        Unit(String symbol) {
            this.symbol = symbol;
        }

        /** How a person reads it. */
        public String symbol() {
            return symbol;
        }
    }

    /**
     * What a test is.
     *
     * @param name by which its file is found
     * @param kind what was tried
     * @param origin whether any instrument was a stand-in
     * @param bay the bay's name
     * @param day the bay's calendar day
     * @param by who answers for it, where that was said
     * @param flowFrom where its liquid came from; empty where none was to flow
     */
    public record Head(
            String name,
            BayTest kind,
            TraceLine.Origin origin,
            String bay,
            LocalDate day,
            Optional<String> by,
            Optional<String> flowFrom) {}

    /**
     * What was found of an instrument: a check standard of its trend.
     *
     * @param of what it is, and where it matters how it is set
     * @param serial its serial number, where it has one
     * @param against the serial number of what it was held against, where it was
     * @param value what was found
     * @param expanded its expanded uncertainty, 95 %
     * @param limit what the value may be, to either side
     * @param answer what follows
     */
    public record Figure(
            String of,
            Optional<String> serial,
            Optional<String> against,
            Unit unit,
            double value,
            double expanded,
            double limit,
            Answer answer) {

        /** Of a result with its budget. */
        public static Figure of(
                String of,
                Optional<String> serial,
                Optional<String> against,
                Unit unit,
                Budget.Output found,
                double limit,
                Answer answer) {
            return new Figure(
                    of, serial, against, unit, found.value(), found.expanded(), limit, answer);
        }
    }

    /**
     * What lay on the scale while it was watched.
     *
     * @param begun what it showed at the beginning
     * @param ended what it showed at the end
     */
    public record Load(Mass begun, Mass ended) {}

    /**
     * A test that came to its end.
     *
     * @param head what it is
     * @param load what lay on the scale, of a test in which nothing flows
     * @param figures what was found, at least one
     * @param confirmedBy who made sure of the checklist
     * @param sentence what follows, in words
     */
    public record Done(
            Head head,
            Optional<Load> load,
            List<Figure> figures,
            Optional<String> confirmedBy,
            String sentence) {

        /** Of a test in which liquid flows. */
        public Done(
                Head head, List<Figure> figures, Optional<String> confirmedBy, String sentence) {
            this(head, Optional.empty(), figures, confirmedBy, sentence);
        }

        public Done {
            figures = List.copyOf(figures);
            if (figures.isEmpty()) {
                throw new IllegalArgumentException("a test that found nothing has no result");
            }
        }

        /** What all of it says: one figure that fails is enough. */
        public Answer answer() {
            List<Answer> answers = figures.stream().map(Figure::answer).toList();
            if (answers.contains(Answer.FAILS)) {
                return Answer.FAILS;
            }
            return answers.contains(Answer.CANNOT_TELL) ? Answer.CANNOT_TELL : Answer.PASSES;
        }
    }

    /** The first line. */
    public static String begun(Head head) {
        return text(head(head));
    }

    /**
     * Somebody has confirmed the cautions.
     *
     * @param speedBy who has confirmed that speed may be sent, where it is
     * @param cautions what was shown
     */
    public static String confirmed(String by, Optional<String> speedBy, List<String> cautions) {
        return text(ConfirmedLine.of(by, speedBy, cautions));
    }

    /**
     * A run of the test, as it ended.
     *
     * @param as what it was caught as, in words
     */
    public static String ran(String run, String as, Outcome outcome) {
        return text(
                JsonNodeFactory.instance
                        .objectNode()
                        .put("run", run)
                        .put("as", as)
                        .put("outcome", outcome.key())
                        .put("reason", outcome.reason()));
    }

    /** The last line of a test that was broken off. */
    public static String ended(String reason) {
        return text(JsonNodeFactory.instance.objectNode().put("ended", reason));
    }

    /** The result of a test. */
    public static String of(Done done) {
        return text(answered(result(done), done));
    }

    /** The result of a test of the timing. */
    public static String of(Done done, StartStopError timing) {
        ObjectNode json = result(done);
        ArrayNode rounds = json.putArray("rounds");
        for (StartStopError.Round round : timing.rounds()) {
            ObjectNode written = rounds.addObject();
            number(written, "ratio", round.ratio());
            number(written, "error_seconds", round.seconds());
            written.put("metered", round.metered());
        }
        return text(answered(json, done));
    }

    private static ObjectNode result(Done done) {
        ObjectNode json = head(done.head);
        done.confirmedBy.ifPresent(by -> json.put("confirmed_by", by));
        done.load.ifPresent(load -> {
            number(json, LOAD_BEGUN, load.begun.kilograms());
            number(json, LOAD_ENDED, load.ended.kilograms());
        });
        ArrayNode figures = json.putArray("figures");
        for (Figure figure : done.figures) {
            String unit = Fields.spelt(figure.unit).replace('-', '_');
            ObjectNode written = figures.addObject().put("of", figure.of);
            figure.serial.ifPresent(serial -> written.put("serial", serial));
            figure.against.ifPresent(serial -> written.put("against", serial));
            written.put("unit", Fields.spelt(figure.unit));
            number(written, "error_" + unit, figure.value);
            number(written, "error_expanded_" + unit, figure.expanded);
            number(written, "limit_" + unit, figure.limit);
            written.put("answer", Fields.spelt(figure.answer));
        }
        return json;
    }

    private static ObjectNode answered(ObjectNode json, Done done) {
        return json.put("sentence", done.sentence).put("answer", Fields.spelt(done.answer()));
    }

    /** What a file's last line says; empty where it is no result, as of a test broken off. */
    public static Optional<Done> read(String line) {
        byte[] bytes = line.getBytes(StandardCharsets.UTF_8);
        try {
            JsonNode json = Json.read(bytes, 0, bytes.length, "self-test");
            int version = json.path("catchbay_self_test").asInt();
            if (!json.has("answer") || version < 1 || version > VERSION) {
                return Optional.empty();
            }
            Fields fields = Fields.recorded(json, path -> "self-test");
            return Optional.of(
                    fields.made(() ->
                            new Done(
                                    head(fields),
                                    load(json, fields),
                                    figures(fields),
                                    fields.optionalText("confirmed_by"),
                                    fields.words("sentence"))));
        } catch (DocumentException brokenOff) {
            return Optional.empty();
        }
    }

    private static Head head(Fields from) {
        return new Head(
                from.text("test"),
                from.choice("kind", BayTest.class),
                from.named("origin", TraceLine.Origin::ofKey),
                from.text("bay"),
                from.date("day"),
                from.optionalText("by"),
                from.optionalText("flow_from"));
    }

    private static Optional<Load> load(JsonNode json, Fields from) {
        return json.has(LOAD_BEGUN)
                ? Optional.of(
                        new Load(
                                new Mass(finite(from, LOAD_BEGUN)),
                                new Mass(finite(from, LOAD_ENDED))))
                : Optional.empty();
    }

    private static List<Figure> figures(Fields from) {
        List<Figure> figures = new ArrayList<>();
        for (Fields one : from.sections("figures")) {
            Unit unit = one.choice("unit", Unit.class);
            String ending = Fields.spelt(unit).replace('-', '_');
            figures.add(
                    new Figure(
                            one.text("of"),
                            one.optionalText("serial"),
                            one.optionalText("against"),
                            unit,
                            finite(one, "error_" + ending),
                            finite(one, "error_expanded_" + ending),
                            finite(one, "limit_" + ending),
                            one.choice("answer", Answer.class)));
        }
        return figures;
    }

    private static double finite(Fields from, String key) {
        return from.number(key, -Double.MAX_VALUE, Double.MAX_VALUE);
    }

    private static ObjectNode head(Head head) {
        ObjectNode json =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("catchbay_self_test", VERSION)
                        .put("test", head.name)
                        .put("kind", head.kind.key())
                        .put("origin", head.origin.key())
                        .put("bay", head.bay)
                        .put("day", head.day.toString());
        head.by.ifPresent(by -> json.put("by", by));
        head.flowFrom.ifPresent(from -> json.put("flow_from", from));
        return json;
    }

    private static void number(ObjectNode to, String key, double value) {
        to.put(key, BigDecimal.valueOf(value).setScale(DECIMALS, RoundingMode.HALF_EVEN));
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
