package catchbay.record;

import catchbay.metrology.LiquidDensity;
import catchbay.metrology.TruckConstant;
import catchbay.plan.Given;
import catchbay.plan.LegProgress;
import catchbay.plan.SweepAdvice;
import catchbay.plan.SweepEvent;
import catchbay.plan.SweepResult;
import catchbay.run.Judgement;
import catchbay.run.RunSetup;
import catchbay.run.Series;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/**
 * A sweep as text: a file of lines, each one JSON object, in which its plan, whatever happened and
 * its result stand. See {@code src/docs/record-format.md}.
 */
public final class SweepText {

    private static final ObjectMapper MAPPER = new ObjectMapper();
    private static final String PLAN = "plan";
    private static final String SWEEP = "sweep";
    private static final String CATCH = "catch";
    private static final String CONSTANT = "constant";
    private static final String CONTINUED = "continued_lines";
    private static final String CONTINUES = "continues";
    private static final String ENTERED = "entered";
    private static final String LOST = "lost";
    private static final String MEASURED = "measured";
    private static final String ORIGIN = "origin";
    private static final String RAN = "ran";
    private static final String RECORDS = "records";
    private static final String RESUMED = "resumed";
    private static final String TANK_EMPTIED = "tank_emptied";
    private static final String WALL = "wall";

    /**
     * A sweep's file, read again.
     *
     * @param sweep its name
     * @param asset its truck
     * @param plan its plan as it was written, TOML
     * @param begun when and with what; empty in a file that does not say
     * @param continues what it goes on with
     * @param entered the constant that was entered; empty where none was, or it is not said when
     * @param beganToCatch whether any catch was begun
     * @param measured the catches that have ended with a result, by their runs' names; without
     *     those that were found to be lost when it was last gone on with
     * @param done whether it has a result that stands
     * @param closed how it stands; empty where it was cut off before it came to any result
     * @param lines its lines of what happened, whole ones only
     */
    public record Kept(
            String sweep,
            String asset,
            String plan,
            Optional<Begun> begun,
            Optional<Continues> continues,
            Optional<Entered> entered,
            boolean beganToCatch,
            Set<String> measured,
            boolean done,
            Optional<Closed> closed,
            List<String> lines) {
        public Kept {
            measured = Set.copyOf(measured);
            lines = List.copyOf(lines);
        }

        /** Whether all of the file that it goes on with stands in it. */
        public boolean isWhole() {
            return continues.map(earlier -> lines.size() > earlier.lines()).orElse(true);
        }
    }

    /**
     * How a sweep began.
     *
     * @param wall when, by the calendar
     * @param records how many runs of the bay were on record: what began or happened later has
     *     more, whatever the clock said
     * @param origin whether real instruments took part only
     * @param constant of the truck as it came in
     */
    public record Begun(Instant wall, long records, TraceLine.Origin origin, double constant) {}

    /**
     * The file that a file goes on with.
     *
     * @param file its name
     * @param lines of what happened, which stand in this one too, and then that it was resumed
     */
    public record Continues(String file, int lines) {}

    /**
     * The constant that was entered.
     *
     * @param wall when, by the calendar
     * @param records how many runs of the bay were on record
     */
    public record Entered(Instant wall, long records, double constant) {}

    /**
     * How a sweep stands by its file's last result.
     *
     * @param closing in words, as in {@code not-verified}
     * @param line the result, as it was written
     */
    public record Closed(String day, String closing, String line) {}

    /** How catches ended, by their own traces. */
    public interface Traces {
        /** The catch with this name, of this leg, before which the tank was emptied or not. */
        SweepEvent.Caught caught(int leg, boolean emptied, String run);
    }

    private SweepText() {}

    /**
     * The first line.
     *
     * @param begun when and with what
     * @param plan as it was written, TOML
     * @param continues what this one goes on with
     */
    public static String begun(
            String sweep, RunSetup setup, Begun begun, String plan, Optional<Continues> continues) {
        ObjectNode line = JsonNodeFactory.instance.objectNode();
        line.put("catchbay_sweep", 1)
                .put(SWEEP, sweep)
                .put("bay", setup.bay())
                .put("asset", setup.truck().asset())
                .put(WALL, begun.wall().toString())
                .put(RECORDS, begun.records())
                .put(ORIGIN, begun.origin().key())
                .put(CONSTANT, begun.constant())
                .put(PLAN, plan);
        continues.ifPresent(
                earlier -> line.put(CONTINUES, earlier.file()).put(CONTINUED, earlier.lines()));
        return text(line);
    }

