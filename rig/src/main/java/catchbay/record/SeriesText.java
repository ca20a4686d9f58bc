package catchbay.record;

import catchbay.metrology.Budget;
import catchbay.metrology.Comparison;
import catchbay.metrology.Estimate;
import catchbay.metrology.Grubbs;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.Scatter;
import catchbay.quantity.Ratio;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.SeriesResult;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.nio.charset.StandardCharsets;
import java.util.Optional;

/**
 * The lines of a series' file, and its result as the last of them: JSON objects, keys as in {@link
 * ResultText}.
 */
public final class SeriesText {

    private SeriesText() {}

    /** The first line: what was planned before the first catch. */
    public static String begun(String series, RunSetup setup) {
        ObjectNode line = JsonNodeFactory.instance.objectNode();
        line.put("catchbay_series", 1)
                .put("series", series)
                .put("bay", setup.bay())
                .put("asset", setup.truck().asset());
        RepeatsText.write(line.putObject("repeats"), setup.repeats());
        return text(line);
    }

    /** After a run: which it was and how it ended. */
    public static String ran(Series.Run run) {
        return text(
                JsonNodeFactory.instance
                        .objectNode()
                        .put("run", run.name())
                        .put("outcome", run.outcome().key()));
    }

    /**
     * What a person said of a run that stands out.
     *
     * @param answer in words
     */
    public static String answered(Series.Next.Ask asked, boolean kept, String answer) {
        Grubbs.Finding.Flagged finding = asked.finding();
        ResultText figures = new ResultText();
        ObjectNode line = figures.json();
        line.put("stands_out", asked.run().name());
        figures.statistic("statistic", finding.statistic());
        figures.statistic("critical", finding.critical());
        return text(line.put("kept", kept).put("answer", answer));
    }

    /** The result, one line without its end. */
    public static String of(SeriesResult result) {
        RunSetup setup = result.setup();
        Series series = result.series();
        ResultText figures = new ResultText();
        ObjectNode json = figures.json();
        json.put("series", result.name())
                .put("origin", TraceLine.Origin.of(result.simulated()).key())
                .put("bay", setup.bay())
                .put("asset", setup.truck().asset())
                .put("day", setup.day().toString())
                .put("stage", Fields.spelt(setup.session().stage()))
                .put("by", setup.session().by().orElse(null))
                .put("override", setup.session().override().orElse(null))
                .put("planned_runs", series.repeats().plan().runs())
                .put("most_runs", series.repeats().plan().runsMax());
        figures.percent("wanted_percent", series.repeats().plan().wanted());
        json.put("counted_runs", series.counted().size())
                .put("end", Fields.spelt(result.end().how()))
                .put("reason", result.end().reason());
        figures.percent("range_percent", result.end().range().orElse(null));
        figures.percent("limit_percent", result.end().limit().orElse(null));
        figures.mass("empty_moved_kg", result.emptyMoved().orElse(null));
        mean(figures, result.mean());
        figures.verdict(result.verdict(), setup);
        figures.advice(result.advice().orElse(null), setup);
        figures.notes(result.notes());
        runs(json.putArray("runs"), series);
        return text(json);
    }

    private static void mean(ResultText figures, Optional<MeanOfCatches> mean) {
        Budget budget = mean.map(MeanOfCatches::budget).orElse(null);
        figures.estimate("asked", estimate(budget, Comparison.ASKED));
        figures.estimate("reported", estimate(budget, Comparison.REPORTED));
        figures.estimate("measured", estimate(budget, Comparison.MEASURED));
        figures.errors(budget);
        Optional<Scatter> scatter = mean.flatMap(MeanOfCatches::scatter);
        figures.percent(
                "run_scatter_percent", scatter.map(s -> new Ratio(s.standard())).orElse(null));
        figures.json()
                .put(
                        "run_scatter_degrees_of_freedom",
                        scatter.map(Scatter::degreesOfFreedom).orElse(null));
    }

    private static Estimate estimate(Budget budget, String amount) {
        return budget == null ? null : Estimate.of(budget.output(amount));
    }

    private static void runs(ArrayNode runs, Series series) {
        for (Series.Run run : series.runs()) {
            Optional<Comparison> comparison = run.result().map(CatchResult::comparison);
            ResultText figures = new ResultText();
            figures.json()
                    .put("run", run.name())
                    .put("outcome", run.outcome().key())
                    .put("counted", comparison.isPresent())
                    .put("kept_though_it_stands_out", series.kept().contains(run.name()))
                    .put("reason", run.outcome().reason());
            figures.amount("reported", comparison.map(c -> c.reported().volume()).orElse(null));
            figures.amount("measured", comparison.map(c -> c.measured().volume()).orElse(null));
            figures.percent(
                    "meter_error_percent", comparison.map(Comparison::meterError).orElse(null));
            runs.add(figures.json());
        }
    }

    private static String text(ObjectNode line) {
        return new String(Json.write(line), StandardCharsets.UTF_8);
    }
}
