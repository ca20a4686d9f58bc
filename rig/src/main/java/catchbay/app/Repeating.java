package catchbay.app;

import catchbay.port.PortException;
import catchbay.record.SeriesText;
import catchbay.record.TraceLine;
import catchbay.run.Question;
import catchbay.run.Repeats;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.Series;
import catchbay.run.SeriesResult;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;
import catchbay.store.StoreException;

import java.io.IOException;
import java.io.PrintStream;
import java.util.Optional;

/**
 * Runs a series of catches on an open bay: tells a person after each what comes next, and asks
 * about one that stands out. Used once.
 */
final class Repeating {

    private final OpenBay bay;
    private final JournalFolder folder;
    private final StopSignal stop;
    private final PrintStream err;

    private final BetweenRuns people;

    /** Why a run that stands out was not kept. */
    private Optional<String> ended = Optional.empty();

    /**
     * @param folder where the series' file is to lie
     * @param stop ends it from outside
     * @param err where a person is told
     */
    Repeating(OpenBay bay, JournalFolder folder, StopSignal stop, PrintStream err) {
        this.bay = bay;
        this.folder = folder;
        this.stop = stop;
        this.people = new BetweenRuns(bay, stop);
        this.err = err;
    }

    /** Runs it to its end. */
    SeriesResult result() throws PortException, StoreException, IOException {
        RunSetup first = bay.setup();
        String name = bay.freeName(first, folder::has);
        try (JournalFile file = folder.begin(name, SeriesText.begun(name, first))) {
            Series series = Series.planned(first.repeats());
            Optional<Series.End> end = Optional.empty();
            while (end.isEmpty()) {
                RunSetup setup = bay.setup();
                String run = series.runs().isEmpty() ? name : bay.freeName(setup);
                int number = series.runs().size() + 1;
                CatchSession.Ended caught =
                        bay.caught(run, setup.at(new Repeats.Place(name, number)), stop);
                Series.Run done = new Series.Run(run, setup.day(), caught.outcome());
                series = series.with(done);
                file.append(SeriesText.ran(done));
                err.println(SeriesWords.ran(number, done));
                Series.Next next = series.next();
                while (next instanceof Series.Next.Ask ask) {
                    if (keeps(ask, setup, file)) {
                        series = series.keeping(ask.run());
                        next = series.next();
                    } else {
                        next = new Series.Next.Over(Series.endedAt(ask.run(), ended.orElseThrow()));
                    }
                }
                end = told(next);
            }
            SeriesResult result =
                    SeriesResult.of(
                            name,
                            bay.origin() == TraceLine.Origin.SIMULATED,
                            first,
                            series,
                            end.get());
            file.append(SeriesText.of(result));
            return result;
        }
    }

    private Optional<Series.End> told(Series.Next next) {
        return switch (next) {
            case Series.Next.Again(String reason) -> {
                err.println(reason + " Run again.");
                yield Optional.empty();
            }
            case Series.Next.Over(Series.End end) -> {
                err.println(end.reason());
                yield Optional.of(end);
            }
            case Series.Next.Ask ask ->
                    throw new IllegalStateException("asked already about " + ask.run().name());
        };
    }

    /** Asks whether a run that stands out stays in, and writes the answer down. */
    private boolean keeps(Series.Next.Ask ask, RunSetup setup, JournalFile file)
            throws IOException {
        err.println(SeriesWords.standsOut(ask));
        bay.ports().operator().ask(Question.KEEP_RUN);
        ended =
                people.awaited(
                        new WaitProgress.Awaited(Question.KEEP_RUN::words, "the series goes on"),
                        setup.plan().answerNanosMax(),
                        Repeating::keeps);
        file.append(SeriesText.answered(ask, ended.isEmpty(), ended.orElse("kept")));
        return ended.isEmpty();
    }

    private static boolean keeps(RunInput input) {
        return input instanceof RunInput.Done(long at, Question question)
                && question == Question.KEEP_RUN;
    }
}