    /**
     * The checklist was confirmed.
     *
     * @param cautions what was to be seen to
     */
    public static String confirmed(SweepEvent.Confirmed event, List<String> cautions) {
        return text(ConfirmedLine.of(event.by(), event.speedBy(), cautions));
    }

    /** A catch is about to begin; how it ends stands in its own trace. */
    public static String catching(int leg, boolean emptied, String run) {
        return text(
                JsonNodeFactory.instance
                        .objectNode()
                        .put(CATCH, leg)
                        .put("emptied", emptied)
                        .put("run", run));
    }

    /** How a catch ended, for a person who reads the file. */
    public static String ran(Series.Run run) {
        return text(
                JsonNodeFactory.instance
                        .objectNode()
                        .put(RAN, run.name())
                        .put("outcome", run.outcome().key()));
    }

    /** The catch tank was emptied by hand. */
    public static String emptied(String by) {
        return text(JsonNodeFactory.instance.objectNode().put(TANK_EMPTIED, by));
    }

    /** The truck was filled up. */
    public static String refilled(String by) {
        return text(JsonNodeFactory.instance.objectNode().put("refilled", by));
    }

    /** A new constant was entered. */
    public static String entered(String by, Entered what) {
        return text(
                JsonNodeFactory.instance
                        .objectNode()
                        .put(ENTERED, by)
                        .put(CONSTANT, what.constant())
                        .put(WALL, what.wall().toString())
                        .put(RECORDS, what.records()));
    }

    /** The program has begun anew. */
    public static String resumed() {
        return text(JsonNodeFactory.instance.objectNode().put(RESUMED, true));
    }

    /**
     * A catch that had ended with a result is lost: nothing on the medium tells of it any more.
     *
     * @param why as a sentence
     */
    public static String lost(String run, String why) {
        return text(JsonNodeFactory.instance.objectNode().put(LOST, run).put("why", why));
    }

    /**
     * Reads a sweep's file.
     *
     * @param lines at least one of them; a last one that was cut off is left out
     * @param asked of which trucks; beyond its first line no other's file is looked at
     * @return empty when it is of a truck that is not asked for
     * @throws DocumentException when a line is not as it was written
     */
    public static Optional<Kept> kept(List<String> lines, Predicate<String> asked) {
        JsonNode first =
                node(lines.getFirst())
                        .filter(line -> line.has("catchbay_sweep") && line.path(PLAN).isTextual())
                        .orElseThrow(() -> damaged(lines.getFirst()));
        return asked.test(first.path("asset").asText())
                ? Optional.of(kept(first, lines.subList(1, lines.size())))
                : Optional.empty();
    }

    private static DocumentException damaged(String line) {
        return new DocumentException("no line of a sweep's file: " + line);
    }

    private static Kept kept(JsonNode first, List<String> lines) {
        List<String> happened = new ArrayList<>();
        Optional<Entered> entered = Optional.empty();
        boolean beganToCatch = false;
        Set<String> measured = new HashSet<>();
        Set<String> lost = new HashSet<>();
        boolean done = false;
        Optional<Closed> closed = Optional.empty();
        for (String line : lines) {
            JsonNode read = node(line).orElseThrow(() -> damaged(line));
            closed = closed(read, line);
            if (closed.isPresent()) {
                done = !read.path("resumable").asBoolean();
            } else {
                Optional<Entered> before = entered;
                happened.add(line);
                entered = entered(read).or(() -> before);
                beganToCatch |= read.has(CATCH);
                if (read.path("outcome").asText().equals(MEASURED)) {
                    measured.add(read.path(RAN).asText());
                } else if (read.has(LOST)) {
                    lost.add(read.path(LOST).asText());
                } else if (read.has(RESUMED)) {
                    // What was lost may have been restored since: it was looked for anew.
                    lost.clear();
                }
            }
        }
        measured.removeAll(lost);
        return new Kept(
                first.path(SWEEP).asText(),
                first.path("asset").asText(),
                first.path(PLAN).asText(),
                begun(first),
                Optional.of(first.path(CONTINUES))
                        .filter(JsonNode::isTextual)
                        .map(file -> new Continues(file.asText(), first.path(CONTINUED).asInt())),
                entered,
                beganToCatch,
                measured,
                done,
                closed,
                happened);
    }

