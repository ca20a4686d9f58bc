package catchbay.run;

import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.Verdict;

import java.util.Optional;

/**
 * What an ended series of repeats gave.
 *
 * @param name the series' name: that of its first run
 * @param simulated whether any instrument was a stand-in
 * @param setup of its first run
 * @param series all of its runs
 * @param end how it ended
 * @param mean of the catches that count; empty where there is none
 * @param advice what to do with the truck's constant, by the mean
 * @param verdict whether the truck passes, by the mean; empty where the series did not end as
 *     planned: catches that were broken off are not those by which it was to be judged
 */
public record SeriesResult(
        String name,
        boolean simulated,
        RunSetup setup,
        Series series,
        Series.End end,
        Optional<MeanOfCatches> mean,
        Optional<ConstantAdvice> advice,
        Optional<Verdict> verdict) {

    /** The result of a series that has ended so. */
    public static SeriesResult of(
            String name, boolean simulated, RunSetup setup, Series series, Series.End end) {
        Optional<MeanOfCatches> mean = series.mean(setup.doubts().scatter());
        return new SeriesResult(
                name,
                simulated,
                setup,
                series,
                end,
                mean,
                mean.map(known -> series.advice(setup, known, end)),
                mean.filter(known -> end.how().asPlanned())
                        .flatMap(known -> setup.judgement().verdict(known.budget())));
    }
}
