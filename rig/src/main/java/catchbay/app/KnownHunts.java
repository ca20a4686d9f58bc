package catchbay.app;

import catchbay.plan.KnownEnds;
import catchbay.record.HuntText;
import catchbay.record.HuntText.Kept;
import catchbay.record.TraceLine;
import catchbay.run.HuntResult;
import catchbay.run.MeasuredFlow;
import catchbay.run.RunSetup;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** What was hunted for of a bay's trucks, as their plans must know it. */
final class KnownHunts {

    private final List<Kept> newestFirst;

    private KnownHunts(List<Kept> newestFirst) {
        this.newestFirst = newestFirst;
    }

    /**
     * The hunts of a folder.
     *
     * @param origin only those of this origin count: a stand-in truck says nothing of a real one
     */
    static KnownHunts of(JournalFolder folder, TraceLine.Origin origin) throws IOException {
        return new KnownHunts(
                folder.results(HuntText::read).stream()
                        .filter(hunt -> hunt.head().origin() == origin)
                        .toList());
    }

    /** The ends of the range of a setup's truck on its day, each by the newest hunt for it. */
    KnownEnds of(RunSetup setup) {
        Optional<KnownEnds.Low> low = Optional.empty();
        Optional<KnownEnds.High> high = Optional.empty();
        for (Kept hunt : newestFirst.reversed()) {
            boolean its =
                    hunt.head().asset().equals(setup.truck().asset())
                            && !hunt.head().day().isAfter(setup.day());
            if (its) {
                switch (hunt.result()) {
                    case HuntResult.LowEnd found -> low = Optional.of(low(hunt, found));
                    case HuntResult.HighEnd found -> high = Optional.of(high(hunt, found));
                    case HuntResult.NotFound _ -> {
                        // It says nothing, and what was known before stays.
                    }
                }
            }
        }
        return new KnownEnds(low, high);
    }

    private static KnownEnds.Low low(Kept hunt, HuntResult.LowEnd found) {
        return new KnownEnds.Low(
                hunt.head().name(),
                hunt.head().day(),
                found.silent().map(MeasuredFlow::rate),
                found.counting().rate());
    }

    private static KnownEnds.High high(Kept hunt, HuntResult.HighEnd found) {
        return new KnownEnds.High(
                hunt.head().name(),
                hunt.head().day(),
                found.asked(),
                found.beyond().map(HuntResult.Beyond::asked));
    }
}