    private static Optional<Begun> begun(JsonNode first) {
        return wall(first)
                .flatMap(wall ->
                        TraceLine.Origin.known(first.path(ORIGIN).asText())
                                .map(origin ->
                                        new Begun(
                                                wall,
                                                first.path(RECORDS).asLong(),
                                                origin,
                                                first.path(CONSTANT).asDouble())));
    }

    private static Optional<Entered> entered(JsonNode line) {
        return line.has(ENTERED)
                ? wall(line)
                        .map(wall ->
                                new Entered(
                                        wall,
                                        line.path(RECORDS).asLong(),
                                        line.path(CONSTANT).asDouble()))
                : Optional.empty();
    }

    private static Optional<Closed> closed(JsonNode read, String line) {
        return read.has("closing")
                ? Optional.of(
                        new Closed(read.path("day").asText(), read.path("closing").asText(), line))
                : Optional.empty();
    }

    private static Optional<Instant> wall(JsonNode line) {
        try {
            return Optional.of(Instant.parse(line.path(WALL).asText()));
        } catch (DateTimeParseException unsaid) {
            return Optional.empty();
        }
    }

    /**
     * What has happened, read again.
     *
     * @param lines of {@link Kept}
     * @param constant of the truck as it came in
     * @param traces what a catch came to
     */
    public static List<SweepEvent> events(
            List<String> lines, TruckConstant constant, Traces traces) {
        List<SweepEvent> events = new ArrayList<>();
        for (String line : lines) {
            JsonNode read = node(line).orElseThrow();
            if (read.has("confirmed")) {
                events.add(
                        new SweepEvent.Confirmed(
                                read.path("confirmed").asText(),
                                Optional.of(read.path("speed_confirmed"))
                                        .filter(JsonNode::isTextual)
                                        .map(JsonNode::asText)));
            } else if (read.has(CATCH)) {
                events.add(
                        traces.caught(
                                read.path(CATCH).asInt(),
                                read.path("emptied").asBoolean(),
                                read.path("run").asText()));
            } else if (read.has(TANK_EMPTIED)) {
                events.add(new SweepEvent.Emptied(read.path(TANK_EMPTIED).asText()));
            } else if (read.has("refilled")) {
                events.add(new SweepEvent.Refilled(read.path("refilled").asText()));
            } else if (read.has(ENTERED)) {
                events.add(
                        new SweepEvent.ConstantEntered(
                                read.path(ENTERED).asText(),
                                constant.with(read.path(CONSTANT).asDouble())));
            } else if (read.has(RESUMED)) {
                events.add(new SweepEvent.Resumed());
            }
        }
        return events;
    }

    private static Optional<JsonNode> node(String line) {
        try {
            JsonNode read = MAPPER.readTree(line);
            return read != null && read.isObject() ? Optional.of(read) : Optional.empty();
        } catch (JsonProcessingException cutOff) {
            return Optional.empty();
        }
    }

    /** The result, one line without its end. */
    public static String of(SweepResult result) {
        RunSetup setup = result.sweep().forecast().setup();
        ResultText figures = new ResultText();
        ObjectNode json = figures.json();
        json.put(SWEEP, result.name())
                .put(ORIGIN, TraceLine.Origin.of(result.simulated()).key())
                .put("bay", setup.bay())
                .put("asset", setup.truck().asset())
                .put("day", setup.day().toString())
                .put("by", result.sweep().confirmedBy().orElse(null))
                .put("closing", Fields.spelt(result.closing()))
                .put("resumable", result.resumable())
                .put("resumptions", result.sweep().resumptions())
                .put("end", result.end());
        ArrayNode reasons = json.putArray("reasons");
        result.reasons().forEach(reasons::add);
        grounds(figures, result);
        json.put("constant_key", SetupText.constantKey(setup.truck().constant()));
        json.put("constant_as_found", setup.truck().constant().value());
        json.put(
                "constant_advised",
                result.advice()
                        .filter(SweepAdvice.Enter.class::isInstance)
                        .map(advice -> ((SweepAdvice.Enter) advice).constant().value())
                        .orElse(null));
        json.put(
                "constant_entered",
                result.sweep().entered().map(TruckConstant::value).orElse(null));
        legs(json.putArray("legs"), result);
        hysteresis(json.putArray("hysteresis"), result.hysteresis());
        return text(json);
    }

