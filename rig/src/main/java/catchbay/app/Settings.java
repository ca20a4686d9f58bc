package catchbay.app;

import catchbay.plan.Ways;
import catchbay.port.PortKind;
import catchbay.port.PortSettings;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Speed;
import catchbay.record.CurveRules;
import catchbay.record.DocumentException;
import catchbay.record.Fields;
import catchbay.record.HuntRulesText;
import catchbay.record.ScaleTestRules;
import catchbay.record.ScaleTestText;
import catchbay.record.SelfTestRules;
import catchbay.record.SetupText;
import catchbay.run.HuntRules;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/**
 * One bay's settings file (TOML). Its sections are those of a run's setup, but for the trucks, of
 * which it may hold many, and for what is no part of a result: the data folder and the ports. Every
 * refusal is a {@link DocumentException} that names file, line, key and value.
 */
public final class Settings {

    private static final String TRUCKS = "trucks";
    private static final String TRUCK = "truck";
    private static final String ASSET = "asset";
    private static final String PORT = "port";
    private static final String SCALE = "scale";
    private static final String SCALES = "scales";
    private static final String REFERENCE = "reference";
    private static final String REFERENCES = "references";
    private static final String CATCH = "catch";
    private static final String SCALE_TEST = "scale_test";
    private static final String DATA = "data";
    private static final String ZONE = "zone";
    private static final String PEOPLE = "people";
    private static final String CURVE = "curve";
    private static final String HUNT = "hunt";
    private static final String SELF_TESTS = "self_tests";

    /** The speed that a run is asked for. */
    static final String SPEED = "asked.speed_mph";

    /** Sections that are no part of a setup. */
    private static final List<String> OWN_SECTIONS =
            List.of(
                    TRUCKS,
                    SCALES,
                    REFERENCES,
                    SCALE_TEST,
                    PORT,
                    DATA,
                    ZONE,
                    PEOPLE,
                    CURVE,
                    HUNT,
                    SELF_TESTS);

    private final String name;
    private final Path folder;
    private final TomlFile file;
    private final ObjectNode document;
    private final Map<String, String> overridden = new HashMap<>();
    private final Map<String, JsonNode> replaced = new HashMap<>();
    private final NamedSections scales;
    private final NamedSections references;

    private Settings(Path folder, TomlFile file) {
        this.name = file.name();
        this.folder = folder;
        this.file = file;
        this.document = file.document();
        this.scales = new NamedSections(file, SCALE, SCALES);
        this.references = new NamedSections(file, REFERENCE, REFERENCES);
    }

    /** Reads a settings file; the data folder is taken from where the file lies. */
    public static Settings read(Path file) {
        TomlFile read = TomlFile.read(file, "settings", "--settings FILE");
        return new Settings(file.toAbsolutePath().getParent(), read);
    }

    /** Settings from a text, as for a bay that the program brings along. */
    public static Settings of(String name, Path folder, String toml) {
        return new Settings(folder, TomlFile.of(name, toml));
    }

    /**
     * Puts a value from the command line in place of what the file says under the same key.
     *
     * @param option how a refusal names it, as in {@code --seconds}
     * @param path keys joined by dots
     * @param value text, whole number or number
     */
    public void override(String option, String path, Object value) {
        String[] keys = path.split("\\.");
        ObjectNode target = document;
        for (int i = 0; i < keys.length - 1; i++) {
            target =
                    target.get(keys[i]) instanceof ObjectNode inner
                            ? inner
                            : target.putObject(keys[i]);
        }
        JsonNode written = target.get(keys[keys.length - 1]);
        if (written != null) {
            replaced.putIfAbsent(path, written);
        }
        target.set(keys[keys.length - 1], TomlFile.value(value));
        overridden.put(path, option);
    }

    /** The speed that the file asks for, where the command line has put another in its place. */
    Optional<Speed> replacedSpeed() {
        return Optional.ofNullable(replaced.get(SPEED))
                .filter(JsonNode::isNumber)
                .map(JsonNode::doubleValue)
                .filter(mph -> mph > 0)
                .map(Speed::ofMilesPerHour);
    }

    /** What the file is called. */
    String name() {
        return name;
    }

