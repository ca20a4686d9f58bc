package catchbay.plan;

import catchbay.metrology.Grubbs;
import catchbay.run.Outcome;
import catchbay.run.Repeats;
import catchbay.run.Series;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How far one leg of a sweep has come. Nobody is asked about a catch that stands out: it stays in,
 * and is told of.
 *
 * @param series its catches so far
 * @param over whether it has as many as it is to have, or cannot
 * @param end how its repeats ended; empty while they go on, and for a leg that was skipped or
 *     verifies
 * @param skipped why it could not be caught, as a sentence; empty where it was or still may be
 * @param outliers the catches that stand out from the others of it, by name
 */
public record LegProgress(
        Series series,
        boolean over,
        Optional<Series.End> end,
        Optional<String> skipped,
        List<String> outliers) {

    public LegProgress {
        outliers = List.copyOf(outliers);
    }

    /** Its catches, void ones too. */
    public List<Series.Run> runs() {
        return series.runs();
    }

    static LegProgress of(Leg leg, Repeats repeats, int verifications, List<SweepEvent> events) {
        Series series = Series.planned(repeats);
        boolean emptied = false;
        boolean fromEmpty = false;
        for (SweepEvent event : events) {
            if (event instanceof SweepEvent.Caught caught) {
                if (caught.leg() == leg.number()) {
                    series = series.with(caught.run());
                    fromEmpty = emptied || caught.emptied();
                }
                emptied = false;
            } else if (event instanceof SweepEvent.Emptied) {
                emptied = true;
            }
        }
        if (series.runs().isEmpty()) {
            return new LegProgress(series, false, Optional.empty(), Optional.empty(), List.of());
        }
        if (series.runs().getLast().result().isEmpty()) {
            return afterNothing(leg, series, fromEmpty);
        }
        if (leg.verifying()) {
            boolean enough = series.counted().size() >= verifications;
            return new LegProgress(series, enough, Optional.empty(), Optional.empty(), List.of());
        }
        return afterMeasured(series);
    }

    /**
     * Whatever a catch came to nothing by: as many in a row as are allowed, and it is left. A catch
     * that overfills an empty tank will do so again, and is left at once.
     *
     * @param fromEmpty whether the tank was emptied before the last one
     */
    private static LegProgress afterNothing(Leg leg, Series series, boolean fromEmpty) {
        int inARow = 0;
        for (Series.Run run : series.runs().reversed()) {
            if (run.result().isPresent()) {
                break;
            }
            inARow += run.outcome() instanceof Outcome.Void ? 1 : 0;
        }
        Outcome last = series.runs().getLast().outcome();
        boolean tooMuch = fromEmpty && isVoid(last, Outcome.Cause.OVERFILL);
        boolean left = tooMuch || inARow >= series.repeats().voidsMax();
        Optional<String> why =
                left
                        ? Optional.of(
                                inARow
                                        + (inARow == 1 ? " catch" : " catches in a row")
                                        + " came to nothing; the last one: "
                                        + last.reason()
                                        + (tooMuch
                                                ? " The tank was emptied before it, so another"
                                                        + " catch would end as this one did."
                                                : hint(leg, last)))
                        : Optional.empty();
        return new LegProgress(series, left, Optional.empty(), why, List.of());
    }

    /** A flow beside the reference's range is often one that the truck was never asked for. */
    private static String hint(Leg leg, Outcome outcome) {
        return isVoid(outcome, Outcome.Cause.OUT_OF_RANGE)
                ? " Asked for was "
                        + Figures.flow(leg.point().flow())
                        + ": see whether the truck follows so far (catchbay hunt high)."
                : "";
    }

    private static boolean isVoid(Outcome outcome, Outcome.Cause cause) {
        return outcome instanceof Outcome.Void(var by, var _) && by == cause;
    }

    private static LegProgress afterMeasured(Series begun) {
        Series series = begun;
        List<String> outliers = new ArrayList<>();
        Series.Next next = series.next();
        while (next instanceof Series.Next.Ask(Series.Run run, Grubbs.Finding.Flagged _)) {
            outliers.add(run.name());
            series = series.keeping(run);
            next = series.next();
        }
        Optional<Series.End> end =
                next instanceof Series.Next.Over(Series.End how)
                        ? Optional.of(how)
                        : Optional.empty();
        Optional<String> skipped =
                end.filter(how -> !how.how().asPlanned()).map(Series.End::reason);
        return new LegProgress(series, end.isPresent(), end, skipped, outliers);
    }
}
