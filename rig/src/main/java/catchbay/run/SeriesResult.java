package catchbay.run;

import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.Verdict;
import catchbay.quantity.Mass;

import java.util.List;
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

    /**
     * By how much the scale's reading of the empty tank moved from one catch to the very next,
     * where that was most: what its zero drifted and what stayed in the tank. Empty where the tank
     * is not drained, or no two catches followed each other.
     */
    public Optional<Mass> emptyMoved() {
        if (setup.plan().drainNanos() == 0) {
            return Optional.empty();
        }
        Optional<Mass> most = Optional.empty();
        Optional<Mass> before = Optional.empty();
        for (Series.Run run : series.runs()) {
            Optional<Mass> empty = run.result().flatMap(CatchResult::emptyReading);
            if (before.isPresent() && empty.isPresent()) {
                Mass moved = empty.get().minus(before.get());
                most = most.filter(m -> size(m) >= size(moved)).or(() -> Optional.of(moved));
            }
            before = empty;
        }
        return most;
    }

    private static double size(Mass mass) {
        return Math.abs(mass.kilograms());
    }

    /** What the catches that count have to say beside their figures, each sentence once. */
    public List<String> notes() {
        return series.counted().stream()
                .flatMap(run -> run.result().orElseThrow().notes().stream())
                .distinct()
                .toList();
    }

    /** What the budget of each catch allows that to be, with a step of the display. */
    public Mass emptyMovedMax() {
        Doubts.Scale doubts = setup.doubts().scale();
        return new Mass(
                doubts.zeroDrift().kilograms()
                        + doubts.drip().kilograms()
                        + setup.scale().orElseThrow().resolution().kilograms());
    }
}