    /** The folder for traces and records. */
    public Path data() {
        Fields root = fields(document);
        return folder.resolve(root.text(DATA, "data")).normalize();
    }

    /** The zone in which the bay's calendar days begin; UTC where the file does not say. */
    public ZoneId zone() {
        Fields root = fields(document);
        String zone = root.text(ZONE, "UTC");
        try {
            return ZoneId.of(zone);
        } catch (DateTimeException e) {
            throw root.refused(ZONE, "it must be a time zone's name, as in America/Chicago");
        }
    }

    /**
     * The setup of a run with one of the bay's trucks. Of several reference meters it has the
     * chosen one, else the one that suits the asked flow best.
     *
     * @param asset the truck; may be empty where the file has one truck only
     * @param today the bay's calendar day
     */
    public RunSetup setup(Optional<String> asset, LocalDate today) {
        Optional<String> meter = references.chosen();
        if (meter.isPresent() || references.names().isEmpty()) {
            return setup(asset, today, meter, Optional.empty());
        }
        Ways ways = ways(asset, today);
        FlowRate flow = SetupCheck.askedFlow(ways.usual().asked());
        return switch (ways.at(flow, ways.usual().plan().measureBy(), Optional.empty())) {
            case Ways.Choice.Found(Ways.Way way) -> way.setup();
            case Ways.Choice.None(String sentence) ->
                    throw new DocumentException(
                            name + ": " + sentence + " A meter can be named with --reference.");
        };
    }

    /**
     * Every way in which the bay can measure one of its trucks: by each reference meter, and by the
     * scale. As {@link #setup(Optional, LocalDate)}.
     */
    Ways ways(Optional<String> asset, LocalDate today) {
        List<String> names = references.chosen().map(List::of).orElse(references.names());
        List<Optional<String>> meters = new ArrayList<>();
        names.forEach(meter -> meters.add(Optional.of(meter)));
        if (names.isEmpty()) {
            meters.add(Optional.empty());
        }
        RunSetup usual = setup(asset, today, meters.getFirst(), Optional.empty());
        List<Ways.Way> ways = new ArrayList<>();
        for (RunSetup.MeasureBy by : RunSetup.MeasureBy.values()) {
            boolean fitted =
                    switch (by) {
                        case REFERENCE -> usual.reference().isPresent();
                        case SCALE -> usual.scale().isPresent();
                    };
            if (fitted) {
                meters.forEach(meter ->
                        ways.add(new Ways.Way(meter, setup(asset, today, meter, Optional.of(by)))));
            }
            if (fitted && by == RunSetup.MeasureBy.SCALE && !names.isEmpty()) {
                ways.add(
                        new Ways.Way(
                                Optional.empty(),
                                setup(asset, today, Optional.empty(), Optional.of(by))));
            }
        }
        return new Ways(usual, ways);
    }

    /** Records tell meters by their serial numbers. */
    private void refuseAlike() {
        Map<String, String> known = new HashMap<>();
        for (String meter : references.names()) {
            String other = known.put(serial(meter), meter);
            if (other != null) {
                throw fields(document)
                        .section(REFERENCES)
                        .section(meter)
                        .refused(
                                "serial",
                                "the meter "
                                        + other
                                        + " has the same; records could not tell them apart, so"
                                        + " correct one of them");
            }
        }
    }

