package catchbay.app;

import catchbay.app.NamedCatches.Measured;
import catchbay.quantity.Pressure;
import catchbay.quantity.Speed;
import catchbay.record.CurveRules;
import catchbay.record.CurveText;
import catchbay.record.DocumentException;

import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import java.io.PrintStream;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.DoubleFunction;

/** A truck's meter over its flow range. */
@Command(
        name = "curve",
        description = {
            "Draws a truck's meter over its flow range.",
            "From measured catches: the right constant at each flow, the best single one for",
            "the shop's mix of work, what it leaves at each rate and speed, and what is wrong",
            "with the truck.",
            "Needs catches at three flows or more. Of a truck all accepted runs are taken."
        })
final class CurveCommand implements Callable<Integer> {

    @Parameters(
            arity = "1..*",
            paramLabel = "TRUCK|RUN|FILE",
            description = "A truck's number, runs, or the files of their traces.")
    private List<String> catches;

    @Mixin private RecordsPlace where = new RecordsPlace();

    @Option(
            names = "--since",
            paramLabel = "DAY",
            description = "Of a truck: only runs of this day and later, as 2026-01-31.")
    private Optional<String> since;

    @Option(
            names = "--outlets-shut-by",
            paramLabel = "NAME",
            description =
                    "Who saw that the recirculation branch and every other outlet were shut;"
                            + " without it no constant is offered.")
    private Optional<String> outletsShutBy;

    @Option(
            names = "--shown-mph",
            paramLabel = "RUN=MPH",
            description = "The speed that the controller showed in a run; may be repeated.")
    private Map<String, Double> shownMph = new LinkedHashMap<>();

    @Option(
            names = "--coupler-psi",
            paramLabel = "RUN=PSI",
            description = "Pressure at the bay's coupler in a run; may be repeated.")
    private Map<String, Double> couplerPsi = new LinkedHashMap<>();

    @Option(
            names = "--strainer-psi",
            paramLabel = "RUN=PSI",
            description = "Drop over the bay's strainer in a run; may be repeated.")
    private Map<String, Double> strainerPsi = new LinkedHashMap<>();

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    CurveCommand() {}

    @Override
    public Integer call() throws Exception {
        Optional<Settings> settings = where.settings();
        CurveRules rules = settings.map(Settings::curve).orElse(CurveRules.USUAL);
        CurveStudy.Seen seen =
                new CurveStudy.Seen(
                        seen("--shown-mph", shownMph, CurveCommand::speed),
                        seen("--coupler-psi", couplerPsi, Pressure::ofPsi),
                        seen("--strainer-psi", strainerPsi, Pressure::ofPsi),
                        outletsShutBy);
        outletsShutBy.ifPresent(who -> {
            Settings.refuseBlank("--outlets-shut-by", who);
            settings.ifPresent(bay -> bay.refuseStrangers("--outlets-shut-by", who));
        });
        NamedCatches named = new NamedCatches(where::knownData, since.map(CurveCommand::day));
        List<Measured> found = named.named(catches);
        CurveText.Told told = new CurveStudy(found, rules, seen).told(named.notes());
        PrintStream out = Page.out();
        if (json) {
            out.println(CurveText.of(told));
        } else {
            CurveWords.print(out, told);
        }
        out.flush();
        return told.curve().isPresent() ? Exit.DONE : Exit.NO_RESULT;
    }

    private static LocalDate day(String word) {
        try {
            return LocalDate.parse(word);
        } catch (DateTimeException e) {
            throw new DocumentException(
                    "option --since: '" + word + "' is no day; give one such as 2026-01-31");
        }
    }

    private static Speed speed(double mph) {
        if (mph <= 0) {
            throw new IllegalArgumentException("a shown speed must be above 0 mph, was " + mph);
        }
        return Speed.ofMilesPerHour(mph);
    }

    private static <T> Map<String, T> seen(
            String option, Map<String, Double> given, DoubleFunction<T> maker) {
        Map<String, T> seen = new LinkedHashMap<>();
        given.forEach((run, number) -> {
            try {
                seen.put(run, maker.apply(number));
            } catch (IllegalArgumentException refusal) {
                throw new DocumentException(
                        "option " + option + " " + run + ": " + refusal.getMessage());
            }
        });
        return seen;
    }
}
