package catchbay.app;

import catchbay.quantity.Volume;
import catchbay.record.HuntText;
import catchbay.record.HuntText.Done;
import catchbay.record.HuntText.Head;
import catchbay.run.HuntEnd;
import catchbay.run.HuntPhase;
import catchbay.run.HuntReading;
import catchbay.run.HuntRules;
import catchbay.run.HuntSetup;
import catchbay.run.HuntState;
import catchbay.run.Part;
import catchbay.run.RangeEnd;
import catchbay.run.RunSetup;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/**
 * Hunts for an end of a truck's range on an open bay, attended all the time, and keeps what it came
 * to. Used once.
 */
final class Hunting {

    /**
     * A hunt to make.
     *
     * @param end which end is looked for
     * @param rules how
     * @param lowering whether the low end is looked for with falling flow as well
     * @param by who answers for it, where that was said
     */
    record Wanted(RangeEnd end, HuntRules rules, boolean lowering, Optional<String> by) {}

    private final OpenBay bay;
    private final JournalFolder folder;
    private final StopSignal stop;
    private final BetweenRuns people;

    /**
     * @param folder where its file is to lie
     * @param stop ends it from outside
     */
    Hunting(OpenBay bay, JournalFolder folder, StopSignal stop) {
        this.bay = bay;
        this.folder = folder;
        this.stop = stop;
        this.people = new BetweenRuns(bay, stop);
    }

    /** Makes it. Nothing is kept of one whose cautions nobody confirmed. */
    Done done(Wanted wanted) throws IOException {
        RunSetup today = bay.setup();
        Head head =
                new Head(
                        FreeName.at(bay.time().wallTime(), wanted.end.key(), folder::has),
                        wanted.end,
                        bay.origin(),
                        today.bay(),
                        today.truck().asset(),
                        today.day(),
                        wanted.by);
        List<String> cautions =
                Cautions.ofHunt(wanted.end, today, bay.ports().operator().ownChecklist());
        Optional<BetweenRuns.Confirmed> names =
                people.confirmed(
                        cautions,
                        wanted.end == RangeEnd.HIGH
                                && today.plan().flowBy() == RunSetup.FlowBy.GROUND_SPEED,
                        today.plan().answerNanosMax());
        if (names.isEmpty()) {
            String why = people.unanswered().orElseThrow();
            return new Done(head, new HuntEnd.NotBegun("Not begun: " + why + "."), List.of());
        }
        HuntSetup setup =
                HuntSetup.of(
                        wanted.end,
                        today,
                        wanted.rules,
                        wanted.lowering,
                        part(head.name(), names.get(), wanted.rules));
        return kept(head, setup, names.get(), cautions);
    }

    private static Part part(String name, BetweenRuns.Confirmed names, HuntRules rules) {
        return new Part(
                name,
                1,
                names.by(),
                names.speedBy(),
                Optional.of(Part.Presence.whole(rules.presenceNanos())),
                0,
                Optional.empty(),
                Volume.ZERO,
                Optional.empty());
    }

    private Done kept(
            Head head, HuntSetup setup, BetweenRuns.Confirmed names, List<String> cautions)
            throws IOException {
        try (JournalFile file = folder.begin(head.name(), HuntText.begun(head, setup))) {
            file.append(HuntText.confirmed(names.by(), names.speedBy(), cautions));
            HuntState state = bay.hunted(setup, stop);
            // The bay is safe now: a slow disk keeps nobody from seeing to it.
            for (HuntReading reading : state.readings()) {
                file.append(HuntText.step(reading));
            }
            Done done = new Done(head, ((HuntPhase.Ended) state.phase()).end(), state.readings());
            file.append(HuntText.of(done));
            return done;
        }
    }
}