    /**
     * @param meter of several; empty = the only one, or none
     * @param by what measures in place of the file's own choice
     */
    private RunSetup setup(
            Optional<String> asset,
            LocalDate today,
            Optional<String> meter,
            Optional<RunSetup.MeasureBy> by) {
        Optional<Fields> nameless = fields(document).optionalSection(TRUCK);
        if (nameless.isPresent()) {
            throw nameless.get()
                    .refused("a bay knows its trucks by number; call this section [trucks.NUMBER]");
        }
        String truck = truck(asset);
        ObjectNode setup = JsonNodeFactory.instance.objectNode();
        for (Map.Entry<String, JsonNode> entry : document.properties()) {
            if (!OWN_SECTIONS.contains(entry.getKey())) {
                setup.set(entry.getKey(), entry.getValue());
            }
        }
        ObjectNode chosen = document.get(TRUCKS).get(truck).deepCopy();
        if (chosen.has(ASSET)) {
            throw fields(document)
                    .section(TRUCKS)
                    .section(truck)
                    .refused(
                            ASSET,
                            "the section's own name is the truck's number; take this key out");
        }
        chosen.put(ASSET, truck);
        setup.set(TRUCK, chosen);
        Optional<String> scale = scale();
        Map<String, String> moved = new HashMap<>(Map.of(TRUCK, TRUCKS + "." + truck));
        scale.ifPresent(name -> moved.put(SCALE, SCALES + "." + name));
        meter.ifPresent(name -> moved.put(REFERENCE, REFERENCES + "." + name));
        scale.ifPresent(name -> setup.set(SCALE, scales.section(name)));
        meter.ifPresent(name -> setup.set(REFERENCE, references.section(name)));
        if (by.isPresent() && setup.get(CATCH) instanceof ObjectNode course) {
            String word = by.get().name().toLowerCase(Locale.ROOT);
            setup.set(CATCH, course.deepCopy().put("measure_by", word));
        }
        Fields fields =
                Fields.of(
                        setup,
                        new Fields.Places() {
                            @Override
                            public String at(String path) {
                                return place(written(path));
                            }

                            @Override
                            public String written(String path) {
                                return moved(path, moved);
                            }
                        });
        RunSetup read = SetupText.read(fields, Optional.of(today));
        fields.finish();
        if (read.reported() instanceof RunSetup.Reported.Nothing) {
            throw fields.section("reported")
                    .refused(
                            "source",
                            "only the bay's own tests look at no truck's figure; use display, line"
                                    + " or pulses");
        }
        return read;
    }

    /** Where a setup's path stands in this file, whose sections have the names of their own. */
    private static String moved(String path, Map<String, String> places) {
        int end = path.indexOf('.');
        String section = end < 0 ? path : path.substring(0, end);
        return places.getOrDefault(section, section) + path.substring(section.length());
    }

    /**
     * Chooses one of several scales.
     *
     * @param name of its section; may be empty where the file has one scale only
     */
    void chooseScale(Optional<String> name) {
        scales.choose(name);
        scale();
    }

    /**
     * Chooses one of several reference meters.
     *
     * @param name of its section; empty = the one that suits the asked flow best
     */
    void chooseReference(Optional<String> name) {
        references.choose(name);
        references.chosen();
        refuseAlike();
    }

    /** Takes any of the reference meters, for what concerns none of them. */
    void takeAnyReference() {
        if (references.chosen().isEmpty()) {
            references.choose(references.names().stream().findFirst());
        }
    }

    /** The scales that are not chosen and with which this would hold. */
    List<String> otherScales(BooleanSupplier holds) {
        Optional<String> chosen = scale();
        List<String> others = new ArrayList<>(scales());
        chosen.ifPresent(others::remove);
        try {
            others.removeIf(other -> {
                scales.choose(Optional.of(other));
                return !holds.getAsBoolean();
            });
        } finally {
            scales.choose(chosen);
        }
        return others;
    }

    /** The scales of the file, where it has several sections of them. */
    List<String> scales() {
        return scales.names();
    }

    /** The chosen one of several scales; empty where the file has the section scale, or none. */
    private Optional<String> scale() {
        Optional<String> chosen = scales.chosen();
        if (chosen.isEmpty() && !scales().isEmpty()) {
            throw scales.undecided();
        }
        return chosen;
    }

    /**
     * The trucks' numbers, at least one.
     *
     * @throws DocumentException when the file has none
     */
    List<String> trucks() {
        truck(anyTruck());
        return names(document.get(TRUCKS));
    }

    /** Any of the trucks, for what concerns none of them. */
    Optional<String> anyTruck() {
        return document.has(TRUCKS)
                ? names(document.get(TRUCKS)).stream().findFirst()
                : Optional.empty();
    }

    /**
     * By what the scale is tried where it stands.
     *
     * @param setup of the bay, with its scale
     * @param kind which test it is
     */
    ScaleTestRules scaleTest(RunSetup setup, ScaleTestText.Kind kind) {
        Fields section = fields(document).sectionOrDefaults(SCALE_TEST);
        ScaleTestRules rules = ScaleTestRules.read(section, setup, kind);
        section.finish();
        return rules;
    }

