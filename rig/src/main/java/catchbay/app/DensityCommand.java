package catchbay.app;

import catchbay.metrology.Buoyancy;
import catchbay.metrology.LiquidDensity;
import catchbay.metrology.Liquids;
import catchbay.quantity.Temperature;
import catchbay.record.DocumentException;
import catchbay.record.Fields;
import catchbay.record.LiquidReader;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

import java.io.PrintStream;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;

/** Says what a liquid weighs, and how well that is known. */
@Command(
        name = "density",
        description = {
            "Says what a liquid weighs and how well that is known, or prints a table.",
            "A brine's density is computed from its strength or taken from a measured",
            "sample; a commercial blend needs a sample."
        },
        footer = {
            "",
            "Examples:",
            "  catchbay density --liquid nacl --mass-fraction 0.233 --celsius 10",
            "  catchbay density --liquid nacl --specific-gravity 1.178 --reference 60/60F \\",
            "      --fahrenheit 40",
            "  catchbay density --liquid mgcl2 --table"
        })
final class DensityCommand implements Callable<Integer> {

    /** A measured sample of it. */
    static final class Sample {
        @Option(
                names = "--specific-gravity",
                paramLabel = "SG",
                description = "A hydrometer's reading; needs --reference.")
        private Optional<Double> gravity = Optional.empty();

        @Option(
                names = "--reference",
                paramLabel = "REF",
                description = "The hydrometer's temperatures: 60/60F, 15/15C, 15/4C, 20/20C.")
        private Optional<String> reference = Optional.empty();

        @Option(
                names = "--salometer",
                paramLabel = "DEGREES",
                description = "A salometer's reading, from 0 to 100 (nacl only).")
        private Optional<Double> salometer = Optional.empty();

        @Option(
                names = "--measured-kg-per-m3",
                paramLabel = "D",
                description = "A density meter's reading.")
        private Optional<Double> kilogramsPerCubicMetre = Optional.empty();

        @Option(
                names = "--measured-lb-per-us-gal",
                paramLabel = "D",
                description = "The same as true mass of a US gallon.")
        private Optional<Double> poundsPerUsGallon = Optional.empty();

        @Option(
                names = "--weighed-lb",
                paramLabel = "W",
                description = "What a scale showed of a known volume; needs --us-gal.")
        private Optional<Double> pounds = Optional.empty();

        @Option(names = "--us-gal", paramLabel = "V", description = "That volume.")
        private Optional<Double> usGallons = Optional.empty();

        @Option(
                names = "--weighed-kg",
                paramLabel = "W",
                description = "The same in kilograms; needs --litres.")
        private Optional<Double> kilograms = Optional.empty();

        @Option(names = "--litres", paramLabel = "V", description = "That volume.")
        private Optional<Double> litres = Optional.empty();

        @Option(
                names = "--sample-celsius",
                paramLabel = "T",
                description =
                        "How warm the sample was. Without it a hydrometer or salometer counts as"
                                + " read at the temperature that its scale is made for.")
        private Optional<Double> celsius = Optional.empty();

        @Option(
                names = "--sample-fahrenheit",
                paramLabel = "T",
                description = "The same in degrees Fahrenheit.")
        private Optional<Double> fahrenheit = Optional.empty();
    }

    private static final String SAMPLE = "sample";

    @Option(
            names = "--liquid",
            required = true,
            paramLabel = "KIND",
            description = "water, nacl, cacl2, mgcl2, potassium-acetate, or blend.")
    private String liquid;

    @Option(
            names = "--mass-fraction",
            paramLabel = "W",
            description = "Strength of a brine: 0.233 is 23.3 per cent of anhydrous salt by mass.")
    private Optional<Double> strength = Optional.empty();

    @Option(
            names = "--mass-fraction-uncertainty",
            paramLabel = "U",
            description = "Expanded (k = 2). Without it the strength is taken as exact.")
    private Optional<Double> strengthUncertainty = Optional.empty();

    @Option(
            names = "--celsius",
            paramLabel = "T",
            description = "How warm the liquid is, in degrees Celsius.")
    private Optional<Double> celsius = Optional.empty();

    @Option(
            names = "--fahrenheit",
            paramLabel = "T",
            description = "The same in degrees Fahrenheit.")
    private Optional<Double> fahrenheit = Optional.empty();

    @Option(
            names = "--celsius-uncertainty",
            paramLabel = "U",
            description = "Of the temperature, expanded (k = 2). Without it that is exact.")
    private Optional<Double> celsiusUncertainty = Optional.empty();

    @Option(
            names = "--slope",
            paramLabel = "S",
            description = "Change of a blend's density, kg/m3 per degree Celsius (about -0.5).")
    private Optional<Double> slope = Optional.empty();

    @Option(
            names = "--coldest-celsius",
            paramLabel = "T",
            description = "Warns of what happens when the liquid gets as cold as this.")
    private Optional<Double> coldest = Optional.empty();

    @Option(
            names = "--table",
            description =
                    "Prints weight per gallon (true mass, and as a scale shows it) and specific"
                            + " gravity over temperature and strength.")
    private boolean table;