    /** On what it rests: who, with which instruments, on what, judged by what. */
    private static void grounds(ResultText figures, SweepResult result) {
        ObjectNode json = figures.json();
        RunSetup setup = result.sweep().forecast().setup();
        ArrayNode days = json.putArray("days");
        result.days().forEach(day -> days.add(day.toString()));
        json.put("answers_for_it", setup.session().by().orElse(null));
        ArrayNode confirmed = json.putArray("checklist");
        for (SweepEvent.Confirmed one : result.sweep().confirmations()) {
            confirmed.addObject().put("by", one.by()).put("speed_by", one.speedBy().orElse(null));
        }
        ResultText rates = new ResultText();
        rates.rates(setup.asked().application());
        json.set("application", rates.json());
        PlanForecastText.granular(
                json.putObject("granular"), result.sweep().forecast().plan().granular());
        ArrayNode liquids = json.putArray("liquids");
        for (SweepResult.Used<RunSetup.Liquid> liquid : result.liquids()) {
            ResultText one = new ResultText();
            one.json().put("liquid", liquid.what().name());
            one.density("density_kg_per_m3", liquid.what().density());
            one.json()
                    .put(
                            "density_basis",
                            liquid.what().basis().map(LiquidDensity::basis).orElse(null));
            liquid.legs().forEach(one.json().putArray("legs")::add);
            liquids.add(one.json());
        }
        ArrayNode instruments = json.putArray("instruments");
        for (SweepResult.Used<SweepResult.Instrument> used : result.instruments()) {
            ObjectNode one =
                    instruments
                            .addObject()
                            .put("instrument", Fields.spelt(used.what().by()))
                            .put("serial", used.what().certificate().serial())
                            .put("date", used.what().certificate().date().toString())
                            .put("expiry", used.what().certificate().expiry().toString())
                            .put("measured", used.what().measured());
            used.legs().forEach(one.putArray("legs")::add);
        }
        figures.judgement(setup.judgement());
        SessionText.rule(json, setup.judgement());
        json.put("corrected", result.corrected());
    }

    private static void hysteresis(ArrayNode points, List<SweepResult.Hysteresis> found) {
        for (SweepResult.Hysteresis point : found) {
            ResultText figures = new ResultText();
            figures.flow("flow_us_gal_per_min", point.up().point().flow());
            figures.json().put("outlet", point.up().point().point().outlet().orElse(null));
            figures.percent("down_less_up_percent", point.downLessUp());
            figures.percent("down_less_up_within_percent", point.within().orElse(null));
            points.add(figures.json());
        }
    }

    private static void legs(ArrayNode legs, SweepResult result) {
        Judgement.On judged = result.sweep().forecast().setup().judgement().on();
        for (SweepResult.LegResult leg : result.legs()) {
            LegProgress progress = leg.progress();
            ResultText figures = new ResultText();
            ObjectNode json = figures.json();
            json.put("leg", leg.leg().number()).put("verifying", leg.leg().verifying());
            figures.flow("flow_us_gal_per_min", leg.leg().point().flow());
            figures.speed("speed_mph", leg.leg().point().speed());
            json.put("outlet", leg.leg().point().point().outlet().orElse(null))
                    .put("done", progress.over())
                    .put("skipped", progress.skipped().orElse(null))
                    .put("counted_runs", progress.series().counted().size());
            figures.flow(
                    "measured_flow_us_gal_per_min", leg.given().map(Given::measured).orElse(null));
            figures.percent(
                    "application_error_percent", leg.given().map(Given::application).orElse(null));
            json.put("followed", leg.given().map(Given::followed).orElse(null));
            figures.percent("meter_error_percent", leg.meterError().orElse(null));
            figures.percent("meter_error_within_percent", leg.within().orElse(null));
            figures.percent("judged_error_percent", leg.error(judged).orElse(null));
            figures.percent("judged_error_within_percent", leg.within(judged).orElse(null));
            figures.percent(
                    "expected_percent", leg.proof().map(SweepResult.Proof::expected).orElse(null));
            json.put(
                    "expected_of",
                    leg.proof().map(proof -> ResultText.error(proof.what())).orElse(null));
            json.put("proven", leg.proof().map(SweepResult.Proof::holds).orElse(null));
            json.put("verdict", leg.standing().orElse(null));
            json.put("verdict_alone", leg.graded().orElse(null));
            ArrayNode runs = json.putArray("runs");
            progress.runs()
                    .forEach(run ->
                            runs.addObject()
                                    .put("run", run.name())
                                    .put("outcome", run.outcome().key())
                                    .put(
                                            "reason",
                                            run.result().isPresent()
                                                    ? null
                                                    : run.outcome().reason())
                                    .put("stands_out", progress.outliers().contains(run.name())));
            legs.add(json);
        }
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