    /** Whether weights are listed by which the scale can be checked. */
    boolean hasCheckWeights() {
        return !document.path(SCALE_TEST).path("weights").isEmpty();
    }

    /** A setup with any of the reference meters, for what concerns none of them. */
    RunSetup anyMeter(Optional<String> asset) {
        return setup(
                asset,
                LocalDate.EPOCH,
                references.chosen().or(() -> references.names().stream().findFirst()),
                Optional.empty());
    }

    /**
     * How the bay tries itself, and how often.
     *
     * @param usual the course of its catches
     */
    SelfTestRules selfTests(RunSetup.Plan usual) {
        Fields section = fields(document).sectionOrDefaults(SELF_TESTS);
        SelfTestRules rules = SelfTestRules.read(section, document.has(SELF_TESTS), usual);
        section.finish();
        return rules;
    }

    /** How a truck's curve is judged. */
    CurveRules curve() {
        Fields section = fields(document).sectionOrDefaults(CURVE);
        CurveRules rules = CurveRules.read(section);
        section.finish();
        return rules;
    }

    /** How the ends of a truck's range are hunted for. */
    HuntRules hunt() {
        Fields section = fields(document).sectionOrDefaults(HUNT);
        HuntRules rules = HuntRulesText.read(section);
        section.finish();
        return rules;
    }

    private String truck(Optional<String> asset) {
        if (!(document.get(TRUCKS) instanceof ObjectNode trucks) || trucks.isEmpty()) {
            throw new DocumentException(
                    name + " has no truck; add a section [trucks.NUMBER] with its constant");
        }
        List<String> known = new ArrayList<>();
        for (Map.Entry<String, JsonNode> entry : trucks.properties()) {
            if (!entry.getValue().isObject()) {
                throw fields(document)
                        .section(TRUCKS)
                        .refused(
                                entry.getKey(),
                                "it must stand in a section of its truck, [trucks.NUMBER]");
            }
            known.add(entry.getKey());
        }
        if (asset.isEmpty() && known.size() > 1) {
            throw new DocumentException(
                    name
                            + " has several trucks; say which with --truck NUMBER: "
                            + String.join(", ", known));
        }
        String truck = asset.orElse(known.getFirst());
        if (!trucks.has(truck)) {
            throw new DocumentException(
                    name
                            + " has no truck "
                            + truck
                            + "; it has "
                            + String.join(", ", known)
                            + ", or add a section [trucks."
                            + truck
                            + "]");
        }
        return truck;
    }

    /**
     * Names who answers for the run, and why certificates out of date are used, if they are.
     *
     * @param by a name of the section {@code people}, where there is one
     * @param override the reason, which takes a manager
     */
    public void session(Optional<String> by, boolean asLeft, Optional<String> override) {
        by.ifPresent(who -> refuseStrangers("--by", who));
        if (override.isPresent()) {
            Fields people = fields(document).sectionOrDefaults(PEOPLE);
            boolean manager =
                    by.isPresent()
                            && people().contains(by.get())
                            && people.choice(by.get(), Role.class) == Role.MANAGER;
            if (!manager) {
                throw new DocumentException(
                        "option --override: it takes a manager; name one with --by, whom the"
                                + " section people of "
                                + name
                                + " calls \"manager\"");
            }
        }
        by.ifPresent(who -> override("--by", "session.by", who));
        if (asLeft) {
            override("--as-left", "session.stage", "as-left");
        }
        override.ifPresent(reason -> override("--override", "session.override", reason));
    }

    /**
     * Refuses whoever is not in the section {@code people}, where there is one.
     *
     * @param option by which the name was given
     */
    void refuseStrangers(String option, String who) {
        refuseBlank(option, who);
        if (!people().isEmpty() && !people().contains(who)) {
            throw new DocumentException(
                    Fields.Places.OPTION
                            + option
                            + ": "
                            + who
                            + " is not in the section people of "
                            + name
                            + "; it has "
                            + String.join(", ", people()));
        }
    }