    @ArgGroup(exclusive = false, heading = "Measured in place of computed:%n")
    private Sample sample = new Sample();

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    private final ObjectNode section = JsonNodeFactory.instance.objectNode();
    private final Map<String, String> options = new HashMap<>();

    /** Made by picocli. */
    DensityCommand() {}

    @Override
    public Integer call() {
        PrintStream out = Page.out();
        if (table) {
            table(out);
        } else {
            one(out);
        }
        out.flush();
        return Exit.DONE;
    }

    private void table(PrintStream out) {
        say();
        if (!section.properties().stream().allMatch(entry -> entry.getKey().equals("kind"))) {
            throw new DocumentException(
                    "option --table: the table has its own strengths and temperatures; give it"
                            + " with --liquid alone");
        }
        DensityTable made = DensityTable.of(liquid);
        if (json) {
            out.println(made.json());
        } else {
            made.print(out);
        }
    }

    private void one(PrintStream out) {
        say();
        refuseWhatIsMissing();
        Fields fields =
                Fields.of(
                        section,
                        path ->
                                options.containsKey(path)
                                        ? Fields.Places.OPTION + options.get(path)
                                        : "density");
        LiquidReader.Wanted wanted =
                LiquidReader.read(fields, Buoyancy.AIR, LiquidReader.Unsaid.EXACT);
        fields.finish();
        LiquidDensity density =
                switch (fields.made(wanted::answer)) {
                    case LiquidDensity.Answer.Known(LiquidDensity found) -> found;
                    case LiquidDensity.Answer.Refused(String reason) ->
                            throw new DocumentException(reason);
                };
        Optional<Temperature> cold = coldest.map(t -> fields.made(() -> new Temperature(t)));
        DensityPage page = DensityPage.of(wanted, density, cold);
        if (json) {
            out.println(page.json());
        } else {
            page.print(out);
        }
    }

    /** In the words of the command line, where the settings' words would not help. */
    private void refuseWhatIsMissing() {
        if (celsius.isEmpty() && fahrenheit.isEmpty()) {
            throw new DocumentException(
                    "a density needs a temperature; say how warm the liquid is with --celsius T or"
                            + " --fahrenheit T");
        }
        boolean salted = !liquid.equals(Liquids.WATER) && !liquid.equals(Liquids.BLEND);
        if (salted && strength.isEmpty() && !section.has(SAMPLE)) {
            throw new DocumentException(
                    "a brine needs its strength; give --mass-fraction W (0.233 for 23.3 per cent),"
                            + " or a measured sample, as with --specific-gravity");
        }
        if (section.has(SAMPLE)
                && sample.gravity.isEmpty()
                && sample.salometer.isEmpty()
                && sample.celsius.isEmpty()
                && sample.fahrenheit.isEmpty()) {
            throw new DocumentException(
                    "a measured density needs the sample's temperature; give it with"
                            + " --sample-celsius T or --sample-fahrenheit T");
        }
    }

    /** The command line as the section {@code liquid} of settings would say it. */
    private void say() {
        section.put("kind", liquid);
        options.put("kind", "--liquid");
        say("temperature_celsius", "--celsius", celsius);
        say("temperature_fahrenheit", "--fahrenheit", fahrenheit);
        say("temperature_uncertainty_celsius", "--celsius-uncertainty", celsiusUncertainty);
        say("strength_ratio", "--mass-fraction", strength);
        say("strength_uncertainty_ratio", "--mass-fraction-uncertainty", strengthUncertainty);
        say("slope_kg_per_m3_per_celsius", "--slope", slope);
        say("sample.specific_gravity", "--specific-gravity", sample.gravity);
        say("sample.reference", "--reference", sample.reference);
        say("sample.salometer_degrees", "--salometer", sample.salometer);
        say("sample.density_kg_per_m3", "--measured-kg-per-m3", sample.kilogramsPerCubicMetre);
        say("sample.density_lb_per_us_gal", "--measured-lb-per-us-gal", sample.poundsPerUsGallon);
        say("sample.weight_lb", "--weighed-lb", sample.pounds);
        say("sample.volume_us_gal", "--us-gal", sample.usGallons);
        say("sample.weight_kg", "--weighed-kg", sample.kilograms);
        say("sample.volume_litres", "--litres", sample.litres);
        say("sample.temperature_celsius", "--sample-celsius", sample.celsius);
        say("sample.temperature_fahrenheit", "--sample-fahrenheit", sample.fahrenheit);
        if (section.has(SAMPLE)) {
            say(
                    "sample.temperature_uncertainty_celsius",
                    "--celsius-uncertainty",
                    celsiusUncertainty);
        }
    }

    private void say(String path, String option, Optional<?> value) {
        if (value.isEmpty()) {
            return;
        }
        options.put(path, option);
        int dot = path.indexOf('.');
        ObjectNode target = dot < 0 ? section : section.withObjectProperty(path.substring(0, dot));
        String key = path.substring(dot + 1);
        switch (value.get()) {
            case Double number -> target.put(key, number);
            case Object text -> target.put(key, text.toString());
        }
    }
}