    /** Refuses a name that is none. */
    static void refuseBlank(String option, String who) {
        PersonName.problem(who)
                .ifPresent(why -> {
                    throw new DocumentException(Fields.Places.OPTION + option + ": " + why);
                });
    }

    private List<String> people() {
        return document.has(PEOPLE) ? names(document.get(PEOPLE)) : List.of();
    }

    private static List<String> names(JsonNode section) {
        List<String> names = new ArrayList<>();
        section.fieldNames().forEachRemaining(names::add);
        return names;
    }

    /** What a person may do. */
    private enum Role {
        TECHNICIAN,
        MANAGER
    }

    /** Who provides a port; the name given where the file does not say. */
    public String provider(PortKind kind, String otherwise) {
        return port(kind).text("provider", otherwise);
    }

    /**
     * The section of a port.
     *
     * @param setup of the run that it is for, with the reference meter in use
     */
    PortSection portSection(PortKind kind, RunSetup setup) {
        Fields section = port(kind, setup);
        section.has("provider");
        return new PortSection(section);
    }

    /** Refuses ports that do not exist, and meters whose pulses come on the same line. */
    void refuseUnknownPorts() {
        Fields section = fields(document).sectionOrDefaults(PORT);
        for (PortKind kind : PortKind.values()) {
            section.has(kind.key());
        }
        section.finish();
        if (!scales().isEmpty()) {
            Fields lines = section.sectionOrDefaults(SCALE);
            scales().forEach(lines::has);
            lines.finish();
        }
        if (!references.names().isEmpty()) {
            MeterLines.check(section, references.names());
        }
    }

    /** The section of a port; each of several scales has its own under {@code [port.scale]}. */
    private Fields port(PortKind kind) {
        Fields section = fields(document).sectionOrDefaults(PORT).sectionOrDefaults(kind.key());
        return kind == PortKind.SCALE
                ? scale().map(section::sectionOrDefaults).orElse(section)
                : section;
    }

    /**
     * As {@link #port(PortKind)}; what each of several reference meters says of the port, as in
     * {@code [port.pulses.NAME]}, stands in it for the one in use.
     */
    private Fields port(PortKind kind, RunSetup setup) {
        if (references.names().isEmpty()
                || !MeterLines.KINDS.contains(kind)
                || !(document.path(PORT).get(kind.key()) instanceof ObjectNode section)) {
            return port(kind);
        }
        Optional<String> meter =
                setup.reference()
                        .flatMap(used ->
                                references.names().stream()
                                        .filter(name ->
                                                serial(name).equals(used.certificate().serial()))
                                        .findFirst());
        MeterLines lines = MeterLines.of(kind, section, references.names(), meter);
        return Fields.of(lines.ports(), path -> place(lines.written(path)))
                .section(PORT)
                .section(kind.key());
    }

    private String serial(String meter) {
        return document.get(REFERENCES).path(meter).path("serial").asText();
    }

    private Fields fields(ObjectNode node) {
        return Fields.of(node, this::place);
    }

    /** {@code bay.toml line 14}, of the value itself or of the nearest section that holds it. */
    private String place(String path) {
        String option = overridden.get(path);
        if (option != null) {
            return Fields.Places.OPTION + option;
        }
        return file.place(path);
    }

    /** One port's section, as its provider reads it. */
    static final class PortSection implements PortSettings {

        private final Fields fields;

        PortSection(Fields fields) {
            this.fields = fields;
        }

        /** Refuses the keys that the provider did not ask for. */
        void finish() {
            fields.finish();
        }

        @Override
        public String text(String key) {
            return fields.text(key);
        }

        @Override
        public Optional<String> optionalText(String key) {
            return fields.optionalText(key);
        }

        @Override
        public double number(String key, double least, double most, double otherwise) {
            return fields.number(key, least, most, otherwise);
        }

        @Override
        public long whole(String key, long least, long most, long otherwise) {
            return fields.whole(key, least, most, otherwise);
        }

        @Override
        public boolean flag(String key, boolean otherwise) {
            return fields.flag(key, otherwise);
        }

        @Override
        public List<String> texts(String key) {
            return fields.texts(key);
        }

        @Override
        public RuntimeException refused(String key, String sentence) {
            return fields.refused(key, sentence);
        }
    }
}
